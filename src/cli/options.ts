// Options that several commands have, made of the table of settings, and how the words that were given become settings.

import { availableParallelism } from 'node:os';
import { basename, extname } from 'node:path';
import { type Command, Option } from 'commander';
import { LEVELS } from '../levels.ts';
import { localSettings } from '../locale.ts';
import { UserError } from '../problems/problem.ts';
import type { Field } from '../settings/field.ts';
import { fileName, readWords, whole } from '../settings/kinds.ts';
import {
  completeSettings,
  defaultSettings,
  type Fields,
  type SettingName,
  type Settings,
} from '../settings/settings.ts';
import { optionFields, settingsOfWords, type Words } from '../settings/words.ts';
import { type Mm, parseLength, type System } from '../units.ts';

/** Adds the options of these fields, or of all that have one; `help` says another sentence where the command means something else. */
export function addSettings(
  command: Command,
  names?: readonly SettingName[],
  help: Partial<Record<SettingName, string>> = {},
  fields?: Fields,
): Command {
  for (const [name, option, field] of optionFields(fields)) {
    if (names && !names.includes(name as SettingName)) continue;
    command.addOption(optionFor(option, field, help[name as SettingName]));
  }
  return command;
}

function optionFor(option: string, field: Field<unknown>, help = field.help): Option {
  const words = field.kind.words!;
  const placeholder = field.placeholder ?? (words.choices ? `<${option}>` : words.placeholder);
  const made = new Option(`--${option}${placeholder ? ` ${placeholder}` : ''}`, help);
  if (words.choices) {
    made.choices(words.choices);
    // said in the help alone: what was not given is not set
    made.default(undefined, String(field.preset('intermediate')));
    if (option === 'units') made.default(undefined);
  }
  if (words.many) made.argParser((value: string, before: string[] = []) => [...before, value]);
  return made;
}

/** What a call sets; paper and units are those of the locale where they were not given, the name is the file's. Throws UserError. */
export function settingsOf(words: Words, file: string): Settings {
  const set = settingsOfWords(words);
  return completeSettings({
    ...localOf(words),
    ...set,
    name: set.name ?? checkName(basename(file, extname(file)).replace(/\.(regions|block)$/, '')),
  });
}

/** Paper and units of the locale, or the unit that the size was given in, and what goes with them. */
export const localOf = ({ units, size, level }: Words): ReturnType<typeof localSettings> =>
  localSettings(
    units as System | undefined,
    typeof size === 'string' ? size : undefined,
    LEVELS.find((l) => l === level),
  );

/** A name, fit to name files. Throws UserError. */
export const checkName = (name: string): string => readWords(fileName, name, 'name');

export const wholeNumber = (text: string, field: string, least: number, most: number): number =>
  readWords(whole(least, most), text, field);

/** A length with its unit; one below zero is named as such. */
export function lengthOf(text: string, field: string): Mm {
  if (/^\s*[-−]/.test(text)) throw new UserError('length-under-zero', { field, value: text }, 2);
  return parseLength(text, field);
}

/** Lengths with commas between them; a unit after the last stands for all: "2in,4in" or "1 1/2, 2, 2 1/2 in". */
export function lengthsOf(text: string, field: string): Mm[] {
  const parts = text.split(',').map((s) => s.trim());
  const unit = /[a-z"″]+$/i.exec(parts.at(-1)!)?.[0] ?? '';
  return parts.map((p) => lengthOf(/[a-z"″]$/i.test(p) ? p : `${p}${unit}`, field));
}

/** A share: "10%" or "0". */
export function shareOf(text: string, field: string): number {
  const m = /^\s*(\d+(?:\.\d+)?)\s*(%?)\s*$/.exec(text);
  const value = m ? Number(m[1]) : Number.NaN;
  if (!(value <= 100) || (!m![2] && value !== 0)) throw new UserError('not-a-share', { field, value: text }, 2);
  return value / 100;
}

/** A number of zero or more, with a point or a comma: "11.99". */
export function decimal(text: string, field: string): number {
  const value = /^\s*\d+(?:[.,]\d+)?\s*$/.test(text) ? Number(text.trim().replace(',', '.')) : Number.NaN;
  if (!Number.isFinite(value)) throw new UserError('not-a-number', { field, value: text }, 2);
  return value;
}

/** Worker threads where none are asked for: one a core, few enough for the memory of a small machine. */
export const defaultWorkers = (): number => Math.max(1, Math.min(4, availableParallelism()));

export const presetOf = <K extends SettingName>(name: K): Settings[K] => defaultSettings()[name];
