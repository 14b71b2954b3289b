// How much of the disk the works may take: counted once from what lies there, then as uploads come and go.
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { UserError } from '../../problems/problem.ts';
import type { Room } from './bodies-in.ts';

const GB = 1e9;
/** bytes, where nobody says otherwise */
export const USUAL_ROOM = 20 * GB;

/** Bytes of all files below a folder; what vanishes meanwhile counts nothing. */
export async function bytesIn(folder: string): Promise<number> {
  let sum = 0;
  for (const entry of await readdir(folder, { withFileTypes: true }).catch(() => [])) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) sum += await bytesIn(path);
    else if (entry.isFile()) sum += (await stat(path).catch(() => undefined))?.size ?? 0;
  }
  return sum;
}

/** The room of a folder of works. */
export class DiskRoom implements Room {
  readonly #most: number;
  readonly #folder: string;
  #used: number | undefined;

  constructor(folder: string, most = USUAL_ROOM) {
    [this.#folder, this.#most] = [folder, most];
  }

  /** Counts what lies there now, before an upload is let in. */
  async count(): Promise<void> {
    this.#used = await bytesIn(this.#folder);
    this.take(0);
  }

  take(bytes: number): void {
    this.#used = (this.#used ?? 0) + bytes;
    if (this.#used > this.#most) throw new UserError('no-room', { mostGb: Math.round((10 * this.#most) / GB) / 10 });
  }

  give(bytes: number): void {
    this.#used = Math.max(0, (this.#used ?? 0) - bytes);
  }
}
