// Jobs over worker threads. Each thread has one job at a time, so memory is bounded however many are asked for, and stays
// between jobs: what it has loaded, compiled and kept serves the next one too.
import type { ResourceLimits, Worker } from 'node:worker_threads';
import { type AskOptions, Call, Cancelled, type Running, ThreadDied } from './call.ts';
import type { JobTypes, PartOf } from './jobs.ts';
import { type JobOrder, type Ready, type Said, toError } from './messages.ts';
import { startThread } from './start-thread.ts';

export interface PoolOptions {
  /** the file that serves the jobs (serve.ts) */
  readonly entry: URL;
  /** threads at most */
  readonly threads: number;
  /** closes the pool when it is aborted */
  readonly signal?: AbortSignal;
  readonly memory?: ResourceLimits;
}

interface Thread {
  readonly worker: Worker;
  call: Call | undefined;
  /** the keys of the jobs that it had last, last first */
  keys: readonly string[];
}

/** A picture that needs more than this is a fault, not a large picture; with more room for what is soon thrown away, it is
 *  cleared seldomer, by threads that would take the cores from the others. */
const MEMORY: ResourceLimits = { maxOldGenerationSizeMb: 1024, maxYoungGenerationSizeMb: 192 };
const KEYS_REMEMBERED = 3;

/** What is handed to whoever needs only some of a pool's jobs: a pool of more is one of these too. */
export type PoolOf<J extends JobTypes<J>> = Pick<Pool<J>, 'ask' | 'start' | 'warm' | 'size' | 'signal'>;

export class Pool<J extends JobTypes<J>> {
  /** threads at most */
  readonly size: number;
  readonly signal: AbortSignal | undefined;
  readonly #entry: URL;
  readonly #memory: ResourceLimits;
  readonly #threads = new Set<Thread>();
  /** the one that has had nothing to do for longest first */
  readonly #idle: Thread[] = [];
  readonly #waiting: Call[] = [];
  #closed = false;

  constructor({ entry, threads, signal, memory = MEMORY }: PoolOptions) {
    this.size = threads;
    this.signal = signal;
    this.#entry = entry;
    this.#memory = memory;
    if (signal?.aborted) this.#closed = true;
    signal?.addEventListener('abort', () => void this.close(), { once: true });
  }

