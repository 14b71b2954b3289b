// An outline with its ears as they are to stand: sharp at their tips, with the forehead seen between them.

import type { EarShape, EarsOnBlock } from '../data.ts';
import { insideConvex, type Point } from '../geometry/polygon.ts';
import { cellsNear } from './show-face.ts';

const turned = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** The triangle's corners clockwise as seen. */
export function earOutline({ tip, inner, outer }: EarShape): readonly Point[] {
  return turned(tip, inner, outer) > 0 ? [tip, inner, outer] : [tip, outer, inner];
}

/** `mask` is w x h, 1 where the animal is. Ears are filled to their tips; above the forehead between two ears all is ground: what stands there
 *  is the animal's back, or what lies behind it. */
export function pointEars(mask: Uint8Array, w: number, h: number, { ears, between }: EarsOnBlock): Uint8Array {
  const out = Uint8Array.from(mask);
  const outlines = ears.map(earOutline);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const p: Point = [(x + 0.5) / w, (y + 0.5) / h];
      const i = y * w + x;
      if (outlines.some((o) => insideConvex(o, p))) out[i] = 1;
      else if ((between && isAbove(between, p)) || ears.some((e) => isBeyond(e, p))) out[i] = 0;
    }
  return out;
}

/** How far beside an ear's tip and its outer side its own outline may run, as a share of the ear's height, and how much farther with each step
 *  down: ears bulge outward. */
const BESIDE = 0.06;
const BULGE = 0.3;

/** Whether a place lies outward of an ear, no lower than its outer side: a shoulder, or a cushion. */
function isBeyond({ tip, inner, outer }: EarShape, [x, y]: Point): boolean {
  if (y > outer[1]) return false;
  const height = outer[1] - tip[1];
  const way = tip[0] < inner[0] ? -1 : 1;
  // the outer side itself, and no nearer to the middle than the tip
  const side = tip[0] + ((outer[0] - tip[0]) * Math.max(0, y - tip[1])) / (height || 1);
  const edge = way * Math.max(way * side, way * tip[0]);
  return way * (x - edge) > (y < tip[1] ? 0 : BESIDE * height + BULGE * (y - tip[1]));
}

/** Whether a place lies between the first and the last of the points and above the line through them all. */
function isAbove(line: readonly Point[], [x, y]: Point): boolean {
  for (let k = 0; k + 1 < line.length; k++) {
    const [a, b] = [line[k]!, line[k + 1]!];
    if (x < a[0] || x > b[0]) continue;
    return y < a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0] || 1);
  }
  return false;
}

/** How much more a cell counts in an ear's outer part or beside it, and how far beside, as a share of the block: without its tip an ear is a
 *  bump. */
const WEIGHT = 4;
const NEAR = 0.02;

/** The weights with those of ears raised; all 1 before where absent. */
export function weighEars(
  weights: Float32Array | undefined,
  w: number,
  h: number,
  { ears }: EarsOnBlock,
): Float32Array {
  const out = weights ? Float32Array.from(weights) : new Float32Array(w * h).fill(1);
  const raised = new Set(ears.flatMap((e) => cellsNear(earOutline(e), w, h, NEAR)));
  for (const i of raised) out[i]! *= WEIGHT;
  return out;
}
