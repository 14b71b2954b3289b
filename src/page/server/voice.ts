// How the page speaks of settings: by the names of its controls.
import { UserError, type Voice, wordProblem } from '../../problems/problem.ts';
import { FIELDS } from '../../settings/fields.ts';

export const PAGE: Voice = {
  field: (name) => (FIELDS as Readonly<Record<string, { title: string }>>)[name]?.title ?? capital(name),
  set: (name, value) => `${PAGE.field(name)}: ${value}`,
  command: (words) => `the command "seamwright ${words}"`,
};

const capital = (name: string): string => name[0]!.toUpperCase() + name.slice(1);

/** What went wrong, in the page's words. */
export const inPageWords = (error: Error): string =>
  error instanceof UserError ? wordProblem(error, PAGE) : error.message;
