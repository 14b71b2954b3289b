// One program a folder of works: a lock file that names the process, taken over from one that is gone. Beside it the key and
// the port of the page's address, so that a page left open finds the program again.
import { randomBytes } from 'node:crypto';
import { link, mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeWhole } from '../../files.ts';
import { UserError } from '../../problems/problem.ts';

interface Holder {
  readonly pid: number;
  readonly address?: string;
}

export interface Lock {
  /** says where the page is, for the next one that comes */
  name(address: string): Promise<void>;
  release(): Promise<void>;
}

const TRIES = 5;

/** Throws UserError where another program that is running has the folder. */
export async function lockFolder(folder: string): Promise<Lock> {
  const path = join(folder, 'lock.json');
  await mkdir(folder, { recursive: true, mode: 0o700 }).catch((e: Error) => {
    throw new UserError('cannot-make-folder', { folder, why: e.message }, 2);
  });
  const own = `${path}.${process.pid}-${randomBytes(4).toString('hex')}.part`;
  const holder: Holder = { pid: process.pid };
  try {
    await writeFile(own, JSON.stringify(holder), { mode: 0o600 });
  } catch (e) {
    throw new UserError('cannot-write-folder', { folder, why: (e as Error).message }, 2);
  }
  try {
    for (let i = 0; i < TRIES; i++) {
      try {
        // unlike a rename, this fails where there is one already
        await link(own, path);
        return {
          name: (address) => writeWhole(path, JSON.stringify({ ...holder, address })),
          release: () => rm(path, { force: true }),
        };
      } catch (e) {
        if ((e as NodeJS.ErrnoException).code !== 'EEXIST') throw e;
      }
      const text = await readFile(path, 'utf8').catch(() => '');
      const other = readHolder(text);
      if (other && other.pid !== process.pid && (await isHeld(other)))
        throw new UserError('folder-has-page', { folder, ...(other.address && { address: other.address }) }, 2);
      if (other?.pid === process.pid) throw new UserError('folder-in-use', { folder }, 2);
      await takeAway(path, text);
    }
  } finally {
    await rm(own, { force: true });
  }
  throw new UserError('cannot-take-over', { path }, 2);
}

function readHolder(text: string): Holder | undefined {
  try {
    const { pid, address } = JSON.parse(text) as Partial<Holder>;
    return Number.isInteger(pid) && pid! > 0 ? { pid: pid!, ...(address && { address }) } : undefined;
  } catch {
    return undefined;
  }
}

/** A number may since belong to another program: one that has said where its page is must answer there. */
async function isHeld({ pid, address }: Holder): Promise<boolean> {
  try {
    process.kill(pid, 0);
  } catch (e) {
    if ((e as NodeJS.ErrnoException).code === 'ESRCH') return false;
  }
  if (!address?.startsWith('http://127.0.0.1:')) return true;
  return fetch(`${address}api/works`, { signal: AbortSignal.timeout(3000) }).then(
    (r) => r.ok,
    (e: Error) => e.name === 'TimeoutError',
  );
}

/** Only the lock that was judged: one that has just been taken by somebody else is put back. */
async function takeAway(path: string, text: string): Promise<void> {
  const aside = `${path}.${randomBytes(4).toString('hex')}.old`;
  try {
    await rename(path, aside);
  } catch {
    return;
  }
  if ((await readFile(aside, 'utf8').catch(() => '')) !== text) await link(aside, path).catch(() => {});
  await rm(aside, { force: true });
}

export interface Address {
  readonly key: string;
  readonly port: number;
}

const KEY = /^[A-Za-z0-9_-]{32}$/;

/** The key of this folder, and the port that its page had last. */
export async function readAddress(folder: string): Promise<Address> {
  try {
    const { key, port } = JSON.parse(await readFile(join(folder, 'address.json'), 'utf8')) as Address;
    if (KEY.test(key) && Number.isInteger(port) && port >= 0 && port < 65536) return { key, port };
  } catch {
    // the first time
  }
  return { key: randomBytes(24).toString('base64url'), port: 0 };
}

export async function writeAddress(folder: string, address: Address): Promise<void> {
  const path = join(folder, 'address.json');
  const part = `${path}.part`;
  await writeFile(part, JSON.stringify(address), { mode: 0o600 });
  await rename(part, path);
}
