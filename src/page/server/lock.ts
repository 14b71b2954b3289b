// One program a folder of works: a lock file that names the process, taken over from one that is gone. Beside it the key and
// the port of the page's address, so that a page left open finds the program again.
import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeFolder, writeWhole } from '../../files.ts';
import { type Holder, isAlive, takeLock } from '../../folder-lock.ts';
import { whySystem } from '../../problems/errno.ts';
import { UserError } from '../../problems/problem.ts';

export interface Lock {
  /** says where the page is, for the next one that comes */
  name(address: string): Promise<void>;
  release(): Promise<void>;
}

/** Throws UserError where another program that is running has the folder. */
export async function lockFolder(folder: string): Promise<Lock> {
  const path = join(folder, 'lock.json');
  await makeFolder(folder, 0o700).catch((e: Error) => {
    throw new UserError('cannot-make-folder', { folder, why: whyNot(e) }, 2);
  });
  const taken = await takeLock(path, isHeld).catch((e: Error) => {
    if (e instanceof UserError) throw e;
    throw new UserError('cannot-write-folder', { folder, why: whySystem(e) }, 2);
  });
  if ('release' in taken)
    return {
      name: (address) => writeWhole(path, JSON.stringify({ pid: process.pid, address }), 0o600),
      release: taken.release,
    };
  const { pid, address } = taken.holder;
  if (pid === process.pid) throw new UserError('folder-in-use', { folder }, 2);
  throw new UserError('folder-has-page', { folder, ...(address && { address }) }, 2);
}

const whyNot = (e: Error): string =>
  e instanceof UserError && typeof e.values.why === 'string' ? e.values.why : whySystem(e);

/** A number may since belong to another program: one that has said where its page is must answer there. */
async function isHeld(holder: Holder): Promise<boolean> {
  if (!(await isAlive(holder))) return false;
  const { address } = holder;
  if (!address?.startsWith('http://127.0.0.1:')) return true;
  return fetch(`${address}api/works`, { signal: AbortSignal.timeout(3000) }).then(
    (r) => r.ok,
    (e: Error) => e.name === 'TimeoutError',
  );
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

export const writeAddress = (folder: string, address: Address): Promise<void> =>
  writeWhole(join(folder, 'address.json'), JSON.stringify(address), 0o600);
