// How the command line speaks of settings: by its options.
import type { Voice } from '../problems/problem.ts';
import { FIELDS } from '../settings/fields.ts';

const dashed = (name: string): string => name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);

/** "mostPieces" -> "--most", "bindingJoin" -> "--binding-join" */
export const optionOf = (name: string): string =>
  `--${(FIELDS as Readonly<Record<string, { option?: string }>>)[name]?.option ?? dashed(name)}`;

export const COMMAND_LINE: Voice = {
  field: optionOf,
  set: (name, value) => `${optionOf(name)} ${value}`,
  command: (words) => `seamwright ${words}`,
};
