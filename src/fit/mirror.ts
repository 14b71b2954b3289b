// Takes a grid of labels; finds the upright axis that it is (nearly) the same on both sides of, makes it the same on both sides, folds it
// to its left half, and unfolds the pieces that the half was cut into. Axes are counted in half cells from the left: the mirror
// image of column x about axis a is column a - 1 - x.
import type { Shading } from '../data.ts';
import { clipHalf, type Point } from '../geometry/polygon.ts';
import { groundRegion } from '../geometry/silhouette.ts';
import type { CutPiece, Half } from './cutting.ts';

/** An axis lies in this part of the width, the middle one (house rule). */
const MIDDLE = 0.3;
/** cells agree where each finds its label this near to its mirror image, cells each way */
const WITHIN = 2;
/** Art that is meant to be symmetric agrees on .97 and more of its cells, all else tried on less than .81. */
export const NEARLY = 0.93;

export interface Axis {
  /** half cells from the left */
  readonly at: number;
  /** share of the cells that are not ground in both places and agree with their mirror image */
  readonly agreement: number;
}

/** The axis that most cells agree about; `only` asks about one. O(cells x axes). */
export function findAxis({ labels, width, height }: Shading, only?: number): Axis {
  const ground = groundRegion(labels, width, height);
  const near = labelsNear(labels, width);
  const first = only ?? Math.round(width * (1 - MIDDLE));
  const last = only ?? Math.round(width * (1 + MIDDLE));
  let best: Axis = { at: only ?? width, agreement: 0 };
  let most = 0;
  for (let at = first; at <= last; at++) {
    let all = 0;
    let agree = 0;
    let exact = 0;
    for (let y = 0; y < height; y++)
      for (let x = 0; x < at >> 1; x++) {
        const i = y * width + x;
        const m = at - 1 - x;
        if (m >= width) {
          if (!ground[i]) all++;
          continue;
        }
        const j = y * width + m;
        if (ground[i] && ground[j]) continue;
        all++;
        if ((near[j]! >> labels[i]!) & (near[i]! >> labels[j]!) & 1) agree++;
        if (labels[i] === labels[j]) exact++;
      }
    for (let y = 0; y < height; y++) for (let x = at; x < width; x++) if (!ground[y * width + x]) all++;
    // several axes agree to within a cell or two: of these the one that is met exactly
    if (all > 0 && (agree + exact) / all > most) {
      most = (agree + exact) / all;
      best = { at, agreement: agree / all };
    }
  }
  return best;
}

/** A bit for every label (under 31) that lies within WITHIN of a cell. */
function labelsNear(labels: Uint8Array, width: number): Int32Array {
  const across = new Int32Array(labels.length);
  for (let i = 0; i < labels.length; i++) {
    const x = i % width;
    for (let o = Math.max(-WITHIN, -x); o <= Math.min(WITHIN, width - 1 - x); o++) across[i]! |= 1 << labels[i + o]!;
  }
  const near = new Int32Array(labels.length);
  for (let i = 0; i < labels.length; i++)
    for (let o = -WITHIN; o <= WITHIN; o++) {
      const j = i + o * width;
      if (j >= 0 && j < labels.length) near[i]! |= across[j]!;
    }
  return near;
}

/** half the side of the square that is asked where a cell and its mirror image differ, cells */
const ASKED = 3;

/** The same on both sides. A cell that differs from its mirror image gets the label that most cells about both have; `calm`: so does
 *  every other one. What has no mirror image stays. */
export function symmetrise(shading: Shading, at: number, calm: boolean): Shading {
  const { labels, width, height, fabrics } = shading;
  const made = labels.slice();
  // sums of all cells of a label above and to the left
  const W = width + 1;
  const sums = fabrics.map((_, label) => {
    const sum = new Int32Array(W * (height + 1));
    for (let y = 0; y < height; y++)
      for (let x = 0, row = 0; x < width; x++) {
        if (labels[y * width + x] === label) row++;
        sum[(y + 1) * W + x + 1] = sum[y * W + x + 1]! + row;
      }
    return sum;
  });
  const about = (sum: Int32Array, x: number, y: number): number => {
    const [x0, x1] = [Math.max(0, x - ASKED), Math.min(width, x + ASKED + 1)];
    const [y0, y1] = [Math.max(0, y - ASKED) * W, Math.min(height, y + ASKED + 1) * W];
    return sum[y1 + x1]! - sum[y0 + x1]! - sum[y1 + x0]! + sum[y0 + x0]!;
  };
  for (let y = 0; y < height; y++)
    for (let x = Math.max(0, at - width); x < at / 2; x++) {
      const [i, j] = [y * width + x, y * width + at - 1 - x];
      if (!calm && labels[i] === labels[j]) continue;
      let best = labels[i]!;
      let most = 0;
      sums.forEach((sum, label) => {
        const n = about(sum, x, y) + about(sum, at - 1 - x, y);
        if (n > most) [most, best] = [n, label];
      });
      made[i] = best;
      made[j] = best;
    }
  return { ...shading, labels: made };
}

