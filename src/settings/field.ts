// What an entry in the table of settings says.
import type { Level } from '../levels.ts';
import type * as kinds from './kinds.ts';

/** The stages in the order of the data. `see` is what several numbers of shades have in common. */
export const STAGES = ['read', 'figure', 'see', 'shade', 'fit', 'number', 'print'] as const;
export type Stage = (typeof STAGES)[number];

export interface Field<T> {
  readonly kind: kinds.Kind<T>;
  /** for each level, or for all */
  readonly preset: (level: Level) => T;
  /** the first stage that reads it; those after it may read it too */
  readonly stage: Stage;
  /** where an earlier stage reads only a part of it: what of it */
  readonly earlier?: { readonly stage: Stage; readonly part: (value: T) => unknown };
  /** what people call it; on the page the name of its control */
  readonly title: string;
  /** one line for --help, JSON Schemas and series files */
  readonly help: string;
  /** how it is set in words, without dashes; absent where it is set in other ways */
  readonly option?: string;
  /** another placeholder than its kind has */
  readonly placeholder?: string;
  /** one for a series as a whole, not for single pictures */
  readonly forAll?: boolean;
  /** what of it is kept in the block file; undefined where nothing is */
  readonly kept?: (value: T) => unknown;
}
/** An entry of the table, with the type of its value. */
export const field = <T>(f: Field<T>): Field<T> => f;
export const always =
  <T>(value: T) =>
  (): T =>
    value;
export const itself = <T>(value: T): T => value;
/** kept where it is anything but what is found automatically */
export const unlessAuto = <T>(value: T): T | undefined => (value === 'auto' ? undefined : value);
