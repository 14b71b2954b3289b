// Where the block is to be true first: discs that the person names, or the small things that make a face. Gives a weight
// for every cell, for choosing shades and for the fit.
import { oklabOfHex } from '../colour/oklab.ts';
import type { Shading } from '../data.ts';
import { outlineBand } from '../geometry/silhouette.ts';
import { type Face, inFaces } from './find-faces.ts';
import { findBlobs } from './find-landmarks.ts';

/** A disc on the block: its middle and radius as shares of the block's width (y: of its height). */
export interface Focus {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** how much more a cell in it counts; 1 = as any */
  readonly weight: number;
}

/** What is found by itself weighs less than what is asked for: it may be wrong. */
const FOUND_WEIGHT = 1.5;
/** Eyes and nose of one face lie within this share of the block. */
const FACE = 0.3;
/** Radius up to which something is small, as a share of the block; more such things than this are a texture. */
const LARGEST = 0.022;
const MOST_THINGS = 8;
/** Discs that would cover more than this are no face. */
const MOST_SHARE = 0.14;

/** Discs on a posterised picture: round each group of small regions that stand out. Found on the regions themselves, so that
 *  a block made from the regions file alone is the same block. `colours` are "#rrggbb", one a label. */
export function findFocus(labels: Uint8Array, colours: readonly string[], w: number, h: number): Focus[] {
  const lab = new Float32Array(3 * w * h);
  const own = colours.map(oklabOfHex);
  for (let i = 0; i < w * h; i++) lab.set(own[labels[i]!]!, 3 * i);
  const blobs = findBlobs({ width: w, height: h, lab }, LARGEST * Math.max(w, h), MOST_THINGS);
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

/** How much more a cell counts in the fit that is the subject's for sure, one in a face, and one at the outline; and what all of them and a
 *  disc come to at most. */
const SUBJECT_MORE = 1;
const FACE_MORE = 0.5;
const OUTLINE_MORE = 1;
const MOST_WEIGHT = 4;

/** The shading with its cells weighed by how likely they are the subject's (0..1): pieces go to the animal rather than to what
 *  lies about it. */
export function weighSubject<S extends Shading>(shading: S, likely: Float32Array, faces: readonly Face[]): S {
  const { width: w, height: h, weights } = shading;
  const face = inFaces(faces, w, h);
  const subject = Uint8Array.from(likely, (v) => (v > 0.5 ? 1 : 0));
  const band = outlineBand(subject, w, h);
  const weighed = likely.map((v, i) => {
    const given = weights?.[i] ?? 1;
    const more = 1 + SUBJECT_MORE * v + FACE_MORE * (face?.[i] ?? 0) + OUTLINE_MORE * band[i]!;
    return Math.max(given, Math.min(MOST_WEIGHT, given * more));
  });
  return { ...shading, weights: weighed };
}

/** The shading with the weights that discs give its cells: those asked for, or where none are given those found. */
export function focusOn<S extends Shading>(
  shading: S,
  asked?: readonly Focus[],
): { shading: S; focus: readonly Focus[] } {
  const { width, height, labels, fabrics } = shading;
  const colours = fabrics.map((f) => f.colour);
  const focus = asked ?? findFocus(labels, colours, width, height);
  const weights = weighFocus(focus, width, height);
  return { shading: weights ? { ...shading, weights } : shading, focus };
}
