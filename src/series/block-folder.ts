// A block's folder in a series: what is kept in it beside the block, and how a new one takes the old one's place. Kept apart from
// the making of blocks: the program itself loads none of that, its threads do.
import { existsSync } from 'node:fs';
import { mkdir, readFile, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { outputPath, syncFolder, writeWhole } from '../files.ts';

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

/** What a block's folder holds besides, by what follows the block's name. */
export const BLOCK_FILES = ['block.json', 'regions.png', 'shades.png', 'preview.png', 'packet.pdf'] as const;
export type BlockFiles = Readonly<Record<(typeof BLOCK_FILES)[number], string | Uint8Array>>;

/** Writes a block's folder beside its place, and swaps it in as a whole. */
export async function writeBlockFolder(folder: string, name: string, files: BlockFiles, made: Made): Promise<void> {
  const part = `${folder}.part`;
  await rm(part, { recursive: true, force: true });
  await mkdir(part, { recursive: true });
  for (const ending of BLOCK_FILES) await writeWhole(outputPath(part, `${name}.${ending}`), files[ending]);
  await writeWhole(join(part, MADE_FILE), `${JSON.stringify(made)}\n`);
  await swapIn(part, folder);
}

/** The file of the block that the folder holds now, if it holds one. */
export const readBefore = (folder: string, name: string): Promise<string | undefined> =>
  readFile(join(folder, `${name}.block.json`), 'utf8').catch(() => undefined);

/** Puts a finished folder in the old one's place, so that there is always a whole one to be found. */
async function swapIn(part: string, folder: string): Promise<void> {
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
