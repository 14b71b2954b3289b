// A block's folder in a series: what is kept in it beside the block, and how a new one takes the old one's place. Kept apart from
// the making of blocks: the program itself loads none of that, its threads do.
import { existsSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { syncFolder } from '../files.ts';

/** What is kept beside a finished block. */
export interface Made {
  readonly key: string;
  readonly pieces: number;
  readonly sections: number;
  readonly sheets: number;
  readonly misplaced: number;
  readonly warnings: readonly string[];
  /** height of the eyes as a share of the block's, where small regions that stand out were found */
  readonly eyes?: number;
  /** sections whose printed templates the last edition made void */
  readonly print?: readonly string[];
}

export const MADE_FILE = 'made.json';

/** Puts a finished folder in the old one's place, so that there is always a whole one to be found. */
export async function swapIn(part: string, folder: string): Promise<void> {
  const old = `${folder}.old`;
  if (existsSync(folder)) await rename(folder, old);
  await rename(part, folder);
  await syncFolder(dirname(folder));
  await rm(old, { recursive: true, force: true });
}

/** Tidies up after work that was stopped in the middle. */
export async function recoverFolder(folder: string): Promise<void> {
  if (!existsSync(folder) && existsSync(`${folder}.old`)) await rename(`${folder}.old`, folder);
  for (const left of [`${folder}.part`, `${folder}.old`]) await rm(left, { recursive: true, force: true });
}
