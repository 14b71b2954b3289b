// Where a work begins: its first step, and a block's name from a file's; small things that steps are made with.
import { extname } from 'node:path';
import type { Block } from '../../block.ts';
import { fileName } from '../../settings/kinds.ts';
import type { Settings, WorkCloth } from '../api.ts';
import type { Opened } from './jobs.ts';
import type { Step } from './keep.ts';
import { settingsOfBlock } from './settings.ts';

export const sameKeys = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((k) => b.includes(k));

export function firstStep(found: Opened, settings: Settings): Step {
  const own = { number: 1, did: 'the beginning', notes: [], minds: [], shown: {} };
  if (found.kind === 'picture') return { ...own, settings, by: 'picture' };
  const { block, summary, minds } = found;
  return { ...own, settings: settingsOfBlock(block, blockName(block.name)), by: 'file', block, summary, minds };
}

export const fabricOf = (block: Block, name: string): Block['fabrics'][number] => {
  const wanted = name.trim().toLowerCase();
  return block.fabrics.find((f) => [f.code, f.name, f.id].some((t) => t.toLowerCase() === wanted))!;
};

export function dressed(
  fabric: Block['fabrics'][number],
  { name, colour, print }: WorkCloth,
): Block['fabrics'][number] {
  const { print: _, ...rest } = fabric;
  return { ...rest, name, colour, ...(print && { print }) };
}

/** A file's name as a block's: without its ending, and short enough. */
export function blockName(file: string): string {
  const plain = file
    .replace(/^.*[/\\]/, '')
    .replace(/\.block\.json$/i, '')
    .trim();
  const stem = plain.slice(0, plain.length - extname(plain).length) || plain;
  const short = [...stem].slice(0, 80).join('').replaceAll('\0', '');
  return fileName.schema.safeParse(short).success ? short : 'block';
}
