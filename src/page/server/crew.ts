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
/** It may be looked at later. */
const LAST = -1;

export class Crew {
  readonly #pool: Pool<PageJobs>;

  constructor(most: number, memory: ResourceLimits = MEMORY) {
    this.#pool = new Pool({ entry: WORKER, threads: most, memory });
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

  /** Something that is begun when nothing else waits, and makes room for all else. */
  askLast<K extends Name>(name: K, input: Input<K>, work: string): AskedFor<K> {
    const { answer, cancel } = this.#pool.ask(name, input, {
      ...{ priority: LAST, affinity: work },
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
    return this.#pool.close();
  }
}

function inOurWords(e: unknown): never {
  if (e instanceof UserError || e instanceof Cancelled) throw e;
  const { message, stack } = e as Error;
  if (process.env.SEAMWRIGHT_TRACE) process.stderr.write(`${stack}\n`);
  if (isSystemError(e)) throw new UserError('page-system-refused', { why: whySystem(e) });
  throw e instanceof ThreadDied ? new UserError('thread-died', {}) : new UserError('fault-in-thread', { why: message });
}
