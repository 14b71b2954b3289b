// What a pool and its threads say to each other: plain data.
import { asUserError, type Problem, problemOf } from '../problems/problem.ts';

/** What a thread is started with: names of jobs whose code it loads at once, and after its first answer. */
export interface Ready {
  readonly now: readonly string[];
  readonly afterFirst: readonly string[];
}

/** `stop` holds one number: anything but 0 asks the job to leave off. */
export interface JobOrder {
  readonly name: string;
  readonly input: unknown;
  readonly stop: SharedArrayBuffer;
}

export type Said =
  | { readonly kind: 'progress'; readonly stage: string; readonly share: number }
  | { readonly kind: 'part'; readonly part: unknown }
  | { readonly kind: 'answer'; readonly answer: unknown }
  | { readonly kind: 'failed'; readonly failure: Failure }
  /** it left off because it was asked to */
  | { readonly kind: 'stopped' };

/** An error as plain data: what crosses between threads as an Error loses its class and its fields. */
export interface Failure {
  readonly message: string;
  /** only where the user can mend it */
  readonly problem?: Problem;
  readonly stack?: string;
}

export function toFailure(thrown: unknown): Failure {
  if (!(thrown instanceof Error)) return { message: String(thrown) };
  const { message, stack } = thrown;
  const problem = problemOf(thrown);
  return { message, ...(problem && { problem }), ...(stack !== undefined && { stack }) };
}

/** A UserError where the user can mend it, else an Error; with the stack of the thread where it was thrown. */
export function toError({ message, problem, stack }: Failure): Error {
  return Object.assign(problem ? asUserError(problem) : new Error(message), stack !== undefined && { stack });
}
