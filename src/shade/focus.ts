// Where the block is to be true first: discs that the person names, or the small things that make a face. Gives a weight
// for every cell, for choosing shades and for the fit.
import type { Blob } from './find-landmarks.ts';

/** A disc on the block: its middle and radius as shares of the block's width (y: of its height). */
export interface Focus {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** how much more a cell in it counts; 1 = as any */
  readonly weight: number;
}

/** What a disc weighs where nothing is said. */
export const FOCUS_WEIGHT = 3;
/** What is found by itself weighs less than what is asked for: it may be wrong. */
const FOUND_WEIGHT = 1.5;
/** Eyes and nose of one face lie within this share of the block. */
const FACE = 0.3;
/** Discs that would cover more than this are no face. */
const MOST_SHARE = 0.14;

/** A disc round each group of things that stand out, the most striking group first. */
export function findFocus(blobs: readonly Blob[], w: number, h: number): Focus[] {
  const left = [...blobs];
  const found: Focus[] = [];
  while (left.length) {
    const first = left[0]!;
    const group = left.filter((b) => Math.hypot(b.x - first.x, b.y - first.y) <= FACE * Math.max(w, h));
    for (const b of group) left.splice(left.indexOf(b), 1);
    const [x, y] = (['x', 'y'] as const).map((c) => group.reduce((t, b) => t + b[c], 0) / group.length) as [
      number,
      number,
    ];
    const reach = Math.max(...group.map((b) => Math.hypot(b.x - x, b.y - y) + 2.5 * b.radius));
    found.push({ x: x / w, y: y / h, r: reach / w, weight: FOUND_WEIGHT });
  }
  let share = 0;
  return found.filter((f) => {
    const area = (Math.PI * (f.r * w) ** 2) / (w * h);
    share += area;
    return share <= MOST_SHARE;
  });
}

/** For each cell the largest weight of the discs that its middle lies in; undefined where there are none. */
export function weighFocus(discs: readonly Focus[], w: number, h: number): Float32Array | undefined {
  if (!discs.length) return undefined;
  const weights = new Float32Array(w * h).fill(1);
  for (const { x, y, r, weight } of discs) {
    const [cx, cy, radius] = [x * w, y * h, r * w];
    for (let row = Math.max(0, Math.floor(cy - radius)); row < Math.min(h, cy + radius); row++)
      for (let col = Math.max(0, Math.floor(cx - radius)); col < Math.min(w, cx + radius); col++)
        if (Math.hypot(col + 0.5 - cx, row + 0.5 - cy) <= radius)
          weights[row * w + col] = Math.max(weights[row * w + col]!, weight);
  }
  return weights;
}
