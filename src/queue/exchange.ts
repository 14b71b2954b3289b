// The letters of one series: sends a picture to the worker that asks for it, and takes the result that it offers. So much lies in Redis
// at once and no more, however many workers ask; what a worker did not take in time is taken back.
import { deserialize, serialize } from 'node:v8';
import { toError } from '../threads/messages.ts';
import { Budget } from './budget.ts';
import { isRefusal, type Redis } from './connection.ts';
import { TAKEN_WITHIN_MS } from './keys.ts';
import type { Task } from './lots.ts';
import { dropPieces, putPieces, takePieces } from './pieces.ts';
import { type ToSeries, type ToWorker, write } from './post.ts';

/** of pictures, and again of results, that lie in Redis for one series at once */
const ROOM_BYTES = 32 * 1024 * 1024;
/** pictures that are read from the disk at once */
const READ_AT_ONCE = 4;

export interface ExchangeOptions {
  readonly redis: Redis;
  readonly run: string;
  find(job: string): Task | undefined;
  inputOf(task: Task): Promise<unknown>;
  /** Puts a result in its place. */
  keep(task: Task, output: unknown): Promise<void>;
  settle(task: Task, error?: Error): void;
  /** the server refuses what it is asked to hold */
  fault(e: Error): void;
}

/** For whoever looks on. */
export interface Travelled {
  letters: number;
  bytesToWorkers: number;
  bytesFromWorkers: number;
  /** most that lay in Redis at once, by our own count */
  mostBytes: number;
}

/** Room that is kept for what is on its way: ended by whoever took it, or by time. */
interface Held {
  end(): void;
}

export class Exchange {
  readonly travelled: Travelled = { letters: 0, bytesToWorkers: 0, bytesFromWorkers: 0, mostBytes: 0 };
  readonly #o: ExchangeOptions;
  readonly #toWorkers = new Budget(ROOM_BYTES);
  readonly #fromWorkers = new Budget(ROOM_BYTES);
  readonly #reading = new Budget(READ_AT_ONCE);
  /** by way, job and worker: a job may be at two workers, where one was taken for lost */
  readonly #held = new Map<string, Held>();
  /** what is being sent, kept a room for, or put in its place just now */
  readonly #busy = new Set<string>();

  constructor(o: ExchangeOptions) {
    this.#o = o;
  }

  /** Never throws: what went wrong on the way is asked for again, what cannot be done settles its job. */
  async hear(letter: ToSeries): Promise<void> {
    this.travelled.letters++;
    const task = this.#o.find(letter.job);
    const id = `${letter.says} ${letter.job} ${letter.from}`;
    if (this.#busy.has(id)) return;
    this.#busy.add(id);
    try {
      if (letter.says === 'took') this.#release('in', letter);
      else if (!task || task.settled) await this.#answer(letter, { says: 'over' });
      else if (letter.says === 'want') await this.#send(task, letter);
      else if (letter.says === 'offer') await this.#makeRoom(letter);
      else if (letter.says === 'sent') await this.#take(task, letter);
      else {
        this.#o.settle(task, toError(letter.failure));
        await this.#answer(letter, { says: 'over' });
      }
    } catch (e) {
      // else the server was gone for a moment: the worker writes again
      if (isRefusal(e)) this.#o.fault(e);
    } finally {
      this.#busy.delete(id);
    }
  }

  async #send(task: Task, letter: ToSeries): Promise<void> {
    const ready = await this.#reading.take(1);
    try {
      let bytes: Buffer;
      try {
        bytes = serialize(await this.#o.inputOf(task));
      } catch (e) {
        this.#o.settle(task, e as Error);
        await this.#answer(letter, { says: 'over' });
        return;
      }
      this.#release('in', letter);
      const room = await this.#toWorkers.take(bytes.length);
      let pieces = 0;
      this.#hold('in', letter, () => {
        room();
        void dropPieces(this.#o.redis, ['in', this.#o.run, letter.job, letter.from], pieces).catch(() => {});
      });
      pieces = await putPieces(this.#o.redis, ['in', this.#o.run, letter.job, letter.from], bytes);
      this.travelled.bytesToWorkers += bytes.length;
      this.#count();
      await this.#answer(letter, { says: 'input', pieces });
    } finally {
      ready();
    }
  }

  async #makeRoom(letter: ToSeries & { readonly bytes: number }): Promise<void> {
    this.#release('out', letter);
    this.#hold('out', letter, await this.#fromWorkers.take(letter.bytes));
    this.#count();
    await this.#answer(letter, { says: 'room' });
  }

  async #take(task: Task, letter: ToSeries & { readonly pieces: number }): Promise<void> {
    const bytes = await takePieces(this.#o.redis, ['out', this.#o.run, letter.job, letter.from], letter.pieces);
    this.#release('out', letter);
    // not there any more: it is offered again
    if (!bytes) return;
    this.travelled.bytesFromWorkers += bytes.length;
    const keeping = `keep ${letter.job}`;
    // another worker's is being put in its place: the same bytes
    if (this.#busy.has(keeping)) return;
    this.#busy.add(keeping);
    try {
      await this.#o.keep(task, deserialize(bytes));
      this.#o.settle(task);
    } catch (e) {
      this.#o.settle(task, e as Error);
    } finally {
      this.#busy.delete(keeping);
    }
    await this.#answer(letter, { says: 'over' });
  }

  #hold(way: 'in' | 'out', { job, from }: ToSeries, free: () => void): void {
    const id = `${way} ${job} ${from}`;
    const timer = setTimeout(() => this.#held.get(id)?.end(), TAKEN_WITHIN_MS);
    timer.unref();
    this.#held.set(id, {
      end: () => {
        clearTimeout(timer);
        this.#held.delete(id);
        free();
      },
    });
  }

  #release(way: 'in' | 'out', { job, from }: ToSeries): void {
    this.#held.get(`${way} ${job} ${from}`)?.end();
  }

  #count(): void {
    const now = this.#toWorkers.used + this.#fromWorkers.used;
    this.travelled.mostBytes = Math.max(this.travelled.mostBytes, now);
  }

  async #answer(
    { job, from }: ToSeries,
    words: { says: 'input'; pieces: number } | { says: 'room' } | { says: 'over' },
  ): Promise<void> {
    await write(this.#o.redis, from, { job, run: this.#o.run, ...words } as ToWorker);
  }

  /** Takes back what nobody took. */
  close(): void {
    for (const held of [...this.#held.values()]) held.end();
  }
}
