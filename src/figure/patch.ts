// Square patches of the look, turned and scaled to a pair of eyes, and what is measured of them: how edges lie in each cell
// (histograms of oriented gradients, Dalal & Triggs 2005) and how light it is.
import { type Look, sample } from './look.ts';

/** The look at 1, 1/2, 1/4 … of its size, so that a patch is sampled from pixels as coarse as its own. */
export interface Pyramid {
  readonly levels: readonly { readonly side: number; readonly grey: Float32Array }[];
}

export function buildPyramid({ grey, side }: Pick<Look, 'grey' | 'side'>): Pyramid {
  const levels = [{ side, grey }];
  while (levels.at(-1)!.side > 24) {
    const { side: n, grey: g } = levels.at(-1)!;
    const half = n >> 1;
    const small = new Float32Array(half * half);
    for (let y = 0; y < half; y++)
      for (let x = 0; x < half; x++) {
        const i = 2 * y * n + 2 * x;
        small[y * half + x] = (g[i]! + g[i + 1]! + g[i + n]! + g[i + n + 1]!) / 4;
      }
    levels.push({ side: half, grey: small });
  }
  return { levels };
}

/** A patch of n x n, `wide` pixels of the look across, its middle at (x, y), its rows along (ux, uy), a unit vector. */
export function cutPatch(
  { levels }: Pyramid,
  x: number,
  y: number,
  ux: number,
  uy: number,
  wide: number,
  n: number,
): Float32Array {
  const pitch = wide / n;
  const level = Math.max(0, Math.min(levels.length - 1, Math.round(Math.log2(pitch))));
  const { side, grey } = levels[level]!;
  const k = 1 / 2 ** level;
  const patch = new Float32Array(n * n);
  for (let b = 0, o = 0; b < n; b++)
    for (let a = 0; a < n; a++, o++) {
      const p = (a + 0.5 - n / 2) * pitch;
      const q = (b + 0.5 - n / 2) * pitch;
      patch[o] = sample(grey, side, side, (x + p * ux - q * uy) * k - 0.5, (y + p * uy + q * ux) * k - 0.5);
    }
  return patch;
}

/** cells x cells x bins: how much of the gradient lies in each direction in each cell, against the nine cells about it;
 *  `signed` tells dark-to-light from light-to-dark. Written to `out` from `at` on. */
export function writeGradients(
  patch: Float32Array,
  n: number,
  cells: number,
  bins: number,
  signed: boolean,
  out: Float32Array,
  at: number,
): void {
  const sums = new Float32Array(cells * cells * bins);
  const energy = new Float32Array(cells * cells);
  const turn = signed ? 2 * Math.PI : Math.PI;
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++) {
      const gx = patch[y * n + Math.min(n - 1, x + 1)]! - patch[y * n + Math.max(0, x - 1)]!;
      const gy = patch[Math.min(n - 1, y + 1) * n + x]! - patch[Math.max(0, y - 1) * n + x]!;
      const strong = Math.sqrt(gx * gx + gy * gy);
      if (strong < 1e-6) continue;
      const cell = Math.floor((y * cells) / n) * cells + Math.floor((x * cells) / n);
      let angle = Math.atan2(gy, gx);
      if (angle < 0) angle += turn;
      const place = ((angle % turn) / turn) * bins - 0.5;
      const low = Math.floor(place);
      const share = place - low;
      sums[cell * bins + ((low + bins) % bins)]! += strong * (1 - share);
      sums[cell * bins + ((low + 1) % bins)]! += strong * share;
      energy[cell]! += strong;
    }
  for (let cy = 0; cy < cells; cy++)
    for (let cx = 0; cx < cells; cx++) {
      let around = 0;
      let count = 0;
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++) {
          const [X, Y] = [cx + dx, cy + dy];
          if (X < 0 || Y < 0 || X >= cells || Y >= cells) continue;
          around += energy[Y * cells + X]!;
          count++;
        }
      const cell = cy * cells + cx;
      const unit = around / count + 0.15 * (n / cells) ** 2 * 0.1;
      for (let b = 0; b < bins; b++) out[at + cell * bins + b] = Math.sqrt(sums[cell * bins + b]! / unit);
    }
}

/** cells x cells: how light each cell is, mean 0 and spread 1 over the patch, times `share`. */
export function writeLight(
  patch: Float32Array,
  n: number,
  cells: number,
  share: number,
  out: Float32Array,
  at: number,
): void {
  const step = n / cells;
  let sum = 0;
  let squares = 0;
  for (let cy = 0; cy < cells; cy++)
    for (let cx = 0; cx < cells; cx++) {
      let t = 0;
      let count = 0;
      for (let y = Math.floor(cy * step); y < (cy + 1) * step; y++)
        for (let x = Math.floor(cx * step); x < (cx + 1) * step; x++) {
          t += patch[y * n + x]!;
          count++;
        }
      const v = t / count;
      out[at + cy * cells + cx] = v;
      sum += v;
      squares += v * v;
    }
  const all = cells * cells;
  const mean = sum / all;
  const spread = Math.sqrt(Math.max(0, squares / all - mean * mean)) + 0.02;
  for (let i = at; i < at + all; i++) out[i] = (share * (out[i]! - mean)) / spread;
}

/** How alike a patch and its mirror image are, -1..1: correlation about their means, over the rows from..to (shares). */
export function mirrorLikeness(patch: Float32Array, n: number, from = 0, to = 1): number {
  const [y0, y1] = [Math.floor(from * n), Math.ceil(to * n)];
  let mean = 0;
  for (let i = y0 * n; i < y1 * n; i++) mean += patch[i]!;
  mean /= (y1 - y0) * n;
  let own = 1e-6;
  let both = 0;
  for (let y = y0; y < y1; y++)
    for (let x = 0; x < n; x++) {
      const a = patch[y * n + x]! - mean;
      own += a * a;
      both += a * (patch[y * n + n - 1 - x]! - mean);
    }
  return both / own;
}
