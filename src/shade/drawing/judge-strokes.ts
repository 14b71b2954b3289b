// Says whether a drawing's strokes are wide enough to be sewn as fabric.
import type { Figure } from './find-figure.ts';
import type { Drawn } from './read-drawing.ts';

/** A stroke is wide where it is as wide as the narrowest piece, less a tenth; this share of the strokes must be. */
const WIDE = 0.9;
const NEARLY_ALL = 0.9;

/** Share of the length of the figure's strokes that is wide enough to sew. `narrow`: the narrowest piece, in cells of the block. */
export function wideShare({ w }: Drawn, { strokes, depth, mask }: Figure, narrow: number): number {
  let [all, wide] = [0, 0];
  for (const { cells } of strokes)
    for (const i of cells) {
      if (!mask[i] && !mask[i - 1] && !mask[i - w]) continue;
      all++;
      if (2 * depth[i]! - 1 >= WIDE * 2 * narrow) wide++;
    }
  return all ? wide / all : 0;
}

export const choosesKept = (drawn: Drawn, figure: Figure, narrow: number): boolean =>
  wideShare(drawn, figure, narrow) >= NEARLY_ALL;
