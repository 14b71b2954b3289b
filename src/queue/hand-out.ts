// One series at the queue: two rounds of jobs, dealt out in lots (lots.ts), and what travels for them (exchange.ts). Says every few
// seconds that it is there; workers leave off once it is not.
import { randomBytes } from 'node:crypto';
import { hostname } from 'node:os';
import type { Queue } from 'bullmq';
import { UserError } from '../problems/problem.ts';
import type { JobTypes } from '../threads/jobs.ts';
import { type Connected, memoryOf, type Redis, wordRefusal } from './connection.ts';
import { Exchange, type Travelled } from './exchange.ts';
import { BEAT_MS } from './keys.ts';
import type { Log } from './log.ts';
import { Lots, type Task } from './lots.ts';
import { Letters, type ToSeries } from './post.ts';
import { agree, appear, leave, workersSeen } from './presence.ts';
import { LOST_TOO_OFTEN, MOST_LOST, openPictures, removeLost, removeRun, type Stub } from './tasks.ts';
import { within } from './within.ts';

export interface HandOutOptions {
  readonly connected: Connected;
  readonly version: string;
  /** what the series is called */
  readonly name: string;
  readonly signal: AbortSignal;
  readonly log: Log;
  /** hears how many workers there are, and how many pictures they work on at once */
  readonly seen?: (workers: number, threads: number) => void;
  /** Where the results go: what an earlier run for the same place left behind is nobody's any more. The caller sees to it that there is
   *  only one at a time. */
  readonly place?: string;
  /** ms; for tests */
  readonly beatMs?: number;
}

/** One job many times over, by whoever answers. Input is read when a worker asks for it; output is handed on, not held. */
export interface Round<Input, Output> {
  readonly stage: string;
  /** what each is called, for people who look at the queue */
  readonly labels: readonly string[];
  inputOf(index: number): Promise<Input>;
  /** Puts a result in its place. Called once for each. */
  keep(index: number, output: Output): Promise<void>;
  /** one more has ended, well or not */
  readonly done?: ((index: number) => void) | undefined;
  /** the greatest are begun first */
  readonly sizes?: readonly number[] | undefined;
}

interface Running {
  readonly round: Round<unknown, unknown>;
  readonly tasks: ReadonlyMap<string, Task>;
  finish(): void;
  fail(e: unknown): void;
}

/** ms that leaving may take where the server does not answer */
const LEAVE_MS = 1500;

export class HandOut<J extends JobTypes<J>> {
  readonly run = randomBytes(6).toString('hex');
  readonly counts = { done: 0, failed: 0, peakMemory: 0, workers: new Set<string>() };
  readonly #o: HandOutOptions;
  readonly #redis: Redis;
  readonly #pictures: Queue<Stub>;
  readonly #lots: Lots;
  readonly #exchange: Exchange;
  readonly #letters: Letters<ToSeries>;
  #running: Running | undefined;
  #rounds = 0;
  #beats: NodeJS.Timeout | undefined;
  #inBeat = false;
  #workers = 0;

