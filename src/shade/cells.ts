// Takes pixels, gives the grid of cells that the block is fitted to: each cell the mean of what it covers.
import { oklabOfRgb } from '../colour/oklab.ts';

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

/** For each of `to` steps, the source span it covers: first index, count and weights. */
function spans(from: number, to: number): { start: number; weights: number[] }[] {
  return Array.from({ length: to }, (_, i) => {
    const a = (i * from) / to;
    const b = Math.max(((i + 1) * from) / to, a + 1e-9);
    const start = Math.floor(a);
    const weights: number[] = [];
    for (let j = start; j < b && j < from; j++) weights.push((Math.min(b, j + 1) - Math.max(a, j)) / (b - a));
    return { start, weights };
  });
}

/** Averages an sRGB image (width x height x 3) down to w x h, exact in the share that each pixel has in a cell. */
export function averagePixels(rgb: Uint8Array, width: number, height: number, w: number, h: number): Float32Array {
  const across = spans(width, w);
  const down = spans(height, h);
  const rows = new Float32Array(w * height * 3);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < w; x++) {
      const { start, weights } = across[x]!;
      let [r, g, b] = [0, 0, 0];
      for (let j = 0; j < weights.length; j++) {
        const i = 3 * (y * width + start + j);
        const k = weights[j]!;
        r += k * rgb[i]!;
        g += k * rgb[i + 1]!;
        b += k * rgb[i + 2]!;
      }
      const o = 3 * (y * w + x);
      rows[o] = r;
      rows[o + 1] = g;
      rows[o + 2] = b;
    }
  const out = new Float32Array(w * h * 3);
  for (let y = 0; y < h; y++) {
    const { start, weights } = down[y]!;
    for (let j = 0; j < weights.length; j++) {
      const k = weights[j]!;
      const from = 3 * (start + j) * w;
      for (let q = 0; q < 3 * w; q++) out[3 * y * w + q]! += k * rows[from + q]!;
    }
  }
  return out;
}

/** The cells of an sRGB image. */
export function averageCells(rgb: Uint8Array, width: number, height: number, w: number, h: number): Cells {
  const mean = averagePixels(rgb, width, height, w, h);
  const lab = new Float32Array(mean.length);
  for (let i = 0; i < mean.length; i += 3)
    lab.set(oklabOfRgb(Math.round(mean[i]!), Math.round(mean[i + 1]!), Math.round(mean[i + 2]!)), i);
  return { width: w, height: h, lab };
}

/** Gaussian blur of interleaved channels, edges by what lies inside. */
export function blurChannels(data: Float32Array, w: number, h: number, channels: number, sigma: number): Float32Array {
  const r = Math.ceil(2.5 * sigma);
  const kernel = Array.from({ length: 2 * r + 1 }, (_, i) => Math.exp(-((i - r) ** 2) / (2 * sigma * sigma)));
  const pass = (from: Float32Array, length: number, lines: number, step: number, jump: number): Float32Array => {
    const out = new Float32Array(from.length);
    for (let line = 0; line < lines; line++)
      for (let p = 0; p < length; p++) {
        const lo = Math.max(0, p - r);
        const hi = Math.min(length - 1, p + r);
        let sum = 0;
        for (let q = lo; q <= hi; q++) sum += kernel[q - p + r]!;
        for (let c = 0; c < channels; c++) {
          let t = 0;
          for (let q = lo; q <= hi; q++) t += kernel[q - p + r]! * from[line * jump + q * step + c]!;
          out[line * jump + p * step + c] = t / sum;
        }
      }
    return out;
  };
  return pass(pass(data, w, h, channels, w * channels), h, w, w * channels, channels);
}
