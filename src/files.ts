// The one way in and the one way out for files. In: regular files alone, counted as they are read. Out: every name is proven to lie
// inside its folder; files appear whole or not at all, never over another without --force (also where two programs write at
// once), never through a link, and stay after a power cut.
import { randomBytes } from 'node:crypto';
import { accessSync, constants, lstatSync, type Stats, statSync } from 'node:fs';
import { type FileHandle, link, mkdir, open, readdir, rename, rm } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { isFileName } from './names.ts';
import { isSystemError, whySystem } from './problems/errno.ts';
import { UserError } from './problems/problem.ts';

/** Larger files are refused before they are read, and as soon as they have grown so large. */
export const LARGEST_FILE = 512 * 1024 * 1024;

/** The same for block files, settings, lists and drawings. */
export const LARGEST_TEXT = 8e6;

const CHUNK = 1 << 20;

/** Reads a regular file. Throws UserError for folders, devices, pipes, and for more than `most` bytes. */
export async function readInput(path: string, what = 'picture', most = LARGEST_FILE): Promise<Uint8Array> {
  let file: FileHandle;
  try {
    // a pipe is opened without waiting for whoever writes to it
    file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  } catch (e) {
    const { code } = e as NodeJS.ErrnoException;
    if (code === 'ENOENT' || code === 'ENOTDIR') throw new UserError('no-file', { path }, 2);
    if (code === 'ENXIO') throw new UserError('not-a-file', { path, what }, 2);
    throw new UserError('cannot-open', { path, why: whySystem(e) }, 2);
  }
  try {
    const info = await file.stat();
    if (info.isDirectory()) throw new UserError('is-a-folder', { path, what }, 2);
    if (!info.isFile()) throw new UserError('not-a-file', { path, what }, 2);
    return await readCounted(file, info.size, most, () => tooLarge(path, what, most));
  } catch (e) {
    if (isSystemError(e)) throw new UserError('cannot-open', { path, why: whySystem(e) }, 2);
    throw e;
  } finally {
    await file.close();
  }
}

const tooLarge = (path: string, what: string, most: number): UserError =>
  most === LARGEST_FILE
    ? new UserError('file-too-large', { path, what })
    : new UserError('text-too-large', { path, what, mostMb: Math.round(most / 1e6) });

/** Its size may be said wrongly: some systems say 0 of files that they make up as they are read. */
async function readCounted(file: FileHandle, size: number, most: number, refuse: () => UserError): Promise<Uint8Array> {
  if (size > most) throw refuse();
  let bytes = new Uint8Array(size + 1);
  let read = 0;
  for (;;) {
    const { bytesRead } = await file.read(bytes, read, Math.min(bytes.length - read, 64 * CHUNK), null);
    if (!bytesRead) return bytes.slice(0, read);
    read += bytesRead;
    if (read > most) throw refuse();
    if (read === bytes.length) {
      const longer = new Uint8Array(Math.min(most + 1, read + CHUNK));
      longer.set(bytes);
      bytes = longer;
    }
  }
}

/** Reads text of a moderate size. Throws as `readInput`. */
export const readText = async (path: string, what: string): Promise<string> =>
  new TextDecoder().decode(await readInput(path, what, LARGEST_TEXT));

/** Reads standard input, counted. */
export async function readStdin(what: string, most = LARGEST_TEXT): Promise<string> {
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of process.stdin) {
    size += (part as Uint8Array).length;
    if (size > most) throw tooLarge('standard input', what, most);
    parts.push(part as Uint8Array);
  }
  return Buffer.concat(parts).toString('utf8');
}

/** A path that `outputPath` has made. */
export type OutputPath = string & { readonly __output: true };

/** Where a file of this name lies in a folder: the only way to a path that is written. Throws UserError for a name that would lead
 *  elsewhere. */
export function outputPath(folder: string, name: string): OutputPath {
  if (!isFileName(name) || basename(name) !== name) throw new UserError('not-an-output', { name }, 2);
  return join(folder, name) as OutputPath;
}

/** A name for an archive's entry: the same rule. */
export function entryName(name: string): string {
  if (!isFileName(name)) throw new UserError('not-an-output', { name });
  return name;
}

/** Throws UserError before any work is done where a file is there already and `force` is not given, where a folder stands in a
 *  file's place, and where the folder cannot be made or written to. */
export function refuseToOverwrite(paths: readonly OutputPath[], force: boolean): void {
  for (const path of paths) {
    // not followed: a link that leads nowhere is something in the file's place too
    const there = lstatOf(path);
    if (there?.isDirectory()) throw new UserError('is-a-folder-there', { path }, 2);
    if (there && !force) throw new UserError('is-there-already', { path }, 2);
  }
  for (const folder of new Set(paths.map((p) => dirname(p)))) {
    const nearest = nearestFolder(folder);
    try {
      accessSync(nearest, constants.W_OK | constants.X_OK);
    } catch (e) {
      throw new UserError('cannot-write', { folder, why: whySystem(e) }, 2);
    }
  }
}

