// The steps of sewing that are done, kept beside the work: the same on the computer and on the tablet beside the machine.
import { readFile } from 'node:fs/promises';
import type { Event } from '../api.ts';
import type { Folder } from './keep.ts';

const MARK = /^[0-9a-z]{1,12}$/;
/** a block has far fewer steps; marks of pieces that were changed since are dropped first */
const MOST = 3000;

export class Ticks {
  readonly #folder: Folder;
  readonly #tell: (event: Event) => void;
  #last: Promise<unknown> = Promise.resolve();

  constructor(folder: Folder, tell: (event: Event) => void) {
    this.#folder = folder;
    this.#tell = tell;
  }

  async read(id: string): Promise<readonly string[]> {
    const text = await readFile(this.#folder.work(id, 'ticks.json'), 'utf8').catch(() => '[]');
    try {
      const list: unknown = JSON.parse(text);
      return Array.isArray(list) ? list.filter((m): m is string => typeof m === 'string' && MARK.test(m)) : [];
    } catch {
      return [];
    }
  }

  /** Two tablets that tick at once lose nothing: what is sent is what changed, not all there is. */
  change(id: string, on: readonly string[], off: readonly string[]): Promise<readonly string[]> {
    const mine = this.#last.then(async () => {
      const gone = new Set(off);
      const next = [...new Set([...(await this.read(id)), ...on])].filter((m) => !gone.has(m)).slice(-MOST);
      await this.#folder.write(this.#folder.work(id, 'ticks.json'), `${JSON.stringify(next)}\n`);
      this.#tell({ kind: 'ticks', id });
      return next;
    });
    this.#last = mine.catch(() => {});
    return mine;
  }
}
