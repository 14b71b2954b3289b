// The kinds of faults and how one is written down.
import type { Fault } from '../data.ts';
import { type Micro, toMm } from './exact.ts';

/** What can be wrong with a block. The text of a fault says it in words; programs compare the kind. */
export const FAULT_KINDS = [
  'size', // the block's own measures
  'fabric', // unknown or named twice
  'section', // named twice, or its pieces are not its outline
  'number', // not 1 … n
  'outline', // no area
  'not convex',
  'gap',
  'overlap',
  'outside',
  'seam', // no seam, in the wrong place, or not the whole edge
  'order', // what is sewn before does not let this piece be sewn
  'join',
  'too narrow',
  'short seam',
  'too many pieces',
  'too large', // for its sheet
] as const;
export type FaultKind = (typeof FAULT_KINDS)[number];

export const fault = (kind: FaultKind, at: Micro, text: string): Fault => ({ kind, at: toMm(at), text });

/** "A1", "A1 and B2", "A1, B2 and C3". */
export function list(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? 'the block') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
