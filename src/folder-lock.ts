// One program a folder: a lock file that names the process, taken over from one that is gone.
import { randomBytes } from 'node:crypto';
import { link, lstat, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { UserError } from './problems/problem.ts';

export interface Holder {
  readonly pid: number;
  readonly address?: string;
}

const TRIES = 5;

/** what this process has itself, whichever of its bundles took it: after a restart another may have had its number */
const HELD = Symbol.for('seamwright locks');
const everywhere = globalThis as { [HELD]?: Set<string> };
everywhere[HELD] ??= new Set<string>();
const held = everywhere[HELD];

/** Takes the lock, or says who has it. Throws UserError where what lies there is no lock, and what the system refuses. */
export async function takeLock(
  path: string,
  isHeld: (other: Holder) => Promise<boolean> = isAlive,
): Promise<{ release(): Promise<void> } | { holder: Holder }> {
  const key = resolve(path);
  const own = `${path}.${process.pid}-${randomBytes(4).toString('hex')}.part`;
  await writeFile(own, JSON.stringify({ pid: process.pid }), { mode: 0o600, flag: 'wx' });
  try {
    for (let i = 0; i < TRIES; i++) {
      try {
        // unlike a rename, this fails where there is one already
        await link(own, path);
        held.add(key);
        return {
          release: async () => {
            held.delete(key);
            await rm(path, { force: true });
          },
        };
      } catch (e) {
        if ((e as NodeJS.ErrnoException).code !== 'EEXIST') throw e;
      }
      if ((await lstat(path).catch(() => undefined))?.isDirectory()) break;
      const text = await readFile(path, 'utf8').catch(() => '');
      const holder = readHolder(text);
      if (holder && (holder.pid === process.pid ? held.has(key) : await isHeld(holder))) return { holder };
      await takeAway(path, text);
    }
  } finally {
    await rm(own, { force: true });
  }
  throw new UserError('cannot-take-over', { path }, 2);
}

function readHolder(text: string): Holder | undefined {
  try {
    const { pid, address } = (JSON.parse(text) ?? {}) as Partial<Holder>;
    return Number.isInteger(pid) && pid! > 0
      ? { pid: pid!, ...(typeof address === 'string' && { address }) }
      : undefined;
  } catch {
    return undefined;
  }
}

/** Whether a process of that number runs. */
export async function isAlive({ pid }: Holder): Promise<boolean> {
  try {
    process.kill(pid, 0);
    return true;
  } catch (e) {
    return (e as NodeJS.ErrnoException).code !== 'ESRCH';
  }
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
