// Takes the small regions that stand out (eyes, noses, beaks) and the animal's outline; gives a weight for every cell, heavier in
// them, so that the fit does not trade an eye or an ear's tip for a smoother back.
import type { Shading } from '../data.ts';
import type { SmallRegion } from '../geometry/landmarks.ts';
import { findSilhouette, outlineBand, thinParts } from '../geometry/silhouette.ts';
import { UNIT_WEIGHT } from './cutting.ts';

/** What a cell at the outline weighs, where one inside weighs 1. */
const OUTLINE_WEIGHT = 1.5;
/** What a cell of a leg, a bill, a tail or an ear weighs: torn off it is missed more than its size says. */
const THIN_WEIGHT = 2;

/** Weight of each cell: the smaller a landmark, the more its cells weigh, so that it is worth a piece of its own. `given` is
 *  what the shading asks for (1 = as any cell), brought to a mean of 1, so that a section costs the same wherever the weight lies; the
 *  largest counts. */
export function weighCells(
  { labels, width, height, weights: given }: Shading,
  landmarks: readonly SmallRegion[],
  worth = 300,
): Uint16Array {
  const weights = new Uint16Array(labels.length).fill(UNIT_WEIGHT);
  if (given) spread(given, weights);
  const subject = findSilhouette(labels, width, height);
  if (subject) {
    const band = outlineBand(subject, width, height);
    for (let i = 0; i < band.length; i++)
      if (band[i]) weights[i] = Math.max(Math.round(OUTLINE_WEIGHT * UNIT_WEIGHT), weights[i]!);
    const thin = thinParts(subject, width, height);
    for (let i = 0; i < thin.length; i++)
      if (thin[i]) weights[i] = Math.max(Math.round(THIN_WEIGHT * UNIT_WEIGHT), weights[i]!);
  }
  for (const mark of landmarks) {
    const weight = Math.round(UNIT_WEIGHT * Math.min(4, Math.max(1, worth / mark.cells.length)));
    for (const i of mark.cells) weights[i] = Math.max(weight, weights[i]!);
  }
  return weights;
}

/** Whole-number weights as the given ones are to each other; what rounding takes from a cell the next one gets. */
function spread(given: Float32Array, weights: Uint16Array): void {
  const unit = (UNIT_WEIGHT * given.length) / given.reduce((t, v) => t + v, 0);
  let owed = 0;
  for (let i = 0; i < given.length; i++) {
    owed += unit * given[i]!;
    weights[i] = Math.max(1, Math.round(owed));
    owed -= weights[i]!;
  }
}
