// A worker: takes one job after another from the queue, for as many threads as its pool has, and does them by the pool's own table of
// jobs. A thread begins the next one while the result of the last is still on its way.
import { randomBytes, randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import { deserialize, serialize } from 'node:v8';
import { type Job, UnrecoverableError, Worker } from 'bullmq';
import { UserError } from '../problems/problem.ts';
import { Cancelled, type Running } from '../threads/call.ts';
import type { JobTypes } from '../threads/jobs.ts';
import { toFailure } from '../threads/messages.ts';
import type { PoolOf } from '../threads/pool.ts';
import type { Connected, Redis } from './connection.ts';
import { BEAT_MS, PICTURES } from './keys.ts';
import type { Log } from './log.ts';
import { Letters, type ToWorker } from './post.ts';
import { agree, appear, leave, stillThere } from './presence.ts';
import { Over, Talk } from './talk.ts';
import { ATTEMPTS, BACK_OFF_MS, base, MOST_LOST, openPictures, removeLost, type Stub } from './tasks.ts';
import { within } from './within.ts';

export interface WorkOptions<J extends JobTypes<J>> {
  readonly connected: Connected;
  readonly pool: PoolOf<J>;
  readonly version: string;
  /** the jobs of the pool's table that may be asked for from outside, and what a person calls them */
  readonly jobs: Readonly<Partial<Record<keyof J & string, string>>>;
  /** gives back what it is at, and ends */
  readonly signal: AbortSignal;
  readonly log: Log;
  /** seconds without a word after which others take over what a worker has */
  readonly lostAfter: number;
  /** ms; for tests */
  readonly beatMs?: number;
}

/** For whoever looks on; `seconds` in threads. */
export interface Worked {
  done: number;
  failed: number;
  again: number;
  seconds: number;
  bytesIn: number;
  bytesOut: number;
}

const AFTER_FAULT_MS = 1000;
const LEAVE_MS = 1500;
/** beats between two looks for what lost series left behind */
const CLEAR_EVERY = 12;

interface AtWork {
  readonly stub: Stub;
  readonly talk: Talk;
  running?: Running<unknown>;
}

export class WorkOff<J extends JobTypes<J>> {
  readonly id = randomBytes(6).toString('hex');
  readonly worked: Worked = { done: 0, failed: 0, again: 0, seconds: 0, bytesIn: 0, bytesOut: 0 };
  readonly #o: WorkOptions<J>;
  readonly #redis: Redis;
  readonly #queue: Worker<Stub>;
  /** by series and job */
  readonly #atWork = new Map<string, AtWork>();
  readonly #ending = new Set<Promise<void>>();
  #threadsBusy = 0;
  #threadFree: (() => void) | undefined;
  #beats = 0;

  /** Throws UserError where the queue is used by another version. */
  static async open<J extends JobTypes<J>>(o: WorkOptions<J>): Promise<WorkOff<J>> {
    await agree(o.connected.redis, o.version, o.connected.address);
    return new WorkOff<J>(o);
  }

  private constructor(o: WorkOptions<J>) {
    this.#o = o;
    this.#redis = o.connected.redis;
    const lost = o.lostAfter * 1000;
    this.#queue = new Worker<Stub>(PICTURES, null, {
      ...base(this.#redis),
      ...{ autorun: false, drainDelay: 5, maxStalledCount: MOST_LOST },
      ...{ lockDuration: lost, stalledInterval: Math.ceil(lost / 3) },
    });
    this.#queue.on('error', () => {});
  }

  get busy(): number {
    return this.#threadsBusy;
  }

  /** Works until the signal is aborted, once. Throws UserError where another version has come to use the queue. */
  async run(): Promise<void> {
    const { connected, pool, signal, log } = this.#o;
    await this.#say();
    const letters = new Letters<ToWorker>(this.#redis, this.id, (letter) => {
      this.#atWork.get(`${letter.run} ${letter.job}`)?.talk.hear(letter);
    });
    log('worker-started', { queue: connected.address.shown, threads: pool.size, worker: this.id });
    let fault: unknown;
    const stop = new AbortController();
    const beats = setInterval(
      () =>
        void this.#beat().catch((e) => {
          if (!(e instanceof UserError)) return;
          fault = e;
          stop.abort();
        }),
      this.#o.beatMs ?? BEAT_MS,
    );
    try {
      await this.#queue.startStalledCheckTimer();
      await this.#takeJobs(AbortSignal.any([signal, stop.signal]));
    } finally {
      clearInterval(beats);
      for (const { talk, running } of this.#atWork.values()) {
        running?.cancel();
        talk.end(new Cancelled());
      }
      // where the server does not answer, time gives the jobs back
      await within(LEAVE_MS, Promise.allSettled([...this.#ending, leave(this.#redis, 'worker', this.id)]));
      await within(LEAVE_MS, Promise.allSettled([this.#queue.close(true), letters.close()]));
      log('worker-stopped', { worker: this.id });
    }
    if (fault) throw fault;
  }

  async #takeJobs(signal: AbortSignal): Promise<void> {
    const aborted = new Promise<undefined>((done) => signal.addEventListener('abort', () => done(undefined)));
    while (!signal.aborted) {
      if (this.#threadsBusy >= this.#o.pool.size) {
        await Promise.race([aborted, new Promise<void>((go) => (this.#threadFree = go))]);
        continue;
      }
      const token = randomUUID();
      try {
        const job = await Promise.race([aborted, this.#queue.getNextJob(token)]);
        if (job && !signal.aborted) this.#begin(job, token, signal);
      } catch {
        // the server is gone for a moment
        await Promise.race([aborted, new Promise((r) => setTimeout(r, AFTER_FAULT_MS))]);
      }
    }
  }

  #begin(job: Job<Stub>, token: string, signal: AbortSignal): void {
    const { lostAfter } = this.#o;
    this.#threadsBusy++;
    let held = true;
    const free = (): void => {
      if (!held) return;
      held = false;
      this.#threadsBusy--;
      this.#threadFree?.();
    };
    const still = setInterval(
      () => void job.extendLock(token, lostAfter * 1000).catch(() => {}),
      Math.ceil((lostAfter * 1000) / 3),
    );
    // where the server is gone for good, nobody ends it
    still.unref();
    const ending: Promise<void> = this.#do(job, token, free, signal)
      // taken over by another meanwhile, or the server is gone: the queue sees to it
      .catch(() => {})
      .finally(() => {
        clearInterval(still);
        free();
        this.#ending.delete(ending);
      });
    this.#ending.add(ending);
  }

  async #do(job: Job<Stub>, token: string, free: () => void, signal: AbortSignal): Promise<void> {
    const { data: stub, name } = job;
    const { log, jobs } = this.#o;
    const said = { run: stub.run, label: stub.label, job: name };
    if (await this.#rest(job, token)) return;
    const id = `${stub.run} ${stub.job}`;
    const at: AtWork = { stub, talk: new Talk(this.#redis, stub, this.id) };
    this.#atWork.set(id, at);
    try {
      if (job.deferredFailure) throw new UserError('workers-stopped', { times: job.stalledCounter });
      if (!(await stillThere(this.#redis, [stub.run])).size) throw new Over();
      const what = jobs[name as keyof J & string];
      if (!what) throw new Error(`there is no job "${name}" for workers`);
      const input = await at.talk.fetch();
      log('job-taken', { ...said, bytes: input.length });
      this.worked.bytesIn += input.length;
      const begun = performance.now();
      at.running = this.#o.pool.ask(name as keyof J & string, deserialize(input));
      const output = serialize(await at.running.answer);
      const seconds = (performance.now() - begun) / 1000;
      free();
      await at.talk.deliver(output);
      this.worked.done++;
      this.worked.seconds += seconds;
      this.worked.bytesOut += output.length;
      log('job-done', { ...said, what, seconds, bytes: output.length });
      await job.moveToCompleted(null, token, false);
    } catch (e) {
      free();
      if (signal.aborted) {
        await job.moveToWait(token);
        log('job-given-back', said);
      } else if (e instanceof Over || e instanceof Cancelled) {
        log('job-not-wanted', said);
        await job.moveToCompleted(null, token, false);
      } else await this.#failed(job, token, e as Error, at.talk, said);
    } finally {
      this.#atWork.delete(id);
    }
  }

  async #failed(job: Job<Stub>, token: string, e: Error, talk: Talk, said: { label: string }): Promise<void> {
    const { log } = this.#o;
    const last = e instanceof UserError || job.attemptsMade + 1 >= ATTEMPTS;
    if (!last) {
      this.worked.again++;
      log('job-again', { ...said, why: e.message });
      await job.moveToFailed(e, token, false);
      return;
    }
    this.worked.failed++;
    log('job-refused', { ...said, why: e.message });
    await talk.report(toFailure(e));
    await job.moveToFailed(new UnrecoverableError(`${said.label}: ${e.message}`), token, false);
  }

  /** A job whose worker was lost waits a while before the next one tries it, longer each time. */
  async #rest(job: Job<Stub>, token: string): Promise<boolean> {
    const lost = job.stalledCounter ?? 0;
    if (job.deferredFailure || lost <= (job.data.rested ?? 0)) return false;
    await job.updateData({ ...job.data, rested: lost });
    await job.moveToDelayed(Date.now() + BACK_OFF_MS * 2 ** (lost - 1), token);
    return true;
  }

  async #say(): Promise<void> {
    const { pool } = this.#o;
    await appear(this.#redis, 'worker', this.id, {
      ...{ host: hostname(), pid: process.pid, threads: pool.size },
      at: [...this.#atWork.values()].map((a) => a.stub.label),
      ...{ done: this.worked.done, failed: this.worked.failed },
    });
  }

  async #beat(): Promise<void> {
    await agree(this.#redis, this.#o.version, this.#o.connected.address);
    await this.#say();
    const atWork = [...this.#atWork.values()];
    const there = await stillThere(this.#redis, [...new Set(atWork.map((a) => a.stub.run))]);
    for (const at of atWork) {
      if (there.has(at.stub.run)) continue;
      at.running?.cancel();
      at.talk.end(new Over());
    }
    if (this.#beats++ % CLEAR_EVERY === 0) {
      const pictures = openPictures(this.#redis);
      await removeLost(this.#redis, pictures).finally(() => pictures.close());
    }
  }
}
