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

/** Averages an sRGB image (width x height x 3) down to w x h, exact in the share that each pixel has in a cell. */
export function averagePixels(rgb: Uint8Array, width: number, height: number, w: number, h: number): Float32Array {
  const across = spans(width, w);
  const down = spans(height, h);
  const rows = new Float32Array(w * height * 3);
  for (let y = 0, o = 0; y < height; y++)
    for (let x = 0; x < w; x++, o += 3) {
      const to = across.at[x + 1]!;
      let i = 3 * (y * width + across.start[x]!);
      let r = 0;
      let g = 0;
      let b = 0;
      for (let j = across.at[x]!; j < to; j++, i += 3) {
        const k = across.weights[j]!;
        r += k * rgb[i]!;
        g += k * rgb[i + 1]!;
        b += k * rgb[i + 2]!;
      }
      rows[o] = r;
      rows[o + 1] = g;
      rows[o + 2] = b;
    }
  const out = new Float32Array(w * h * 3);
  for (let y = 0; y < h; y++) {
    const to = 3 * y * w;
    let from = 3 * down.start[y]! * w;
    for (let j = down.at[y]!; j < down.at[y + 1]!; j++, from += 3 * w) {
      const k = down.weights[j]!;
      for (let q = 0; q < 3 * w; q++) out[to + q]! += k * rows[from + q]!;
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
  const pass = (from: Float32Array, length: number, lines: number, step: number, jump: number): Float32Array => {
    const out = new Float32Array(from.length);
    for (let p = 0; p < length; p++) {
      const lo = Math.max(0, p - r);
      const hi = Math.min(length - 1, p + r);
      let sum = 0;
      for (let q = lo; q <= hi; q++) sum += kernel[q - p + r]!;
      for (let line = 0; line < lines; line++)
        for (let c = 0; c < channels; c++) {
          let t = 0;
          let i = line * jump + lo * step + c;
          for (let q = lo - p + r; q <= hi - p + r; q++, i += step) t += kernel[q]! * from[i]!;
          out[line * jump + p * step + c] = t / sum;
        }
    }
    return out;
  };
  return pass(pass(data, w, h, channels, w * channels), h, w, w * channels, channels);
}
