// A worker's side of the letters about one job: writes, and waits for the answer; writes again where none comes.

import type { Failure } from '../threads/messages.ts';
import type { Redis } from './connection.ts';
import { ANSWER_MS } from './keys.ts';
import { putPieces, takePieces } from './pieces.ts';
import { type ToSeries, type ToWorker, write } from './post.ts';
import type { Stub } from './tasks.ts';

/** The job is done with: its result is in its place, or nobody wants it any more. */
export class Over extends Error {}

type Words<L> = L extends unknown ? Omit<L, 'job' | 'from'> : never;

export class Talk {
  readonly #redis: Redis;
  readonly #stub: Stub;
  readonly #worker: string;
  readonly #came: ToWorker[] = [];
  #wake: (() => void) | undefined;
  #ended: Error | undefined;

  constructor(redis: Redis, stub: Stub, worker: string) {
    this.#redis = redis;
    this.#stub = stub;
    this.#worker = worker;
  }

  hear(letter: ToWorker): void {
    this.#came.push(letter);
    this.#wake?.();
  }

  /** Whatever is waited for does not come any more. */
  end(why: Error): void {
    this.#ended ??= why;
    this.#wake?.();
  }

  /** What the job is made of. Throws Over. */
  async fetch(): Promise<Buffer> {
    const { run, job } = this.#stub;
    for (;;) {
      const { pieces } = await this.#ask({ says: 'want' }, 'input');
      const bytes = await takePieces(this.#redis, ['in', run, job, this.#worker], pieces);
      await this.#write({ says: 'took' });
      if (bytes) return bytes;
    }
  }

  /** Hands over what was made; when this returns it is in its place. */
  async deliver(bytes: Uint8Array): Promise<void> {
    const { run, job } = this.#stub;
    try {
      for (;;) {
        await this.#ask({ says: 'offer', bytes: bytes.length }, 'room');
        const pieces = await putPieces(this.#redis, ['out', run, job, this.#worker], bytes);
        await this.#ask({ says: 'sent', pieces }, 'room');
      }
    } catch (e) {
      if (!(e instanceof Over)) throw e;
    }
  }

  /** Says why there is no result. */
  async report(failure: Failure): Promise<void> {
    try {
      await this.#ask({ says: 'failed', failure }, 'room');
    } catch (e) {
      if (!(e instanceof Over)) throw e;
    }
  }

  async #write(words: Words<ToSeries>): Promise<void> {
    await write(this.#redis, this.#stub.run, { job: this.#stub.job, from: this.#worker, ...words } as ToSeries);
  }

  /** The next letter that says this; others are of a question that was asked before. Throws Over, and what the talk was ended with. */
  async #ask<S extends ToWorker['says']>(words: Words<ToSeries>, says: S): Promise<ToWorker & { readonly says: S }> {
    for (;;) {
      await this.#write(words);
      const until = performance.now() + ANSWER_MS;
      for (let left = ANSWER_MS; left > 0; left = until - performance.now()) {
        if (this.#ended) throw this.#ended;
        const letter = this.#came.shift();
        if (letter?.says === 'over') throw new Over();
        if (letter?.says === says) return letter as ToWorker & { readonly says: S };
        if (!letter) await this.#wait(left);
      }
    }
  }

  #wait(ms: number): Promise<void> {
    return new Promise((go) => {
      const timer = setTimeout(go, ms);
      this.#wake = () => {
        clearTimeout(timer);
        go();
      };
    });
  }
}
