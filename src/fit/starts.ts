// Several fits of one shading that start differently, and which of them is kept.
import type { Effort } from './fit-cuts.ts';

export interface Start {
  readonly seed: number;
  /** share of the moves that the effort stands for */
  readonly moves: number;
  /** how many times the usual price seams inside the ground have */
  readonly calm: number;
}

/** What a start came to, and which was kept. */
export interface Score {
  readonly seed: number;
  readonly calm: number;
  /** per cent of the block's area; the smaller the better: see scoreOf */
  readonly score: number;
  readonly misplaced: number;
  readonly pieces: number;
  readonly sections: number;
  readonly kept: boolean;
}

/** added to the second and third seed: any large odd number */
const SEED_STEP = 0x9e3779b1;

/** One start where there is little time. Of the whole block one long run and two short ones, of which one has a calmer ground: long runs are
 *  better than many. A mirrored half is soon cut, and chance does more to it: three alike. */
export function startsOf(effort: Effort, seed: number, mirrored: boolean): Start[] {
  const first = { seed, moves: 1, calm: 1 };
  if (effort === 'glance' || effort === 'quick') return [first];
  const seeds = [1, 2].map((n) => (seed + n * SEED_STEP) | 0) as [number, number];
  if (mirrored) return [seed, ...seeds].map((s) => ({ seed: s, moves: MIRRORED_SHARE, calm: 1 }));
  return [first, { seed: seeds[0], moves: SHORT_SHARE, calm: 1 }, { seed: seeds[1], moves: SHORT_SHARE, calm: 2.5 }];
}
const MIRRORED_SHARE = 0.5;
const SHORT_SHARE = 0.15;

/** per cent of the block that a feature which does not show is worth */
const LOST_FEATURE = 3;

/** What a fit costs at the usual prices, in per cent of the block's area: cells in the wrong fabric by their weight, sections, slivers, sharp
 *  corners, seam ends that nearly meet, points to match, seams inside the ground and beside features in their own fabric; and
 *  features that do not show. `total` in weight, of `cells` cells that weigh `weight` on average, by `unit`. */
export const scoreOf = (total: number, cells: number, weight: number, unit: number, lost: number): number =>
  (100 * total) / (cells * weight * unit) + LOST_FEATURE * lost;

/** The least; of equal ones the first. */
export const bestOf = (scores: readonly number[]): number => scores.indexOf(Math.min(...scores));
