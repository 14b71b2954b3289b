// What a sewer's level sets, unless single options say otherwise. House rules; lengths in mm.
import { inches, type Mm } from './units.ts';

export const LEVELS = ['beginner', 'intermediate', 'advanced'] as const;
export type Level = (typeof LEVELS)[number];

export interface LevelDefaults {
  readonly size: Mm;
  readonly shades: number;
  readonly pieces: number;
  readonly smallest: Mm;
  /** most pieces in a section */
  readonly mostPieces: number;
  /** beyond the allowance on each side of a patch */
  readonly slack: Mm;
}

export const LEVEL_DEFAULTS: Record<Level, LevelDefaults> = {
  beginner: { size: inches(12), shades: 4, pieces: 30, smallest: inches(3 / 4), mostPieces: 7, slack: inches(1 / 2) },
  intermediate: {
    size: inches(12),
    shades: 5,
    pieces: 80,
    smallest: inches(1 / 2),
    mostPieces: 10,
    slack: inches(1 / 4),
  },
  advanced: { size: inches(15), shades: 7, pieces: 140, smallest: inches(3 / 8), mostPieces: 14, slack: inches(1 / 4) },
};

/** Finished widths under the first are refused, under the second warned of. */
export const REFUSED_WIDTH = inches(1 / 4);
export const WARNED_WIDTH = inches(3 / 8);
