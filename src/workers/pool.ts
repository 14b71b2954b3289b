// Jobs over worker threads: each thread has one at a time, so memory is bounded however many there are.
import { availableParallelism } from 'node:os';
import { setFlagsFromString } from 'node:v8';
import type { Worker } from 'node:worker_threads';
import { startThread } from './start-thread.ts';
import type { Job } from './worker.ts';

export interface Answer<T> {
  readonly result?: T;
  readonly error?: string;
}

type Died<T> = Answer<T> & { readonly died?: boolean };

/** Threads that stay between rounds of jobs: what they have loaded and compiled serves the next round too. */
export class Pool {
  private readonly most: number;
  private readonly signal: AbortSignal;
  private idle: Worker[] = [];

  constructor(workers: number, signal: AbortSignal) {
    // where every core has a worker, helpers that compile and clear beside it only take turns with the others: a fifth of all time
    if (workers > 1 && workers >= availableParallelism())
      setFlagsFromString('--no-concurrent-recompilation --no-parallel-scavenge');
    this.most = workers;
    this.signal = signal;
  }

  /** Starts threads for as many jobs as will surely come: they load what they need while the jobs are being prepared. */
  start(jobs: number): void {
    while (this.idle.length < Math.min(this.most, jobs)) this.idle.push(start());
  }

  /** Whether there are threads that have loaded what their work needs: to start some for a short job takes longer than the job. */
  get warm(): boolean {
    return this.idle.length > 0;
  }

  /** Answers in the order of the jobs. Those of the greatest `size` are begun first, so that no long one is left for the end; where
   *  no sizes are given, in their order. A thread that dies costs only its own job. Throws when the signal is aborted. */
  async run<T>(
    jobs: readonly Job[],
    done: (index: number, answer: Answer<T>) => void,
    size?: readonly number[],
  ): Promise<Answer<T>[]> {
    const answers: Answer<T>[] = new Array(jobs.length);
    const order = jobs.map((_, i) => i);
    if (size) order.sort((a, b) => size[b]! - size[a]! || a - b);
    let next = 0;
    const runThread = async (): Promise<void> => {
      let worker = this.idle.pop() ?? start();
      const stop = (): void => void worker.terminate();
      this.signal.addEventListener('abort', stop);
      try {
        while (next < jobs.length && !this.signal.aborted) {
          const index = order[next++]!;
          const answer = await ask<T>(worker, jobs[index]!);
          if (this.signal.aborted) return;
          if (answer.died) worker = start();
          answers[index] = answer;
          done(index, answer);
        }
      } finally {
        this.signal.removeEventListener('abort', stop);
        this.idle.push(worker);
      }
    };
    await Promise.all(Array.from({ length: Math.min(this.most, jobs.length) }, runThread));
    this.signal.throwIfAborted();
    return answers;
  }

  async close(): Promise<void> {
    const threads = this.idle;
    this.idle = [];
    await Promise.all(threads.map((t) => t.terminate()));
  }
}

/** One round of jobs over threads of its own. */
export async function runJobs<T>(
  jobs: readonly Job[],
  workers: number,
  signal: AbortSignal,
  done: (index: number, answer: Answer<T>) => void,
): Promise<Answer<T>[]> {
  const pool = new Pool(workers, signal);
  try {
    return await pool.run(jobs, done);
  } finally {
    await pool.close();
  }
}

function ask<T>(worker: Worker, job: Job): Promise<Died<T>> {
  return new Promise((resolve) => {
    const end = (answer: Died<T>): void => {
      worker.off('message', end).off('error', failed).off('exit', ended);
      resolve(answer);
    };
    const failed = (e: Error): void => end({ error: `a fault of the program: ${e.message}`, died: true });
    const ended = (): void => end({ error: 'the work on it was stopped', died: true });
    worker.on('message', end).on('error', failed).on('exit', ended);
    worker.postMessage(job);
  });
}

/** A picture that needs more than this is a fault, not a large picture; with more room for what is soon thrown away, it is
 *  cleared seldomer, by threads that would take the cores from the other workers. */
const MEMORY = { maxOldGenerationSizeMb: 1024, maxYoungGenerationSizeMb: 192 };
const start = (): Worker => startThread(import.meta.url, './worker.ts', './worker.js', MEMORY);
