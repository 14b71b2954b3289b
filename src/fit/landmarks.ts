// Takes the small regions that stand out (eyes, noses, beaks) and gives a weight for every cell, heavier inside them, so that
// the fit does not trade an eye for a smoother back.
import type { SmallRegion } from '../geometry/landmarks.ts';
import { UNIT_WEIGHT } from './cutting.ts';

/** Weight of each cell: the smaller a landmark, the more its cells weigh, so that it is worth a piece of its own. `given` is
 *  what the shading asks for (1 = as any cell), the larger of both counts. */
export function weighCells(
  cells: number,
  landmarks: readonly SmallRegion[],
  given?: Float32Array,
  worth = 300,
): Uint16Array {
  const weights = new Uint16Array(cells).fill(UNIT_WEIGHT);
  if (given) for (let i = 0; i < cells; i++) weights[i] = Math.max(1, Math.round(UNIT_WEIGHT * given[i]!));
  for (const mark of landmarks) {
    const weight = Math.round(UNIT_WEIGHT * Math.min(4, Math.max(1, worth / mark.cells.length)));
    for (const i of mark.cells) weights[i] = Math.max(weight, weights[i]!);
  }
  return weights;
}
