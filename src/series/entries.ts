// The pictures of a series: which files of a folder they are, what each is called, and what its block is made from.
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { extname } from 'node:path';
import { outputPath } from '../files.ts';
import { asFileName, plainText } from '../names.ts';
import { UserError } from '../problems/problem.ts';
import { keyOfStage, type Settings } from '../settings/settings.ts';

export interface Entry {
  /** stays the same when pictures are added */
  readonly number: number;
  /** file name in the series' folder */
  readonly file: string;
  readonly sha256: string;
  readonly settings: Settings;
}

/** Files that lie beside pictures and are none. */
const NOT_PICTURES = /\.(ya?ml|json|txt|md|csv|pdf|zip|ini|db|docx?|xlsx?)$/i;
/** Raised when blocks come out otherwise for the same picture and settings. */
const FORMAT = 2;

/** The picture files of a folder, by name as people order them: cat 2 before cat 10. */
export async function pictureFiles(folder: string): Promise<string[]> {
  let all: import('node:fs').Dirent[];
  try {
    all = await readdir(folder, { withFileTypes: true });
  } catch {
    throw new UserError('no-folder', { folder }, 2);
  }
  const files = all
    .filter((f) => f.isFile() && !f.name.startsWith('.') && !NOT_PICTURES.test(f.name))
    .map((f) => f.name);
  if (!files.length) throw new UserError('no-pictures', { folder }, 2);
  const order = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });
  return files.sort((a, b) => order.compare(a, b) || (a < b ? -1 : 1));
}

/** Numbers of files: those that have one keep it, new ones go on. */
export function numberFiles(files: readonly string[], known: Readonly<Record<string, number>>): Map<string, number> {
  let next = Math.max(0, ...Object.values(known)) + 1;
  return new Map(files.map((f) => [f, known[f] ?? next++]));
}

/** What a block may be called at most. */
const LONGEST_NAME = 80;

/** What a picture's block is called: its file's name, as far as it shows and can name files anywhere. */
export function blockName(file: string): string {
  let name = '';
  for (const c of asFileName(plainText(file.slice(0, file.length - extname(file).length).trim() || file)))
    if (name.length + c.length <= LONGEST_NAME) name += c;
  return name.trim();
}

export async function hashFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer);
  return hash.digest('hex');
}

const hashOf = (...parts: readonly unknown[]): string =>
  createHash('sha256')
    .update(JSON.stringify([FORMAT, ...parts]))
    .digest('hex');

/** What a picture's shades depend on. */
export const shadeKey = ({ sha256, settings }: Entry): string => hashOf(sha256, keyOfStage('shade', settings));

/** What a block depends on, besides its edition. */
export const makeKey = (entry: Entry, fabrics: readonly unknown[], own: boolean): string =>
  hashOf(entry.sha256, entry.number, keyOfStage('print', entry.settings), fabrics, own);

/** "03 pepper" */
export const folderOf = (out: string, { number, settings }: Pick<Entry, 'number' | 'settings'>): string =>
  outputPath(out, `${String(number).padStart(2, '0')} ${settings.name}`);
