// Says whether a drawing's strokes are wide enough to be sewn as fabric, and of a finished block whether it shows them unbroken.
import type { Block } from '../../block.ts';
import type { Shading } from '../../data.ts';
import { findRegions } from '../../geometry/label-regions.ts';
import { boundsOf, insideConvex } from '../../geometry/polygon.ts';
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

/** Share of the strokes' cells that the block must show in the strokes' fabric, and parts more than there are strokes that it may have. */
const SHOWN = 0.85;
const MORE_PARTS = 1;

export interface KeptStrokes {
  /** share of the cells of strokes that the block shows in their fabric */
  readonly shown: number;
  /** parts of that fabric in the block, and in the shading */
  readonly parts: readonly [block: number, shading: number];
  /** whether the strokes are whole: else the filled design is the better one */
  readonly whole: boolean;
}

/** How a finished block shows the strokes that were kept: the cells of the darkest fabric. Block and shading are turned alike. */
export function judgeKept(block: Block, { width: w, height: h, labels, fabrics }: Shading): KeptStrokes {
  const ink = fabrics.length - 1;
  const id = fabrics[ink]!.id;
  const seen = new Uint8Array(w * h);
  const [sx, sy] = [block.size[0] / w, block.size[1] / h];
  for (const { pieces } of block.sections)
    for (const { outline, fabric } of pieces) {
      if (fabric !== id) continue;
      const { minX, maxX, minY, maxY } = boundsOf(outline);
      for (let y = Math.max(0, Math.floor(minY / sy)); y < Math.min(h, maxY / sy); y++)
        for (let x = Math.max(0, Math.floor(minX / sx)); x < Math.min(w, maxX / sx); x++)
          if (insideConvex(outline, [(x + 0.5) * sx, (y + 0.5) * sy])) seen[y * w + x] = 1;
    }
  const wanted = new Uint8Array(w * h);
  let [all, shown] = [0, 0];
  for (let i = 0; i < w * h; i++)
    if (labels[i] === ink) {
      wanted[i] = 1;
      all++;
      if (seen[i]) shown++;
    }
  const count = (mask: Uint8Array): number => findRegions(mask, w, h).list.filter((r) => r.label === 1).length;
  const parts = [count(seen), count(wanted)] as const;
  const share = all ? shown / all : 0;
  return { shown: share, parts, whole: share >= SHOWN && parts[0] <= parts[1] + MORE_PARTS };
}
