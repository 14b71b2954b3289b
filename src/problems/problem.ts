// What a user did wrong: a code with its values. The sentence for people is made of them by whoever speaks to people, so that the
// command can name its option, the page its control and the library its field.
import { type Code, SENTENCES, type ValuesOf } from './sentences.ts';

/** How one shell speaks: what it calls the things that sentences name. */
export interface Voice {
  /** a field of the settings, or an argument, by its name in the program: "mostPieces" -> "--most" */
  field(name: string): string;
  /** a whole phrase that asks for a setting: ("background", "plain") -> "--background plain" */
  set(name: string, value: string): string;
  /** one of the program's commands: "check --repair" */
  command(words: string): string;
}

/** The library speaks of fields as they are written in code. */
export const LIBRARY: Voice = {
  field: (name) => name,
  set: (name, value) => `${name}: '${value}'`,
  command: (words) => `seamwright ${words}`,
};

/** 2: the call was wrong (an option, a missing file); 1: the call was right, the job could not be done; 130: stopped by hand. */
export type ExitCode = 1 | 2 | 130;

/** A problem as plain data: what crosses from one thread to another, and into JSON. */
export interface Problem {
  readonly code: Code;
  readonly values: Readonly<Record<string, unknown>>;
  readonly exitCode: ExitCode;
}

/** Thrown for what a user can mend. `message` is in the library's words; `wordProblem` gives another shell's. */
export class UserError<C extends Code = Code> extends Error implements Problem {
  override readonly name = 'UserError';
  readonly code: C;
  readonly values: ValuesOf<C> & Readonly<Record<string, unknown>>;
  readonly exitCode: ExitCode;
  constructor(code: C, values: ValuesOf<C>, exitCode: ExitCode = 1) {
    super(wordProblem({ code, values: values as Record<string, unknown> }, LIBRARY));
    this.code = code;
    this.values = values as ValuesOf<C> & Record<string, unknown>;
    this.exitCode = exitCode;
  }
}

/** One sentence, or two, in a shell's words. */
export function wordProblem({ code, values }: Pick<Problem, 'code' | 'values'>, voice: Voice): string {
  const sentence = (SENTENCES[code] as (values: unknown, voice: Voice) => string)(values, voice);
  const all = typeof values.about === 'string' ? `${values.about}: ${sentence}` : sentence;
  // names of files may hold line ends, with which they would say sentences of their own
  return all.replace(/[\r\n]+/g, ' ');
}

/** The same problem of one of several files: its sentence begins with the file's name. */
export const about = (file: string, { code, values, exitCode }: Problem): UserError =>
  new UserError(code, { ...values, about: file } as ValuesOf<Code>, exitCode);

/** The same problem, thrown again where it came from another thread. */
export const asUserError = ({ code, values, exitCode }: Problem): UserError =>
  new UserError(code, values as ValuesOf<Code>, exitCode);

/** What to hand on of an error: a problem as plain data, or nothing where it is a fault of the program. */
export const problemOf = (error: unknown): Problem | undefined =>
  error instanceof UserError ? { code: error.code, values: error.values, exitCode: error.exitCode } : undefined;