  /** Starts threads until there are so many, though never more than the pool may have. They load the code of the jobs named, one
   *  after another, and once they have answered their first job that of those named in `afterFirst`. */
  start(
    threads: number,
    now: readonly (keyof J & string)[] = [],
    afterFirst: readonly (keyof J & string)[] = [],
  ): void {
    while (!this.#closed && this.#threads.size < Math.min(this.size, threads))
      this.#idle.push(this.#hire({ now, afterFirst }));
  }

  /** Whether a thread is started and free: to start one for a short job takes longer than the job. */
  get warm(): boolean {
    return this.#idle.length > 0;
  }

  /** how many more jobs could begin at once */
  get spare(): number {
    return this.size - (this.#threads.size - this.#idle.length) - this.#waiting.length;
  }

  /** For tests: the threads themselves. */
  get workers(): readonly Worker[] {
    return [...this.#threads].map((t) => t.worker);
  }

  /** Where a thread is free, the job has been sent when this returns. */
  ask<K extends keyof J & string>(
    name: K,
    input: J[K]['input'],
    options: AskOptions<J[K]['input'], PartOf<J[K]>> = {},
  ): Running<J[K]['output']> {
    const call = new Call(name, input, options as AskOptions<unknown, unknown>);
    if (this.#closed) call.fail(new Cancelled());
    else {
      this.#waiting.push(call);
      this.#deal();
    }
    const deal = (): void => this.#deal();
    return {
      answer: call.answer as Promise<J[K]['output']>,
      get priority() {
        return call.priority;
      },
      set priority(priority) {
        call.priority = priority;
        deal();
      },
      cancel: () => this.#cancel(call, new Cancelled()),
    };
  }

  /** Ends all threads, and what they are at; what waits for one is not done any more. */
  async close(): Promise<void> {
    this.#closed = true;
    for (const call of this.#waiting.splice(0)) call.fail(new Cancelled());
    this.#idle.length = 0;
    for (const { call } of this.#threads) call?.fail(new Cancelled());
    await Promise.all([...this.#threads].map((t) => t.worker.terminate()));
  }

  #cancel(call: Call, why: unknown): void {
    if (call.over) return;
    call.leaveOff();
    const at = this.#waiting.indexOf(call);
    if (at >= 0) this.#waiting.splice(at, 1);
    call.fail(why);
  }

  /** Gives waiting jobs to threads for as long as there are both. */
  #deal(): void {
    while (this.#waiting.length) {
      const call = this.#waiting.reduce((a, b) => (b.priority > a.priority ? b : a));
      const thread = this.#free(call.options.affinity);
      if (!thread) {
        this.#makeRoom(call.priority);
        return;
      }
      this.#waiting.splice(this.#waiting.indexOf(call), 1);
      this.#send(thread, call);
    }
  }

  /** With a key: the thread that had it, else one that has nothing to lose, else the one whose keys are the oldest. */
  #free(key: string | undefined): Thread | undefined {
    if (this.#closed) return undefined;
    const idle =
      key === undefined
        ? this.#idle.at(-1)
        : (this.#idle.find((t) => t.keys.includes(key)) ?? this.#idle.find((t) => !t.keys.length));
    if (!idle && this.#threads.size < this.size) return this.#hire({ now: [], afterFirst: [] });
    const thread = idle ?? this.#idle[0];
    if (thread) this.#idle.splice(this.#idle.indexOf(thread), 1);
    return thread;
  }

  #send(thread: Thread, call: Call): void {
    const { affinity } = call.options;
    thread.call = call;
    if (affinity !== undefined)
      thread.keys = [affinity, ...thread.keys.filter((k) => k !== affinity)].slice(0, KEYS_REMEMBERED);
    thread.worker.ref();
    try {
      const order: JobOrder = { name: call.name, input: call.input, stop: call.stop.buffer as SharedArrayBuffer };
      thread.worker.postMessage(order);
    } catch (e) {
      // an input that cannot be handed over
      call.fail(e);
      this.#release(thread);
    }
  }

  #release(thread: Thread): void {
    thread.call = undefined;
    // only what is at work keeps the program from ending
    thread.worker.unref();
    if (!this.#closed) this.#idle.push(thread);
  }

  /** One job that may be begun again, and for which nobody waits as much, leaves off. */
  #makeRoom(priority: number): void {
    const running = [...this.#threads].flatMap((t) => t.call ?? []);
    if (running.some((c) => c.leaving)) return;
    const long = running
      .filter((c) => c.options.restart && c.priority < priority)
      .reduce<Call | undefined>((a, b) => (a && a.priority <= b.priority ? a : b), undefined);
    long?.leaveOff();
  }

  #hire(ready: Ready): Thread {
    const worker = startThread(this.#entry, this.#memory, ready);
    const thread: Thread = { worker, call: undefined, keys: [] };
    this.#threads.add(thread);
    const gone = (e?: Error): void => {
      if (!this.#threads.delete(thread)) return;
      const at = this.#idle.indexOf(thread);
      if (at >= 0) this.#idle.splice(at, 1);
      thread.call?.fail(new ThreadDied(e?.message ?? 'the thread ended', { cause: e }));
      thread.call = undefined;
      if (!this.#closed) this.#deal();
    };
    worker.on('message', (said: Said) => this.#hear(thread, said));
    worker.on('error', gone);
    worker.on('exit', () => gone());
    worker.unref();
    return thread;
  }

  #hear(thread: Thread, said: Said): void {
    const { call } = thread;
    if (!call) return;
    if (said.kind === 'progress' || said.kind === 'part') {
      if (call.over) return;
      const { progress, part } = call.options;
      try {
        if (said.kind === 'part') part?.(said.part);
        else progress?.(said.stage, said.share);
      } catch (e) {
        this.#cancel(call, e);
      }
      return;
    }
    if (said.kind === 'answer') call.done(said.answer);
    else if (said.kind === 'failed') call.fail(toError(said.failure));
    else if (!call.over) {
      // it made room
      call.beginAgain();
      this.#waiting.push(call);
    }
    this.#release(thread);
    this.#deal();
  }
}
