// Letters between a series and the workers: a list for each who gets letters, read one by one as they come. Letters are short; what is
// long is put down in pieces, and the letter says so. One that is lost is written again by whoever waits for the answer.
import type { Failure } from '../threads/messages.ts';
import type { Redis } from './connection.ts';
import { KEYS, POST_S } from './keys.ts';
import { throwFirst } from './pieces.ts';

/** from a worker to a series; `job` is the series' own name for it */
export type ToSeries = { readonly job: string; readonly from: string } & (
  | { readonly says: 'want' }
  | { readonly says: 'took' }
  | { readonly says: 'offer'; readonly bytes: number }
  | { readonly says: 'sent'; readonly pieces: number }
  | { readonly says: 'failed'; readonly failure: Failure }
);

/** from a series to a worker */
export type ToWorker = { readonly job: string; readonly run: string } & (
  | { readonly says: 'input'; readonly pieces: number }
  | { readonly says: 'room' }
  /** it is in its place, or not wanted any more: the job is done with */
  | { readonly says: 'over' }
);

export async function write(redis: Redis, to: string, letter: ToSeries | ToWorker): Promise<void> {
  const key = KEYS.post(to);
  throwFirst(await redis.pipeline().rpush(key, JSON.stringify(letter)).expire(key, POST_S).exec());
}

/** seconds that one request waits for a letter */
const WAIT_S = 5;
const AFTER_FAULT_MS = 500;

/** Reads what comes for `id` until it is closed. The letters of one sender come in the order in which they were written. */
export class Letters<Letter> {
  readonly #redis: Redis;
  readonly #id: string;
  #closed = false;
  readonly #reading: Promise<void>;

  constructor(redis: Redis, id: string, hear: (letter: Letter) => void) {
    // a connection of its own: reading waits
    this.#redis = redis.duplicate({ lazyConnect: false });
    this.#redis.on('error', () => {});
    this.#id = id;
    this.#reading = this.#read(hear);
  }

  async #read(hear: (letter: Letter) => void): Promise<void> {
    while (!this.#closed)
      try {
        const found = await this.#redis.blpop(KEYS.post(this.#id), WAIT_S);
        if (found) hear(JSON.parse(found[1]) as Letter);
      } catch {
        // the server is gone, or this is being closed
        if (!this.#closed) await new Promise((r) => setTimeout(r, AFTER_FAULT_MS));
      }
  }

  async close(): Promise<void> {
    this.#closed = true;
    this.#redis.disconnect();
    await this.#reading;
  }
}
