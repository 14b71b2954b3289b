// Takes pixels, gives the grid of cells that the block is fitted to: each cell the mean of what it covers.
import { writeOklab } from '../colour/oklab.ts';

export interface Cells {
  readonly width: number;
  readonly height: number;
  /** width x height x 3, OKLab */
  readonly lab: Float32Array;
}

/** The grid's size for a block: `grid` cells along its longer side. */
export function gridSize(size: readonly [number, number], grid: number): [number, number] {
  const scale = grid / Math.max(size[0], size[1]);
  return [Math.max(1, Math.round(size[0] * scale)), Math.max(1, Math.round(size[1] * scale))];
}

/** For each of `to` steps, the source span it covers: first index, and weights from `at` on, `at` of the next not included. */
function spans(from: number, to: number): { start: Int32Array; at: Int32Array; weights: Float64Array } {
  const start = new Int32Array(to);
  const at = new Int32Array(to + 1);
  const weights: number[] = [];
  for (let i = 0; i < to; i++) {
    const a = (i * from) / to;
    const b = Math.max(((i + 1) * from) / to, a + 1e-9);
    start[i] = Math.floor(a);
    for (let j = start[i]!; j < b && j < from; j++) weights.push((Math.min(b, j + 1) - Math.max(a, j)) / (b - a));
    at[i + 1] = weights.length;
  }
  return { start, at, weights: Float64Array.from(weights) };
}

/** Averages an sRGB image (width x height x 3) down to w x h, exact in the share that each pixel has in a cell. Down first:
 *  whole rows are added up as they lie in memory, and only the few rows that are left are gone over pixel by pixel. */
export function averagePixels(rgb: Uint8Array, width: number, height: number, w: number, h: number): Float32Array {
  const across = spans(width, w);
  const down = spans(height, h);
  const row = new Float64Array(3 * width);
  const out = new Float32Array(w * h * 3);
  for (let y = 0, o = 0; y < h; y++) {
    row.fill(0);
    let from = 3 * down.start[y]! * width;
    for (let j = down.at[y]!; j < down.at[y + 1]!; j++, from += row.length) {
      const k = down.weights[j]!;
      for (let q = 0; q < row.length; q++) row[q]! += k * rgb[from + q]!;
    }
    for (let x = 0; x < w; x++, o += 3) {
      const to = across.at[x + 1]!;
      let i = 3 * across.start[x]!;
      let r = 0;
      let g = 0;
      let b = 0;
      for (let j = across.at[x]!; j < to; j++, i += 3) {
        const k = across.weights[j]!;
        r += k * row[i]!;
        g += k * row[i + 1]!;
        b += k * row[i + 2]!;
      }
      out[o] = r;
      out[o + 1] = g;
      out[o + 2] = b;
    }
  }
  return out;
}

/** `averagePixels` in whole bytes. */
export function shrinkPixels(rgb: Uint8Array, width: number, height: number, w: number, h: number): Uint8Array {
  const mean = averagePixels(rgb, width, height, w, h);
  const out = new Uint8Array(mean.length);
  for (let i = 0; i < mean.length; i++) out[i] = Math.round(mean[i]!);
  return out;
}

/** OKLab of sRGB bytes, n x 3 each. */
export function labOfPixels(rgb: Uint8Array): Float32Array {
  const lab = new Float32Array(rgb.length);
  for (let i = 0; i < rgb.length; i += 3) writeOklab(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!, lab, i);
  return lab;
}

/** The cells of an sRGB image. */
export function averageCells(rgb: Uint8Array, width: number, height: number, w: number, h: number): Cells {
  return { width: w, height: h, lab: labOfPixels(shrinkPixels(rgb, width, height, w, h)) };
}

/** Gaussian blur of interleaved channels, edges by what lies inside. */
export function blurChannels(data: Float32Array, w: number, h: number, channels: number, sigma: number): Float32Array {
  const r = Math.ceil(2.5 * sigma);
  const kernel = new Float64Array(2 * r + 1);
  for (let i = 0; i <= 2 * r; i++) kernel[i] = Math.exp(-((i - r) ** 2) / (2 * sigma * sigma));
  const row = w * channels;
  const across = new Float32Array(data.length);
  for (let x = 0; x < w; x++) {
    const [lo, hi] = [Math.max(0, x - r), Math.min(w - 1, x + r)];
    let sum = 0;
    for (let q = lo; q <= hi; q++) sum += kernel[q - x + r]!;
    for (let y = 0; y < h; y++)
      for (let c = 0; c < channels; c++) {
        let t = 0;
        let i = y * row + lo * channels + c;
        for (let k = lo - x + r; k <= hi - x + r; k++, i += channels) t += kernel[k]! * data[i]!;
        across[y * row + x * channels + c] = t / sum;
      }
  }
  // down: whole rows are added up as they lie in memory
  const out = new Float32Array(data.length);
  const total = new Float64Array(row);
  for (let y = 0; y < h; y++) {
    const [lo, hi] = [Math.max(0, y - r), Math.min(h - 1, y + r)];
    total.fill(0);
    let sum = 0;
    for (let q = lo; q <= hi; q++) {
      const k = kernel[q - y + r]!;
      sum += k;
      for (let i = 0, from = q * row; i < row; i++) total[i]! += k * across[from + i]!;
    }
    for (let i = 0, to = y * row; i < row; i++) out[to + i] = total[i]! / sum;
  }
  return out;
}
