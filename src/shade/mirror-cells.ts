// A face seen from the front, made symmetric before it is shaded: each cell's colour the mean of its own and its mirror image's, the
// outline midway between the two halves' outlines.
import { blurChannels, type Cells } from './cells.ts';

/** The column that lies opposite column x where the axis is at a share of the width; to half a cell. */
export const opposite = (x: number, w: number, axis: number): number => Math.round(2 * axis * w) - 1 - x;

/** Cells whose mirror image lies off the block keep their own colour. `weigh` may say which cells count: a cell of the subject is not mixed
 *  with the ground opposite. */
export function mirrorCells(cells: Cells, axis: number, weigh?: Uint8Array): Cells {
  const { width: w, height: h, lab } = cells;
  const out = Float32Array.from(lab);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const m = opposite(x, w, axis);
      if (m < 0 || m >= w) continue;
      const [i, j] = [y * w + x, y * w + m];
      const [a, b] = weigh ? [weigh[i]! ? 1 : 0.001, weigh[j]! ? 1 : 0.001] : [1, 1];
      for (let c = 0; c < 3; c++) out[3 * i + c] = (a * lab[3 * i + c]! + b * lab[3 * j + c]!) / (a + b);
    }
  return { ...cells, lab: out };
}

/** For each cell how far it is from the nearest cell that is not as it, positive inside; by two passes (Borgefors 1986). */
export function signedDistance(mask: Uint8Array, w: number, h: number): Float32Array {
  const side = (inside: number): Float32Array => {
    const d = Float32Array.from(mask, (v) => (v === inside ? 1e6 : 0));
    const relax = (i: number, j: number, step: number): void => {
      if (d[j]! + step < d[i]!) d[i] = d[j]! + step;
    };
    const pass = (back: boolean): void => {
      for (let q = 0; q < w * h; q++) {
        const i = back ? w * h - 1 - q : q;
        if (!d[i]) continue;
        const x = i % w;
        const s = back ? 1 : -1;
        const y = (i - x) / w;
        const [left, up] = back ? [x < w - 1, y < h - 1] : [x > 0, y > 0];
        const right = back ? x > 0 : x < w - 1;
        if (left) relax(i, i + s, 1);
        if (up) relax(i, i + s * w, 1);
        if (left && up) relax(i, i + s * w + s, Math.SQRT2);
        if (right && up) relax(i, i + s * w - s, Math.SQRT2);
      }
    };
    pass(false);
    pass(true);
    return d;
  };
  const [inner, outer] = [side(1), side(0)];
  return inner.map((v, i) => Math.max(-1e3, Math.min(1e3, mask[i] ? v - 0.5 : 0.5 - outer[i]!)));
}

/** Cells that one half's outline may lie outside the other's and still be the same ear or cheek. */
const FAR_OUT = 9;

/** The mask with its outline smoothed by `sigma` cells; where an axis is given the two halves laid on each other, and what only one half has
 *  far out (a shoulder, a second animal) midway. */
export function smoothMask(mask: Uint8Array, w: number, h: number, sigma: number, axis?: number): Uint8Array {
  let d: Float32Array = signedDistance(mask, w, h).map((v) => Math.max(-12, Math.min(12, v)));
  if (axis !== undefined) {
    const own = Float32Array.from(d);
    for (let y = 0; y < h; y++)
      for (let x = 0; x < w; x++) {
        const m = opposite(x, w, axis);
        if (m < 0 || m >= w) continue;
        const [a, b] = [own[y * w + x]!, own[y * w + m]!];
        // an ear that stands a little farther out on one side is shown on both: midway it would be cut on both
        d[y * w + x] = Math.min(a, b) > -FAR_OUT ? Math.max(a, b) : (a + b) / 2;
      }
  }
  d = blurChannels(d, w, h, 1, sigma);
  return Uint8Array.from(d, (v) => (v > 0 ? 1 : 0));
}

/** The cells with what lies in `holes` (lists of cells) painted over by the colours about each: eyes and nose are shapes of their own, and the
 *  masses are those of the face without them. */
export function paintOver(cells: Cells, holes: readonly (readonly number[])[]): Cells {
  const { width: w, height: h } = cells;
  const lab = Float32Array.from(cells.lab);
  const hole = new Uint8Array(w * h);
  for (const cells of holes) for (const i of cells) hole[i] = 1;
  let front = holes.flat();
  // from the rim inward, each cell the mean of its neighbours that are known
  while (front.length) {
    const known: [number, number, number, number][] = [];
    const rest: number[] = [];
    for (const i of front) {
      const x = i % w;
      const y = (i - x) / w;
      let [L, a, b, n] = [0, 0, 0, 0];
      for (let dy = -2; dy <= 2; dy++)
        for (let dx = -2; dx <= 2; dx++) {
          const [X, Y] = [x + dx, y + dy];
          if (X < 0 || Y < 0 || X >= w || Y >= h || hole[Y * w + X]) continue;
          const o = 3 * (Y * w + X);
          L += lab[o]!;
          a += lab[o + 1]!;
          b += lab[o + 2]!;
          n++;
        }
      if (n) known.push([i, L / n, a / n, b / n]);
      else rest.push(i);
    }
    if (!known.length) break;
    for (const [i, L, a, b] of known) {
      lab.set([L, a, b], 3 * i);
      hole[i] = 0;
    }
    front = rest;
  }
  return { ...cells, lab };
}
