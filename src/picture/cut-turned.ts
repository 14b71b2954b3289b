// Cuts a part out of a picture that is turned about its middle, and may reach beyond the picture: there its rim goes on.
import type { Box } from './choose-crop.ts';

/** The box (pixels of `rgb`, width x height x 3), turned clockwise about its middle by `turn` degrees, as w x h pixels, each the
 *  mean of what it covers. */
export function cutTurned(
  rgb: Uint8Array,
  width: number,
  height: number,
  box: Box,
  turn: number,
  w: number,
  h: number,
): Uint8Array {
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  const [cx, cy] = [box[0] + box[2] / 2, box[1] + box[3] / 2];
  const step = box[2] / w;
  const many = Math.max(1, Math.min(8, Math.ceil(step)));
  const out = new Uint8Array(3 * w * h);
  for (let y = 0, o = 0; y < h; y++)
    for (let x = 0; x < w; x++, o += 3) {
      let [r, g, b] = [0, 0, 0];
      for (let q = 0; q < many; q++)
        for (let p = 0; p < many; p++) {
          const u = ((x + (p + 0.5) / many) / w - 0.5) * box[2];
          const v = ((y + (q + 0.5) / many) / h - 0.5) * box[3];
          const X = Math.max(0, Math.min(width - 1, cx + u * cos - v * sin - 0.5));
          const Y = Math.max(0, Math.min(height - 1, cy + u * sin + v * cos - 0.5));
          const x0 = Math.min(width - 2, Math.floor(X));
          const y0 = Math.min(height - 2, Math.floor(Y));
          const [fx, fy] = [X - x0, Y - y0];
          const i = 3 * (y0 * width + x0);
          const j = i + 3 * width;
          const [a00, a10, a01, a11] = [(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy];
          r += a00 * rgb[i]! + a10 * rgb[i + 3]! + a01 * rgb[j]! + a11 * rgb[j + 3]!;
          g += a00 * rgb[i + 1]! + a10 * rgb[i + 4]! + a01 * rgb[j + 1]! + a11 * rgb[j + 4]!;
          b += a00 * rgb[i + 2]! + a10 * rgb[i + 5]! + a01 * rgb[j + 2]! + a11 * rgb[j + 5]!;
        }
      const n = many * many;
      out[o] = Math.round(r / n);
      out[o + 1] = Math.round(g / n);
      out[o + 2] = Math.round(b / n);
    }
  return out;
}
