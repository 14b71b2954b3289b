// Files as the commands read and write them: clear sentences where one is missing, whole or not at all, never over a user's
// file without --force.
import { existsSync } from 'node:fs';
import { mkdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { UserError } from './problems/problem.ts';

/** Larger files are refused before they are read. */
export const LARGEST_FILE = 512 * 1024 * 1024;

export async function readInput(path: string, what = 'picture'): Promise<Uint8Array> {
  let info: Awaited<ReturnType<typeof stat>>;
  try {
    info = await stat(path);
  } catch {
    throw new UserError('no-file', { path }, 2);
  }
  if (info.isDirectory()) throw new UserError('is-a-folder', { path, what }, 2);
  if (info.size > LARGEST_FILE) throw new UserError('file-too-large', { path, what });
  try {
    return new Uint8Array(await readFile(path));
  } catch {
    throw new UserError('cannot-open', { path }, 2);
  }
}

/** Throws UserError where one of the files is there already and `force` is not given: before any work is done. */
export function refuseToOverwrite(paths: readonly string[], force: boolean): void {
  const there = force ? undefined : paths.find((p) => existsSync(p));
  if (there) throw new UserError('is-there-already', { path: there }, 2);
}

/** Writes all files under temporary names first and renames them last, so that no half-written one is ever seen. */
export async function writeOutputs(files: ReadonlyMap<string, Uint8Array>): Promise<void> {
  const made: [from: string, to: string][] = [];
  try {
    for (const [path, bytes] of files) {
      await mkdir(dirname(path), { recursive: true });
      const temporary = join(dirname(path), `.${basename(path)}.part`);
      made.push([temporary, path]);
      await writeFile(temporary, bytes);
    }
    for (const [from, to] of made) await rename(from, to);
  } catch (e) {
    await Promise.all(made.map(([from]) => rm(from, { force: true })));
    throw new UserError('cannot-write', { folder: dirname([...files.keys()][0]!), why: (e as Error).message });
  }
}
