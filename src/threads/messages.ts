// What a pool and its threads say to each other: plain data.
import { UserError } from '../errors.ts';

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
  readonly exitCode?: UserError['exitCode'];
  readonly code?: string;
  readonly values?: unknown;
  readonly stack?: string;
}

export function toFailure(thrown: unknown): Failure {
  if (!(thrown instanceof Error)) return { message: String(thrown) };
  const { message, stack, code, values } = thrown as Error & { readonly code?: unknown; readonly values?: unknown };
  return {
    message,
    ...(thrown instanceof UserError && { exitCode: thrown.exitCode }),
    ...(typeof code === 'string' && { code }),
    ...(values !== undefined && { values }),
    ...(stack !== undefined && { stack }),
  };
}

/** A UserError where the user can mend it, else an Error; with the stack of the thread where it was thrown. */
export function toError({ message, exitCode, ...more }: Failure): Error {
  return Object.assign(exitCode === undefined ? new Error(message) : new UserError(message, exitCode), more);
}