/** The folder itself, or the nearest above it that is there. Throws UserError where that is a file. */
function nearestFolder(folder: string): string {
  for (let at = resolve(folder); ; at = dirname(at)) {
    let info: Stats | undefined;
    try {
      info = statSync(at, { throwIfNoEntry: false });
    } catch (e) {
      if ((e as NodeJS.ErrnoException).code !== 'ENOTDIR')
        throw new UserError('cannot-write', { folder, why: whySystem(e) }, 2);
    }
    if (info?.isDirectory()) return at;
    // a link that leads nowhere is no place for a folder either
    if (info ?? lstatOf(at)) throw new UserError('out-is-a-file', { folder, path: at }, 2);
    if (at === dirname(at)) throw new UserError('cannot-write', { folder, why: 'it is not there' }, 2);
  }
}

/** What has a name, links not followed. */
function lstatOf(path: string): Stats | undefined {
  try {
    return lstatSync(path, { throwIfNoEntry: false });
  } catch {
    return undefined;
  }
}

/** Makes a folder and those above it, one by one: where the system makes up folders of its own, making all at once never ends. */
export async function makeFolder(folder: string, mode = 0o777): Promise<void> {
  const missing: string[] = [];
  const nearest = nearestFolder(folder);
  for (let at = resolve(folder); at !== nearest; at = dirname(at)) missing.unshift(at);
  for (const at of missing)
    try {
      await mkdir(at, { mode });
      // what is written into it later is on the disk only if the folder's own name is
      await syncFolder(dirname(at));
    } catch (e) {
      if ((e as NodeJS.ErrnoException).code !== 'EEXIST')
        throw new UserError('cannot-write', { folder, why: whySystem(e) }, 2);
    }
}

/** What is under way: nobody can know its name beforehand, and its end is what is swept away after a crash. */
const temporaryIn = (folder: string): string => join(folder, `.${randomBytes(9).toString('hex')}.part`);

/** Writes a new file that no link leads to, and waits until the disk has it. */
async function writeNew(path: string, data: string | Uint8Array, mode: number): Promise<void> {
  const file = await open(path, 'wx', mode);
  try {
    await file.writeFile(data);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Waits until the disk knows the folder's names. Windows has no such call and needs none. */
export async function syncFolder(folder: string): Promise<void> {
  try {
    const file = await open(folder, 'r');
    await file.sync().finally(() => file.close());
  } catch (e) {
    const { code } = e as NodeJS.ErrnoException;
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL', 'ENOTSUP', 'EBADF'].includes(code ?? '')) throw e;
  }
}

/** Waits until the disk has all that lies in a folder, which was copied there or written by others than this file. */
export async function syncTree(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) await syncTree(path);
    else if (entry.isFile()) await syncFile(path);
  }
  await syncFolder(folder);
}

/** Windows waits only for what was opened for writing. */
async function syncFile(path: string): Promise<void> {
  const file = await open(path, 'r+');
  await file.sync().finally(() => file.close());
}

/** Gives what was made beside it, a file or a folder, its name, once the disk has all of it; the disk knows the name then. */
export async function nameWhole(part: string, path: string): Promise<void> {
  if (lstatOf(part)?.isDirectory()) await syncTree(part);
  else await syncFile(part);
  await rename(part, path);
  await syncFolder(dirname(path));
}

/** Writes one file of the program's own, whole or not at all, in place of what is there. */
export async function writeWhole(path: string, data: string | Uint8Array, mode = 0o666): Promise<void> {
  const part = temporaryIn(dirname(path));
  try {
    await writeNew(part, data, mode);
    await rename(part, path);
    await syncFolder(dirname(path));
  } catch (e) {
    await rm(part, { force: true });
    throw e;
  }
}

/** Gives a finished file its name where nothing has it. Throws EEXIST where something has. */
async function nameNew(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch (e) {
    const { code } = e as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw e;
    // a disk without links: the name is taken by an empty file first
    await (await open(to, 'wx')).close();
    await rename(from, to);
    return;
  }
  await rm(from);
}

/** Writes all files or none of them. Without `force` nothing is replaced, also not what came since `refuseToOverwrite`. */
export async function writeOutputs(files: ReadonlyMap<OutputPath, Uint8Array>, force: boolean): Promise<void> {
  const made: { readonly from: string; readonly to: OutputPath }[] = [];
  const named: OutputPath[] = [];
  let at: OutputPath | undefined;
  try {
    for (const [path, bytes] of files) {
      at = path;
      await makeFolder(dirname(path));
      if (lstatOf(path)?.isDirectory()) throw new UserError('is-a-folder-there', { path }, 2);
      const from = temporaryIn(dirname(path));
      made.push({ from, to: path });
      await writeNew(from, bytes, 0o666);
    }
    for (const { from, to } of made) {
      at = to;
      if (force) await rename(from, to);
      else await nameNew(from, to);
      named.push(to);
    }
    for (const folder of new Set(made.map(({ to }) => dirname(to)))) await syncFolder(folder);
  } catch (e) {
    await Promise.all(made.map(({ from }) => rm(from, { force: true })));
    // what was named is new where nothing was replaced
    if (!force) await Promise.all(named.map((path) => rm(path, { force: true })));
    if (e instanceof UserError) throw e;
    if ((e as NodeJS.ErrnoException).code === 'EEXIST') throw new UserError('came-meanwhile', { path: at! }, 2);
    throw new UserError('cannot-write', { folder: dirname(at!), why: whySystem(e) });
  }
}
