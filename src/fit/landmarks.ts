// Takes the small regions that stand out (eyes, noses, beaks) and gives a weight for every cell, heavier inside them, so that
// the fit does not trade an eye for a smoother back.
import type { SmallRegion } from '../geometry/landmarks.ts';
import { UNIT_WEIGHT } from './cutting.ts';

/** Weight of each cell: the smaller a landmark, the more its cells weigh, so that it is worth a piece of its own. `given` is
 *  what the shading asks for (1 = as any cell), brought to a mean of 1, so that a section costs the same wherever the weight lies;
 *  the larger of both counts. */
export function weighCells(
  cells: number,
  landmarks: readonly SmallRegion[],
  given?: Float32Array,
  worth = 300,
): Uint16Array {
  const weights = new Uint16Array(cells).fill(UNIT_WEIGHT);
  if (given) spread(given, weights);
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
