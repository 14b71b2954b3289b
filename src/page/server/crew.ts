// The page's threads: what someone waits for goes first, a work's jobs go to the thread that has its picture, and a full fit
// whose first look has been shown makes room. What goes wrong is said as the page says it.
import type { ResourceLimits, Worker } from 'node:worker_threads';
import { isSystemError, whySystem } from '../../problems/errno.ts';
import { UserError } from '../../problems/problem.ts';
import { Cancelled, type Running, ThreadDied } from '../../threads/call.ts';
import type { PartOf } from '../../threads/jobs.ts';
import { Pool } from '../../threads/pool.ts';
import { WORKER } from '../../worker-file.ts';
import type { PageJobs } from './jobs.ts';

export interface Listening<Part = never> {
  /** a first answer, before the whole one */
  readonly part?: (part: Part) => void;
  readonly progress?: (stage: string, share: number) => void;
}

type Name = keyof PageJobs;
type Input<K extends Name> = PageJobs[K]['input'];
export type Asked<Output> = Pick<Running<Output>, 'answer' | 'cancel'>;
type AskedFor<K extends Name> = Asked<PageJobs[K]['output']>;

/** a picture that needs more than this is a fault, not a large picture */
const MEMORY: ResourceLimits = { maxOldGenerationSizeMb: 1536 };

/** Someone waits for the next word of it. */
const AWAITED = 1;
/** A first look has been shown. */
const CAN_WAIT = 0;
/** One of several things that someone looks at: before what has been shown already, after what is changed now. */
const LOOKED_AT = 0.5;

export class Crew {
  readonly #pool: Pool<PageJobs>;
  /** the hand's own thread: a recolouring waits for no fit, however many there are */
  readonly #hand: Pool<PageJobs>;

  constructor(most: number, memory: ResourceLimits = MEMORY) {
    this.#pool = new Pool({ entry: WORKER, threads: most, memory });
    this.#hand = new Pool({ entry: WORKER, threads: 1, memory });
  }

  /** A change by hand. */
  askHand(input: Input<'changeWork'>): AskedFor<'changeWork'> {
    const { answer, cancel } = this.#hand.ask('changeWork', input, {});
    return { answer: answer.catch(inOurWords), cancel };
  }

  /** The hand's thread, loaded before the first change is made. */
  readyHand(): void {
    this.#hand.start(1, ['changeWork']);
  }

  /** What nobody waits for, after what somebody does; begun anew where it has made room. */
  askWhenFree<K extends Name>(name: K, input: Input<K>, work: string): AskedFor<K> {
    const restart = (before: Input<K>): Input<K> => before;
    const { answer, cancel } = this.#pool.ask(name, input, { priority: CAN_WAIT, affinity: work, restart });
    const told = answer.catch(inOurWords);
    told.catch(() => {});
    return { answer: told, cancel };
  }

  ask<K extends Name>(name: K, input: Input<K>, work: string, hear: Listening<PartOf<PageJobs[K]>> = {}): AskedFor<K> {
    const task = this.#pool.ask(name, input, {
      ...hear,
      ...{ priority: AWAITED, affinity: work },
      part: (part) => {
        task.priority = CAN_WAIT;
        hear.part?.(part);
      },
      // its first look has been shown and is not made again
      ...(name === 'makeWork' && { restart: (before: Input<K>): Input<K> => ({ ...before, look: false }) }),
    });
    const answer = task.answer.catch(inOurWords);
    // whoever calls a job off need not listen to its end
    answer.catch(() => {});
    return { answer, cancel: task.cancel };
  }

  /** A look at something else than what is being made; it makes room for what is asked now. */
  askLook<K extends Name>(name: K, input: Input<K>, work: string): AskedFor<K> {
    const { answer, cancel } = this.#pool.ask(name, input, {
      ...{ priority: LOOKED_AT, affinity: work },
      restart: (before: Input<K>): Input<K> => before,
    });
    return { answer: answer.catch(inOurWords), cancel };
  }

  /** One thread that has loaded what it needs before it is asked. */
  warm(): void {
    this.#pool.start(1, ['makeWork']);
  }

  /** Something that nobody waits for, on a thread that has nothing to do; undefined where the only thread must be kept free. */
  askIdly<K extends Name>(name: K, input: Input<K>, work: string): AskedFor<K> | undefined {
    if (this.#pool.spare < 1 || this.#pool.size < 2) return undefined;
    return this.ask(name, input, work);
  }

  /** For tests: the threads themselves. */
  get threads(): readonly Worker[] {
    return this.#pool.workers;
  }

  /** Ends every thread; what was under way is called off. */
  close(): Promise<void> {
    return Promise.all([this.#pool.close(), this.#hand.close()]).then(() => {});
  }
}

function inOurWords(e: unknown): never {
  if (e instanceof UserError || e instanceof Cancelled) throw e;
  const { message, stack } = e as Error;
  if (process.env.SEAMWRIGHT_TRACE) process.stderr.write(`${stack}\n`);
  if (isSystemError(e)) throw new UserError('page-system-refused', { why: whySystem(e) });
  throw e instanceof ThreadDied ? new UserError('thread-died', {}) : new UserError('fault-in-thread', { why: message });
}
