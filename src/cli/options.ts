// What several commands ask for, read in one way: numbers, names, paper, units.
import { Option } from 'commander';
import { FILLS } from '../drawing/fill.ts';
import { PAPER_NAMES, type Paper } from '../drawing/paper.ts';
import { UserError } from '../errors.ts';
import type { System } from '../units.ts';

const NAME_LENGTH = 80;

const locale = (): string =>
  process.env.LC_ALL ?? process.env.LC_PAPER ?? process.env.LANG ?? Intl.DateTimeFormat().resolvedOptions().locale;

/** Where people measure in inches and print on Letter. */
const isAmerican = (): boolean => /[-_](US|CA|MX|PH)\b/.test(locale());

export const paperOption = (): Option =>
  new Option('--paper <paper>', 'what the templates are printed on (default: by locale)').choices(PAPER_NAMES);
export const unitsOption = (): Option =>
  new Option('--units <units>', 'how lengths are written (default: by locale)').choices(['inch', 'metric']);

export const fillOption = (): Option =>
  new Option(
    '--fill <fill>',
    'what tells the fabrics apart on the templates: hatches, the colour pale or nearly as it is, or the code alone',
  )
    .choices(FILLS)
    .default('hatch');

export const paperOf = (given?: Paper): Paper => given ?? (isAmerican() ? 'letter' : 'a4');
export const systemOf = (given?: System): System => given ?? (isAmerican() ? 'inch' : 'metric');

/** A block's name, fit to name its files. Throws UserError. */
export function nameOf(name: string): string {
  if (!name.trim() || name.length > NAME_LENGTH || /[/\\\0]/.test(name))
    throw new UserError(`--name: choose a name of 1 to ${NAME_LENGTH} characters without / and \\.`, 2);
  return name;
}

export function wholeNumber(text: string, option: string, least: number, most: number): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < least || n > most)
    throw new UserError(`${option}: "${text}" is not a whole number from ${least} to ${most}.`, 2);
  return n;
}