/** The axis that a fit is mirrored about; undefined where it is not. */
export function chooseAxis(shading: Shading, wish: 'auto' | 'yes' | 'no' = 'auto'): Axis | undefined {
  if (wish === 'no') return undefined;
  if (shading.axis !== undefined) return findAxis(shading, Math.round(2 * shading.width * shading.axis));
  const axis = findAxis(shading);
  return wish === 'yes' || axis.agreement >= NEARLY ? axis : undefined;
}

/** Left and right exchanged. */
export function turnShading(shading: Shading): Shading {
  const { labels, weights, width, features } = shading;
  return {
    ...{ ...shading, labels: turnOver(labels, width) },
    ...(weights && { weights: turnOver(weights, width) }),
    ...(features && { features: features.map((f) => ({ ...f, outline: turnedOutline(f.outline) })) }),
  };
}

const turnedOutline = (outline: readonly Point[]): Point[] => outline.map(([x, y]): Point => [1 - x, y]).reverse();

function turnOver<T extends Uint8Array | Uint16Array | Float32Array>(row: T, width: number): T {
  const out = row.slice() as T;
  for (let i = 0; i < row.length; i++) out[i] = row[i - (i % width) + width - 1 - (i % width)]!;
  return out;
}

export interface Folded {
  readonly labels: Uint8Array;
  readonly weights: Uint16Array;
  readonly width: number;
  readonly half: Half;
}

/** The left half of what is the same on both sides of an axis at or right of the middle; a cell weighs what it and its mirror
 *  image do. The middle column of an axis that runs through cells is left out. `wide`: mm. */
export function fold(
  labels: Uint8Array,
  weights: Uint16Array,
  width: number,
  height: number,
  at: number,
  wide: number,
): Folded {
  const half = at >> 1;
  const out = { labels: new Uint8Array(half * height), weights: new Uint16Array(half * height) };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < half; x++) {
      const m = at - 1 - x;
      out.labels[y * half + x] = labels[y * width + x]!;
      out.weights[y * half + x] = weights[y * width + x]! + (m < width ? weights[y * width + m]! : 0);
    }
  const cell = wide / width;
  return { ...out, width: half, half: { axis: (at * cell) / 2, trim: (at - width) * cell, scale: 1 / cell } };
}

/** mm: nearer than this to the axis is on it */
const ON_AXIS = 1e-6;

/** The pieces of the whole block, of which the half was cut: a piece on the axis is one with its mirror image. `wide`: mm. */
export function unfold(pieces: readonly CutPiece[], { axis }: Half, wide: number): Omit<CutPiece, 'node'>[] {
  return pieces.flatMap(({ outline, fabric }) => {
    const image = outline.map(([x, y]): [number, number] => [2 * axis - x, y]).reverse();
    const first = outline.findIndex((p, i) => isOn(axis, p) && isOn(axis, outline[(i + 1) % outline.length]!));
    if (first < 0) {
      const other = leftOf(image, wide);
      return [{ outline, fabric }, ...(other.length >= 3 ? [{ outline: other, fabric }] : [])];
    }
    // the corners on the axis are flat in the whole piece
    const own = outline.map((_, k) => outline[(first + 2 + k) % outline.length]!).slice(0, -2);
    const across = own.map(([x, y]): [number, number] => [2 * axis - x, y]).reverse();
    return [{ outline: leftOf([...own, ...across], wide), fabric }];
  });
}

const isOn = (axis: number, [x]: readonly [number, number]): boolean => Math.abs(x - axis) < ON_AXIS;

/** The part of a convex outline that lies left of x. */
function leftOf(outline: readonly [number, number][], x: number): [number, number][] {
  if (outline.every((p) => p[0] <= x + ON_AXIS)) return outline.map((p) => [Math.min(p[0], x), p[1]]);
  if (outline.every((p) => p[0] >= x - ON_AXIS)) return [];
  return clipHalf(outline, [x, 0], [x, 1], 1).map(([u, v]) => [u, v]);
}
