// Jobs over worker threads: each thread has one at a time, so memory is bounded however many there are.
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { Job } from './worker.ts';

export interface Answer<T> {
  readonly result?: T;
  readonly error?: string;
}

/** Answers in the order of the jobs. A thread that dies costs only its own job. Stops when `signal` is aborted: throws. */
export async function runJobs<T>(
  jobs: readonly Job[],
  workers: number,
  signal: AbortSignal,
  done: (index: number, answer: Answer<T>) => void,
): Promise<Answer<T>[]> {
  const answers: Answer<T>[] = new Array(jobs.length);
  let next = 0;
  const threads = Array.from({ length: Math.min(workers, jobs.length) }, () => runThread());
  await Promise.all(threads);
  signal.throwIfAborted();
  return answers;

  async function runThread(): Promise<void> {
    let worker = start();
    const stop = (): void => void worker.terminate();
    signal.addEventListener('abort', stop);
    try {
      while (next < jobs.length && !signal.aborted) {
        const index = next++;
        const answer = await ask(worker, jobs[index]!);
        if (signal.aborted) return;
        if (answer.died) worker = start();
        answers[index] = answer;
        done(index, answer);
      }
    } finally {
      signal.removeEventListener('abort', stop);
      await worker.terminate();
    }
  }

  function ask(worker: Worker, job: Job): Promise<Answer<T> & { died?: boolean }> {
    return new Promise((resolve) => {
      const end = (answer: Answer<T> & { died?: boolean }): void => {
        worker.off('message', end).off('error', failed).off('exit', ended);
        resolve(answer);
      };
      const failed = (e: Error): void => end({ error: `a fault of the program: ${e.message}`, died: true });
      const ended = (): void => end({ error: 'the work on it was stopped', died: true });
      worker.on('message', end).on('error', failed).on('exit', ended);
      worker.postMessage(job);
    });
  }
}

/** The same code whether it runs from its sources or bundled. */
function start(): Worker {
  const here = import.meta.url;
  const file = here.endsWith('.ts') ? './worker.ts' : './worker.js';
  return new Worker(fileURLToPath(new URL(file, here)), {
    // a picture that needs more than this is a fault, not a large picture
    resourceLimits: { maxOldGenerationSizeMb: 1024 },
  });
}
