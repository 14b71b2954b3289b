// The worker threads of the page: at most so many, the idle ones kept warm with the pictures they had last. What someone waits
// for goes first; a long fit makes room for it and begins again. A thread that dies costs only its own job.
import type { ResourceLimits, Worker } from 'node:worker_threads';
import { UserError } from '../../errors.ts';
import { startThread } from '../../workers/start-thread.ts';
import type { AnswerTo, Ask, Job, Said } from './jobs.ts';

/** A job was called off before it was done. */
export class CalledOff extends Error {
  constructor() {
    super('called off');
  }
}

export interface Listening<P = unknown> {
  /** a first answer, before the whole one */
  readonly part?: (part: P) => void;
  readonly progress?: (stage: string, share: number) => void;
}

export interface Running<T> {
  readonly answer: Promise<T>;
  stop(): void;
}

interface Post {
  job: Job;
  /** jobs of one work go to the thread that has its picture */
  readonly work: string;
  readonly hear: Listening;
  /** whether someone waits for the next word of it */
  urgent: boolean;
  readonly stop: Int32Array;
  calledOff: boolean;
  readonly done: (answer: unknown) => void;
  readonly fail: (e: Error) => void;
}

interface Hand {
  readonly worker: Worker;
  post: Post | undefined;
  /** the works it had, last first */
  works: string[];
}

/** a picture that needs more than this is a fault, not a large picture */
const MEMORY = { maxOldGenerationSizeMb: 1536 };
const REMEMBERED = 3;
const DIED = 'The work on this was broken off by a fault of the program; change something, or try it again.';

export class Crew {
  readonly #most: number;
  readonly #memory: ResourceLimits;
  #hands: Hand[] = [];
  #waiting: Post[] = [];
  #closed = false;

  constructor(most: number, memory: ResourceLimits = MEMORY) {
    this.#most = most;
    this.#memory = memory;
  }

  ask<J extends Job>(job: J, work: string, hear: Listening = {}): Running<AnswerTo<J>> {
    let post!: Post;
    const answer = new Promise<unknown>((done, fail) => {
      const stop = new Int32Array(new SharedArrayBuffer(4));
      post = { job, work, hear, urgent: true, stop, calledOff: false, done, fail };
    });
    // whoever stops a job need not listen to its end
    answer.catch(() => {});
    if (this.#closed) post.fail(new CalledOff());
    else {
      this.#waiting.push(post);
      this.#deal();
    }
    return { answer: answer as Promise<AnswerTo<J>>, stop: () => this.#callOff(post) };
  }

  /** One thread that has loaded what it needs before it is asked. */
  warm(): void {
    if (!this.#closed && !this.#hands.length) this.#hire();
  }

  /** Something that nobody waits for, on a thread that has nothing to do; undefined where the only thread must be kept free. */
  askIdly<J extends Job>(job: J, work: string): Running<AnswerTo<J>> | undefined {
    const busy = this.#hands.filter((h) => h.post).length + this.#waiting.length;
    if (this.#most - busy < 1 || this.#most < 2) return undefined;
    return this.ask(job, work);
  }

  /** For tests: the threads at work on something. */
  get threads(): readonly Worker[] {
    return this.#hands.map((h) => h.worker);
  }

  /** Ends every thread; what was under way is called off. */
  async close(): Promise<void> {
    this.#closed = true;
    const hands = this.#hands;
    for (const post of this.#waiting) post.fail(new CalledOff());
    this.#waiting = [];
    await Promise.all(
      hands.map((h) => {
        h.post?.fail(new CalledOff());
        return h.worker.terminate();
      }),
    );
  }

  #callOff(post: Post): void {
    post.calledOff = true;
    Atomics.store(post.stop, 0, 1);
    const at = this.#waiting.indexOf(post);
    if (at >= 0) this.#waiting.splice(at, 1);
    post.fail(new CalledOff());
  }

  #deal(): void {
    while (this.#waiting.length) {
      const post = this.#waiting.find((p) => p.urgent) ?? this.#waiting[0]!;
      const idle = this.#hands.filter((h) => !h.post);
      const hand =
        idle.find((h) => h.works.includes(post.work)) ??
        (this.#hands.length < this.#most ? this.#hire() : undefined) ??
        idle[0];
      if (!hand) {
        if (post.urgent) this.#makeRoom();
        return;
      }
      this.#waiting.splice(this.#waiting.indexOf(post), 1);
      hand.post = post;
      hand.works = [post.work, ...hand.works.filter((w) => w !== post.work)].slice(0, REMEMBERED);
      hand.worker.postMessage({ job: post.job, stop: post.stop.buffer as SharedArrayBuffer } satisfies Ask);
    }
  }

  /** One long fit whose first look has been shown leaves off, and waits for its turn. */
  #makeRoom(): void {
    const leaving = this.#hands.some((h) => h.post && Atomics.load(h.post.stop, 0) !== 0);
    if (leaving) return;
    const long = this.#hands.map((h) => h.post).find((p) => p && !p.urgent);
    if (long) Atomics.store(long.stop, 0, 1);
  }

  #hire(): Hand {
    const hand: Hand = {
      worker: startThread(import.meta.url, './worker.ts', './page-worker.js', this.#memory),
      post: undefined,
      works: [],
    };
    this.#hands.push(hand);
    const gone = (e?: Error): void => {
      if (!this.#hands.includes(hand)) return;
      this.#hands = this.#hands.filter((h) => h !== hand);
      hand.post?.fail(new UserError(DIED, 1));
      if (e && process.env.SEAMWRIGHT_TRACE) process.stderr.write(`${e.stack}\n`);
      hand.post = undefined;
      if (!this.#closed) this.#deal();
    };
    hand.worker.on('message', (said: Said) => this.#hear(hand, said));
    hand.worker.on('error', gone);
    hand.worker.on('exit', () => gone());
    hand.worker.unref();
    return hand;
  }

  #hear(hand: Hand, said: Said): void {
    const post = hand.post;
    if (!post) return;
    if (said.kind === 'progress') {
      if (!post.calledOff) post.hear.progress?.(said.stage, said.share);
      return;
    }
    if (said.kind === 'part') {
      post.urgent = false;
      if (!post.calledOff) post.hear.part?.(said.part);
      if (this.#waiting.length) this.#deal();
      return;
    }
    hand.post = undefined;
    if (said.kind === 'answer') post.done(said.answer);
    else if (said.kind === 'refused') post.fail(new UserError(said.says));
    else if (said.kind === 'fault') post.fail(new UserError(`This is a fault of the program, not yours: ${said.says}`));
    else if (post.calledOff || this.#closed) post.fail(new CalledOff());
    else {
      // it made room: its first look has been shown and is not made again
      if (post.job.kind === 'make') post.job = { ...post.job, look: false };
      Atomics.store(post.stop, 0, 0);
      this.#waiting.push(post);
    }
    this.#deal();
  }
}
