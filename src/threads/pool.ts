// Jobs over worker threads. Each thread has one job at a time, so memory is bounded however many are asked for, and stays
// between jobs: what it has loaded, compiled and kept serves the next one too.
import type { ResourceLimits, Worker } from 'node:worker_threads';
import type { JobTypes, PartOf } from './jobs.ts';
import { type JobOrder, type Ready, type Said, toError } from './messages.ts';
import { startThread } from './start-thread.ts';

/** Nobody wanted the answer any more, or the pool was closed. */
export class Cancelled extends Error {
  constructor() {
    super('the work on it was stopped');
  }
}

/** The thread that had the job has ended: out of memory, most likely. No other job is touched. */
export class ThreadDied extends Error {}

export interface PoolOptions {
  /** the file that serves the jobs (serve.ts) */
  readonly entry: URL;
  /** threads at most */
  readonly threads: number;
  /** closes the pool when it is aborted */
  readonly signal?: AbortSignal;
  readonly memory?: ResourceLimits;
}

export interface AskOptions<Input, Part = never> {
  /** of all that wait the greatest goes first; of equals, the one that was asked first. 0 where absent */
  readonly priority?: number;
  /** jobs of one key go to the thread that had that key before, where it is free: it may have kept something */
  readonly affinity?: string;
  /** What throws here ends the job, and is thrown by its answer; so for `progress`. */
  readonly part?: (part: Part) => void;
  readonly progress?: (stage: string, share: number) => void;
  /** Whoever gives it agrees that the job makes room for one of greater priority when no thread is free: it leaves off, waits for its
   *  turn, and begins again with what this makes of its input. */
  readonly restart?: (input: Input) => Input;
}

export interface Running<Output> {
  /** Throws UserError or Error as the job did, ThreadDied, or Cancelled. */
  readonly answer: Promise<Output>;
  /** may change while it runs: what has shown something can wait */
  priority: number;
  /** The answer throws Cancelled at once; the thread is free again as soon as the job looks. */
  cancel(): void;
}

/** One job that was asked for. */
interface Call {
  readonly name: string;
  input: unknown;
  readonly options: AskOptions<unknown, unknown>;
  priority: number;
  readonly stop: Int32Array;
  /** its answer is settled, whatever the thread still does about it */
  over: boolean;
  readonly done: (answer: unknown) => void;
  readonly fail: (e: unknown) => void;
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
    const { answer, call } = this.#call(name, input, options as AskOptions<unknown, unknown>);
    if (this.#closed) call.fail(new Cancelled());
    else {
      this.#waiting.push(call);
      this.#deal();
    }
    const deal = (): void => this.#deal();
    return {
      answer: answer as Promise<J[K]['output']>,
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

  #call(name: string, input: unknown, options: AskOptions<unknown, unknown>): { answer: Promise<unknown>; call: Call } {
    let call!: Call;
    const answer = new Promise<unknown>((resolve, reject) => {
      call = {
        ...{ name, input, options, priority: options.priority ?? 0, over: false },
        stop: new Int32Array(new SharedArrayBuffer(4)),
        done(answer) {
          call.over = true;
          resolve(answer);
        },
        fail(e) {
          call.over = true;
          reject(e);
        },
      };
    });
    // whoever cancels a job need not listen to its end
    answer.catch(() => {});
    return { answer, call };
  }

  #cancel(call: Call, why: unknown): void {
    if (call.over) return;
    Atomics.store(call.stop, 0, 1);
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
    if (running.some((c) => Atomics.load(c.stop, 0) !== 0)) return;
    const long = running
      .filter((c) => c.options.restart && c.priority < priority)
      .reduce<Call | undefined>((a, b) => (a && a.priority <= b.priority ? a : b), undefined);
    if (long) Atomics.store(long.stop, 0, 1);
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
      call.input = call.options.restart!(call.input);
      Atomics.store(call.stop, 0, 0);
      this.#waiting.push(call);
    }
    this.#release(thread);
    this.#deal();
  }
}
