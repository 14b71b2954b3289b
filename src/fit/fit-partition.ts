// 3. Shading -> Partition. The pieces: cuts are grown along the label borders, annealed as one tree, and laid on the grid of
// 1 micrometre. As little of the picture in the wrong fabric as possible, for as few sections as possible.
import type { Landmark, Partition, Report, Shading } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import type { SectionLimits } from '../tree/sections.ts';
import type { Effort } from './fit-cuts.ts';
import { Fitting } from './fitting.ts';
import { limitsOf } from './limits.ts';
import { chooseAxis } from './mirror.ts';
import { Prepared } from './prepare.ts';
import { bestOf, type Score, startsOf } from './starts.ts';

export type { Effort } from './fit-cuts.ts';
export type { Score } from './starts.ts';

export interface FitOptions {
  /** finished width and height, mm */
  readonly size: readonly [number, number];
  /** narrowest finished width of a piece, mm */
  readonly smallest: number;
  /** pieces at most */
  readonly pieces: number;
  readonly sections: SectionLimits;
  readonly seed: number;
  readonly effort: Effort;
  /** both sides alike about an upright axis; auto (where absent): where the shading names an axis, or its labels are nearly so */
  readonly mirror?: 'auto' | 'yes' | 'no';
}

export interface FitFound extends Partition {
  /** share of the block's area that shows the wrong fabric */
  readonly misplaced: number;
  /** small regions that stand out and show less than 40 % of themselves */
  readonly lost: readonly Landmark[];
  /** sections of the tree that was fitted; another tree of the same pieces may need fewer */
  readonly sections: number;
  /** what became of the shading's features, in their order; absent where it has none */
  readonly features?: readonly FeatureKept[];
  /** the starts that were tried, of which the best was kept */
  readonly scores: readonly Score[];
  /** where both sides were made alike */
  readonly mirrored?: Mirrored;
}

/** What became of a feature. shape: it is a piece of its own (an eye round its pupil two or three). merged: a pupil that there was no room
 *  for; its eye is one piece. weighed: no cuts could be found that make it a shape, and some of it shows all the same. lost: the same, and it
 *  does not show. mark: it is smaller than the smallest width, to be stitched or inked on the finished block. */
export interface FeatureKept {
  /** index into the shading's features */
  readonly feature: number;
  readonly kept: 'shape' | 'merged' | 'weighed' | 'lost' | 'mark';
}

export interface Mirrored {
  /** share of the block's width */
  readonly axis: number;
  /** share of the picture's cells that agree with their mirror image */
  readonly agreement: number;
  /** share of the block's area that shows another fabric than the picture made the same on both sides */
  readonly misplaced: number;
}

/** Throws UserError where a block of this size cannot be cut into pieces of the width that was asked for. */
export function fitPartition(shading: Shading, options: FitOptions, report?: Report): FitFound {
  return fitPartitions(shading, options, [options.pieces], report)[0]!;
}

/** The same picture in several numbers of pieces (`options.pieces` is not looked at), in the order of `counts`, which ascends.
 *  The first is what fitPartition gives; each further one is grown from the one before, at two fifths of the moves, and never shows
 *  less of the picture. */
export function fitPartitions(
  shading: Shading,
  options: FitOptions,
  counts: readonly number[],
  report?: Report,
): FitFound[] {
  const limits = counts.map((pieces) => limitsOf({ ...options, pieces }));
  if (Math.min(...options.size) < 2 * limits[0]!.smallest)
    throw new UserError(
      'too-small-to-cut',
      { size: options.size.map((v) => Math.round(v)), smallest: Math.round(options.smallest * 10) / 10 },
      2,
    );
  const prepared = new Prepared(
    shading,
    { ...options, pieces: counts[0]! },
    limits[0]!,
    chooseAxis(shading, options.mirror),
  );
  const starts = startsOf(options.effort, options.seed, prepared.axis !== undefined);
  const moves = starts.reduce((n, s) => n + s.moves, 0);
  let done = 0;
  const tried = starts.map((start) => {
    const fitting = new Fitting(prepared, start);
    const before = done;
    const { score, ...found } = fitting.fit(counts[0]!, limits[0]!, (share) =>
      report?.((before + share * start.moves) / moves / counts.length),
    );
    done += start.moves;
    return { fitting, found, score };
  });
  const best = bestOf(tried.map((t) => t.score));
  const scores = tried.map(({ fitting, found, score }, i): Score => {
    const { seed, calm } = fitting.start;
    const misplaced = found.mirrored?.misplaced ?? found.misplaced;
    return { seed, calm, score, misplaced, pieces: found.pieces.length, sections: found.sections, kept: i === best };
  });
  const fits: FitFound[] = [{ ...tried[best]!.found, scores }];
  counts.slice(1).forEach((pieces, i) => {
    const part = (share: number): void => report?.((i + 1 + share) / counts.length);
    const { score: _, ...found } = tried[best]!.fitting.fit(pieces, limits[i + 1]!, part);
    const before = fits.at(-1)!;
    // pieces are at most as many as were asked for: where more of them came out worse, the fewer stand
    fits.push(before.misplaced <= found.misplaced ? before : { ...found, scores });
  });
  return fits;
}
