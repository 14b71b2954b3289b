// Jobs over worker threads: each thread has one at a time, so memory is bounded however many there are.
import { availableParallelism } from 'node:os';
import { setFlagsFromString } from 'node:v8';
import type { Worker } from 'node:worker_threads';
import type { UserError } from '../errors.ts';
import { startThread } from './start-thread.ts';
import type { Job, Ready } from './worker.ts';

export interface Answer<T> {
  readonly result?: T;
  /** in one sentence */
  readonly error?: string;
  /** where the error is the user's to mend */
  readonly exitCode?: UserError['exitCode'];
}

/** What a thread says of its job: at last the answer, before that how far it is. */
export type Said = Answer<unknown> | { readonly share: number };

/** `died`: the thread is of no more use. `thrown`: what the listener threw. */
type Died<T> = Answer<T> & { readonly died?: boolean; readonly thrown?: { readonly error: unknown } };

/** Threads that stay between rounds of jobs: what they have loaded and compiled serves the next round too. */
export class Pool {
  private readonly most: number;
  private readonly signal: AbortSignal;
  private readonly threads = new Set<Worker>();
  private readonly idle: Worker[] = [];
  private readonly waiting: ((worker: Worker | undefined) => void)[] = [];
  private over = false;

  constructor(workers: number, signal: AbortSignal) {
    this.most = workers;
    this.signal = signal;
    signal.addEventListener('abort', () => void this.close(), { once: true });
  }

  /** Starts threads for as many jobs as will surely come: they load what they need while the jobs are being prepared. */
  start(jobs: number, ready: Ready): void {
    while (this.threads.size < Math.min(this.most, jobs)) this.idle.push(this.begin(ready));
  }

  /** For much work: where every core has a worker, helpers that compile and clear beside it only take turns with the others, a fifth
   *  of all time. A few jobs would wait for each other's compiling instead. Before threads are started. */
  prepareForMany(): void {
    setFlagsFromString(COMPILE_WHAT_RUNS);
    if (this.most > 1 && this.most >= availableParallelism())
      setFlagsFromString(`--no-concurrent-recompilation --no-parallel-scavenge ${INLINE_LESS} ${compileAfter(8)}`);
  }

  /** For one block or one sheet, which is mostly code that runs for the first time: V8's helpers compile anew what has run a while, and
   *  where every core has a thread of ours they take more than they give. They begin later, and do less. Before threads are started. */
  prepareForFew(): void {
    setFlagsFromString(COMPILE_WHAT_RUNS);
    if (this.most + 1 >= availableParallelism()) setFlagsFromString(`${INLINE_LESS} ${compileAfter(6)}`);
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
    const order = jobs.map((_, i) => i);
    if (size) order.sort((a, b) => size[b]! - size[a]! || a - b);
    const answers: Answer<T>[] = new Array(jobs.length);
    await Promise.all(
      order.map(async (index) => {
        answers[index] = await this.ask<T>(jobs[index]!);
        if (!this.signal.aborted) done(index, answers[index]!);
      }),
    );
    this.signal.throwIfAborted();
    return answers;
  }

  /** One job's answer, as soon as a thread is free for it: where one is, it has begun when this returns. `share` hears how far it
   *  is; what that throws ends the job, and is thrown here. */
  async ask<T>(job: Job, share?: (done: number) => void): Promise<Answer<T>> {
    const worker = this.free() ?? (await this.freed());
    if (!worker) return { error: STOPPED };
    const { died, thrown, ...answer } = await talk<T>(worker, job, share);
    if (!died) this.give(worker);
    else {
      this.threads.delete(worker);
      await worker.terminate();
      if (this.waiting.length && !this.over) this.give(this.begin('blocks'));
    }
    if (thrown) throw thrown.error;
    return answer;
  }

  /** Ends all threads, and what they are at; what waits for one is not done any more. */
  async close(): Promise<void> {
    this.over = true;
    for (const free of this.waiting.splice(0)) free(undefined);
    this.idle.length = 0;
    await Promise.all([...this.threads].map((t) => t.terminate()));
  }

  private begin(ready: Ready): Worker {
    const worker = startThread(import.meta.url, './worker.ts', './worker.js', MEMORY, ready);
    this.threads.add(worker);
    return worker;
  }

  private free(): Worker | undefined {
    if (this.over) return undefined;
    return this.idle.pop() ?? (this.threads.size < this.most ? this.begin('blocks') : undefined);
  }

  /** Undefined where the pool is closed before one is free. */
  private freed(): Promise<Worker | undefined> {
    return new Promise((free) => {
      if (this.over) free(undefined);
      else this.waiting.push(free);
    });
  }

  private give(worker: Worker): void {
    const next = this.waiting.shift();
    if (next) next(worker);
    else this.idle.push(worker);
  }
}

/** V8 compiles a function anew when it has run so many bytes of its code: `times` as many as usual (V8 11.3, Node 20). */
const compileAfter = (times: number): string => `--interrupt-budget=${67_584 * times}`;

/** A third of the usual: what most functions gain by having others within them is not worth the longer compiling here. */
const INLINE_LESS = '--max-inlined-bytecode-size-cumulative=300';

/** Of the large libraries in WebAssembly only the functions that are called. */
const COMPILE_WHAT_RUNS = '--wasm-lazy-compilation';

const STOPPED = 'the work on it was stopped';

function talk<T>(worker: Worker, job: Job, share?: (done: number) => void): Promise<Died<T>> {
  return new Promise((resolve) => {
    const end = (answer: Died<T>): void => {
      worker.off('message', heard).off('error', failed).off('exit', ended);
      resolve(answer);
    };
    const heard = (said: Said): void => {
      try {
        if ('share' in said) share?.(said.share);
        else end(said as Answer<T>);
      } catch (error) {
        end({ died: true, thrown: { error } });
      }
    };
    const failed = (e: Error): void => end({ error: `a fault of the program: ${e.message}`, died: true });
    const ended = (): void => end({ error: STOPPED, died: true });
    worker.on('message', heard).on('error', failed).on('exit', ended);
    worker.postMessage(job);
  });
}

/** A picture that needs more than this is a fault, not a large picture; with more room for what is soon thrown away, it is
 *  cleared seldomer, by threads that would take the cores from the other workers. */
const MEMORY = { maxOldGenerationSizeMb: 1024, maxYoungGenerationSizeMb: 192 };
