// What several commands ask for, read in one way: numbers, names, paper, units.
import { availableParallelism } from 'node:os';
import { Option } from 'commander';
import { FILLS } from '../drawing/fill.ts';
import { isRoll, PAPER_NAMES, type Paper, parsePaper } from '../drawing/paper.ts';
import { UserError } from '../errors.ts';
import { type Mm, parseLength, type System } from '../units.ts';

const NAME_LENGTH = 80;

const locale = (): string =>
  process.env.LC_ALL ?? process.env.LC_PAPER ?? process.env.LANG ?? Intl.DateTimeFormat().resolvedOptions().locale;

/** Where people measure in inches and print on Letter. */
const isAmerican = (): boolean => /[-_](US|CA|MX|PH)\b/.test(locale());

export const paperOption = (): Option =>
  new Option(
    '--paper <paper>',
    `what is printed on: ${PAPER_NAMES.join(', ')}, or a size such as 13x19in (default: by locale)`,
  );
export const unitsOption = (): Option =>
  new Option('--units <units>', 'how lengths are written (default: as --size is given, else by locale)').choices([
    'inch',
    'metric',
  ]);

export const fillOption = (): Option =>
  new Option(
    '--fill <fill>',
    'what tells the fabrics apart on the templates: hatches, the colour pale or nearly as it is, or the code alone',
  )
    .choices(FILLS)
    .default('hatch');

/** The paper of a whole packet. Throws UserError for what is no paper, and for a roll. */
export function paperOf(given?: string): Paper {
  if (given === undefined) return isAmerican() ? 'letter' : 'a4';
  const paper = parsePaper(given, '--paper');
  if (isRoll(paper))
    throw new UserError(
      'A roll is for template sheets: give a paper of pages here, and print the templates on the roll with "seamwright sheets".',
      2,
    );
  return paper;
}

/** As it was asked for; else the unit of a size that was given; else what the locale is used to. */
export function systemOf(given?: System, size = ''): System {
  if (given) return given;
  if (/(in|inch|inches|"|″)\s*$/i.test(size)) return 'inch';
  if (/[cm]m\s*$/i.test(size)) return 'metric';
  return isAmerican() ? 'inch' : 'metric';
}

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

/** A length with its unit; one below zero is named as such. */
export function lengthOf(text: string, option: string): Mm {
  if (/^\s*[-−]/.test(text)) throw new UserError(`${option}: a length cannot be less than zero, and "${text}" is.`, 2);
  return parseLength(text, option);
}

/** Lengths with commas between them; a unit after the last stands for all: "2in,4in" or "1 1/2, 2, 2 1/2 in". */
export function lengthsOf(text: string, option: string): Mm[] {
  const parts = text.split(',').map((s) => s.trim());
  const unit = /[a-z"″]+$/i.exec(parts.at(-1)!)?.[0] ?? '';
  return parts.map((p) => lengthOf(/[a-z"″]$/i.test(p) ? p : `${p}${unit}`, option));
}

/** A share: "10%" or "0". */
export function shareOf(text: string, option: string): number {
  const m = /^\s*(\d+(?:\.\d+)?)\s*(%?)\s*$/.exec(text);
  const value = m ? Number(m[1]) : Number.NaN;
  if (!(value <= 100) || (!m![2] && value !== 0))
    throw new UserError(`${option}: "${text}" is not a share; write it like 10%, or 0 for none.`, 2);
  return value / 100;
}

/** A number of zero or more, with a point or a comma: "11.99". */
export function decimal(text: string, option: string): number {
  const value = /^\s*\d+(?:[.,]\d+)?\s*$/.test(text) ? Number(text.trim().replace(',', '.')) : Number.NaN;
  if (!Number.isFinite(value)) throw new UserError(`${option}: "${text}" is not a number of zero or more.`, 2);
  return value;
}

/** Worker threads where none are asked for: one a core, few enough for the memory of a small machine. */
export const defaultWorkers = (): number => Math.max(1, Math.min(4, availableParallelism()));