  /** Throws UserError where the queue is used by another version. */
  static async open<J extends JobTypes<J>>(o: HandOutOptions): Promise<HandOut<J>> {
    const { redis, address } = o.connected;
    await agree(redis, o.version, address);
    const made = new HandOut<J>(o);
    // what a series left behind that ended without a word; where that fails the workers come to it
    await removeLost(redis, made.#pictures, o.place).catch(() => {});
    await made.#beat();
    made.#beats = setInterval(() => void made.#beat(), o.beatMs ?? BEAT_MS);
    o.log('series-opened', { series: o.name, run: made.run, queue: address.shown });
    return made;
  }

  private constructor(o: HandOutOptions) {
    const { redis } = o.connected;
    this.#o = o;
    this.#redis = redis;
    this.#pictures = openPictures(redis);
    this.#lots = new Lots({
      ...{ redis, run: this.run },
      failed: (task, reason) => this.#settle(task, whyFailed(reason)),
      dealt: (jobs) => o.log('lot-dealt', { run: this.run, jobs }),
      through: () => this.#running?.finish(),
      fault: (e) => this.#fail(e),
    });
    this.#exchange = new Exchange({
      ...{ redis, run: this.run },
      find: (job) => this.#running?.tasks.get(job),
      inputOf: (task) => this.#running!.round.inputOf(task.index),
      keep: (task, output) => this.#running!.round.keep(task.index, output),
      settle: (task, error) => this.#settle(task, error),
      fault: (e) => this.#fail(e),
    });
    this.#letters = new Letters<ToSeries>(redis, this.run, (letter) => {
      this.counts.workers.add(letter.from);
      void this.#exchange.hear(letter);
    });
  }

  get travelled(): Travelled {
    return this.#exchange.travelled;
  }

  /** Errors in the order of the labels; none where a job was done. Throws what the series was stopped with. */
  async askAll<K extends keyof J & string>(
    name: K,
    round: Round<J[K]['input'], J[K]['output']>,
  ): Promise<(Error | undefined)[]> {
    const number = ++this.#rounds;
    const tasks = round.labels.map(
      (label, index): Task => ({ job: `${number}.${index}`, index, label, settled: false }),
    );
    if (!tasks.length) return [];
    const order = [...tasks];
    const { sizes } = round;
    if (sizes) order.sort((a, b) => sizes[b.index]! - sizes[a.index]! || a.index - b.index);
    const { signal } = this.#o;
    try {
      await new Promise<void>((finish, fail) => {
        signal.throwIfAborted();
        signal.addEventListener('abort', () => fail(signal.reason), { once: true });
        const byJob = new Map(tasks.map((t) => [t.job, t]));
        this.#running = { round: round as Round<unknown, unknown>, tasks: byJob, finish, fail };
        this.#lots.begin(name, order);
        void this.#beat();
      });
    } finally {
      this.#running = undefined;
    }
    return tasks.map((t) => t.error);
  }

  #settle(task: Task, error?: Error): void {
    if (task.settled || !this.#running) return;
    task.settled = true;
    if (error) {
      task.error = error;
      this.counts.failed++;
      this.#o.log('job-failed-for-good', { run: this.run, label: task.label, why: error.message });
    } else {
      this.counts.done++;
      this.#o.log('job-settled', { run: this.run, stage: this.#running.round.stage, label: task.label });
    }
    this.#running.round.done?.(task.index);
    this.#lots.deal();
  }

  #fail(e: unknown): void {
    this.#running?.fail(wordRefusal(e, this.#o.connected.address));
  }

  /** Says that it is there, and looks who else is. */
  async #beat(): Promise<void> {
    // one at a time: where the server is gone they wait for it
    if (this.#inBeat) return;
    this.#inBeat = true;
    try {
      const { connected, version, name, place } = this.#o;
      await agree(this.#redis, version, connected.address);
      const tasks = [...(this.#running?.tasks.values() ?? [])];
      await appear(this.#redis, 'run', this.run, {
        ...{ name, host: hostname(), stage: this.#running?.round.stage ?? 'getting ready' },
        ...{ done: tasks.filter((t) => t.settled).length, of: tasks.length, failed: this.counts.failed },
        ...(place !== undefined && { place }),
      });
      const workers = await workersSeen(this.#redis);
      const threads = [...workers.values()].reduce((n, w) => n + w.threads, 0);
      if (workers.size !== this.#workers) this.#o.log('workers-seen', { workers: workers.size, threads });
      this.#workers = workers.size;
      this.#o.seen?.(workers.size, threads);
      this.counts.peakMemory = Math.max(this.counts.peakMemory, await memoryOf(this.#redis));
      if (this.#running) {
        this.#lots.deal(threads);
        await this.#lots.look();
      }
    } catch (e) {
      if (e instanceof UserError) this.#fail(e);
      // else the server is gone for a moment
    } finally {
      this.#inBeat = false;
    }
  }

  /** Takes all that is this series' out of the queue. Where the server does not answer, time does it. */
  async close(): Promise<void> {
    clearInterval(this.#beats);
    this.#exchange.close();
    const gone = leave(this.#redis, 'run', this.run).then(() => removeRun(this.#redis, this.#pictures, this.run));
    await within(LEAVE_MS, gone);
    await within(LEAVE_MS, Promise.allSettled([this.#letters.close(), this.#lots.close(), this.#pictures.close()]));
    this.#o.log('series-closed', { run: this.run, done: this.counts.done, failed: this.counts.failed });
  }
}

/** The queue's words for what happened without a letter. */
const whyFailed = (reason: string): Error =>
  reason === LOST_TOO_OFTEN ? new UserError('workers-stopped', { times: MOST_LOST + 1 }) : new Error(reason);
