// A page's or a series' folder -> what of it is whole, what was brought back to its last whole step, and what is lost. Nothing is
// taken away: a step that cannot be read stays where it is, and only leaves the way back and forward.
import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readBlock } from '../block.ts';
import { checkBlock } from '../check/check-block.ts';
import { writeWhole } from '../files.ts';
import { takeLock } from '../folder-lock.ts';
import { UserError } from '../problems/problem.ts';
import { BLOCK_FILES } from '../series/block-folder.ts';
import { mm } from '../units.ts';

export interface Verified {
  readonly whole: string[];
  readonly mended: { readonly name: string; readonly says: string }[];
  readonly lost: { readonly name: string; readonly says: string }[];
}

/** Throws UserError where it is neither, or in use. */
export async function verifyFolder(folder: string): Promise<Verified> {
  const found: Verified = { whole: [], mended: [], lost: [] };
  const isPage = existsSync(join(folder, 'works'));
  if (!isPage && !existsSync(join(folder, 'series.json'))) throw new UserError('nothing-to-verify', { folder }, 2);
  const path = join(folder, isPage ? 'lock.json' : '.lock.json');
  const lock = await takeLock(path);
  if ('holder' in lock) throw new UserError('verify-in-use', { folder, file: path }, 2);
  try {
    if (isPage)
      for (const id of await namesIn(join(folder, 'works'))) await verifyWork(join(folder, 'works', id), id, found);
    else for (const name of await namesIn(folder)) if (/^\d\d+ /.test(name)) await verifyBlock(folder, name, found);
  } finally {
    await lock.release();
  }
  return found;
}

const namesIn = async (folder: string): Promise<string[]> =>
  (await readdir(folder, { withFileTypes: true }))
    .filter((f) => f.isDirectory() && !/\.(part|old)$/.test(f.name))
    .map((f) => f.name)
    .sort();

interface WorkFile {
  readonly line: readonly number[];
  readonly at: number;
  readonly revision: number;
}

async function verifyWork(folder: string, id: string, found: Verified): Promise<void> {
  const isStep = async (n: number): Promise<boolean> => {
    try {
      const step = JSON.parse(await readFile(join(folder, 'steps', `${String(n).padStart(4, '0')}.json`), 'utf8'));
      if (step.number !== n || typeof step.settings !== 'object' || step.settings === null) return false;
      return !step.block || soundBlock(JSON.stringify(step.block));
    } catch {
      return false;
    }
  };
  let file: WorkFile | undefined;
  try {
    file = JSON.parse(await readFile(join(folder, 'work.json'), 'utf8')) as WorkFile;
    if (!Array.isArray(file.line) || !(file.at >= 0 && file.at < file.line.length)) file = undefined;
  } catch {
    // said below
  }
  if (!file) return void found.lost.push({ name: id, says: 'work.json cannot be read' });
  const sound = await Promise.all(file.line.map(isStep));
  if (sound.every(Boolean)) return void found.whole.push(id);
  const at = sound.lastIndexOf(true, file.at);
  if (at < 0) {
    const says = existsSync(join(folder, 'picture'))
      ? 'no step is whole; the page begins anew from its picture'
      : 'no step is whole';
    return void found.lost.push({ name: id, says });
  }
  const line = file.line.filter((_, i) => sound[i]);
  const next = { ...file, line, at: line.indexOf(file.line[at]!), revision: file.revision + 1 };
  await writeWhole(join(folder, 'work.json'), `${JSON.stringify(next)}\n`, 0o600);
  const gone = file.line.filter((_, i) => !sound[i]);
  found.mended.push({ name: id, says: `it stands at step ${file.line[at]}; step ${gone.join(', ')} cannot be read` });
}

async function verifyBlock(folder: string, name: string, found: Verified): Promise<void> {
  const own = join(folder, name);
  const stem = name.replace(/^\d+ /, '');
  try {
    JSON.parse(await readFile(join(own, 'made.json'), 'utf8'));
    const missing = BLOCK_FILES.filter((f) => !existsSync(join(own, `${stem}.${f}`)));
    if (!missing.length && soundBlock(await readFile(join(own, `${stem}.block.json`), 'utf8')))
      return void found.whole.push(name);
  } catch {
    // said below
  }
  found.lost.push({ name, says: 'it is not whole; the same series, gone on with, makes it again' });
}

const soundBlock = (text: string): boolean => {
  try {
    return checkBlock(readBlock(text, 'the block'), { smallest: mm(0) }).faults.length === 0;
  } catch {
    return false;
  }
};
