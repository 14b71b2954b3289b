// Squares up a sheet that was photographed at an angle: takes the picture and the sheet's corners, gives the sheet as if seen
// from straight above, without the white border of a paper print, and what glare there is on it.
import { writeOklab } from '../colour/oklab.ts';
import type { Corners } from './find-sheet.ts';

/** Share of its size by which the sheet is cut inside its corners: its edge curls and throws a shadow. */
const INSIDE = 0.006;
/** Longer side of the squared sheet at most. */
const MOST_SIDE = 2048;

/** The eight numbers of the projective map that takes the unit square (0,0 1,0 1,1 0,1) to four corners (Heckbert 1989, p. 17). */
export function squareTo([x0, y0, x1, y1, x2, y2, x3, y3]: Corners): (u: number, v: number) => [number, number] {
  const [dx1, dy1, dx2, dy2] = [x1 - x2, y1 - y2, x3 - x2, y3 - y2];
  const [sx, sy] = [x0 - x1 + x2 - x3, y0 - y1 + y2 - y3];
  const det = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / det;
  const h = (dx1 * sy - sx * dy1) / det;
  const [a, b] = [x1 - x0 + g * x1, x3 - x0 + h * x3];
  const [d, e] = [y1 - y0 + g * y1, y3 - y0 + h * y3];
  return (u, v) => {
    const w = g * u + h * v + 1;
    return [(a * u + b * v + x0) / w, (d * u + e * v + y0) / w];
  };
}

export interface Sheet {
  readonly rgb: Uint8Array;
  readonly width: number;
  readonly height: number;
  /** whether a border of even paper was cut off */
  readonly border: boolean;
  /** share of the sheet that is washed out in one place */
  readonly glare: number;
}

/** `corners` in pixels of the picture, clockwise from the top left. */
export function squareUp(rgb: Uint8Array, width: number, height: number, corners: Corners): Sheet {
  const side = (i: number, j: number): number =>
    Math.hypot(corners[2 * i]! - corners[2 * j]!, corners[2 * i + 1]! - corners[2 * j + 1]!);
  const [across, down] = [(side(0, 1) + side(3, 2)) / 2, (side(0, 3) + side(1, 2)) / 2];
  const scale = Math.min(1, MOST_SIDE / Math.max(across, down));
  const [w, h] = [Math.max(1, Math.round(across * scale)), Math.max(1, Math.round(down * scale))];
  const place = squareTo(corners);
  const out = new Uint8Array(3 * w * h);
  for (let y = 0, o = 0; y < h; y++)
    for (let x = 0; x < w; x++, o += 3) {
      const [px, py] = place(INSIDE + ((1 - 2 * INSIDE) * (x + 0.5)) / w, INSIDE + ((1 - 2 * INSIDE) * (y + 0.5)) / h);
      const X = Math.max(0, Math.min(width - 1.001, px - 0.5));
      const Y = Math.max(0, Math.min(height - 1.001, py - 0.5));
      const [x0, y0] = [Math.floor(X), Math.floor(Y)];
      const [fx, fy] = [X - x0, Y - y0];
      const i = 3 * (y0 * width + x0);
      const [right, below] = [x0 < width - 1 ? 3 : 0, y0 < height - 1 ? 3 * width : 0];
      for (let c = 0; c < 3; c++) {
        const top = rgb[i + c]! * (1 - fx) + rgb[i + right + c]! * fx;
        const low = rgb[i + below + c]! * (1 - fx) + rgb[i + below + right + c]! * fx;
        out[o + c] = Math.round(top * (1 - fy) + low * fy);
      }
    }
  const glare = shareOfGlare(out, w, h);
  const [left, top, right, bottom] = borderOf(out, w, h);
  if (!left) return { rgb: out, width: w, height: h, border: false, glare };
  const [cw, ch] = [w - left - right, h - top - bottom];
  const cut = new Uint8Array(3 * cw * ch);
  for (let y = 0; y < ch; y++) {
    const from = 3 * ((y + top) * w + left);
    cut.set(out.subarray(from, from + 3 * cw), 3 * y * cw);
  }
  return { rgb: cut, width: cw, height: ch, border: true, glare };
}

/** Cells along the longer side of the grid on which border and glare are looked for. */
const GRID = 200;

/** Cells that are nearly white in all channels, in their greatest connected part; 0 where the paper itself is so. */
function shareOfGlare(rgb: Uint8Array, width: number, height: number): number {
  const step = Math.max(1, Math.round(Math.max(width, height) / GRID));
  const [w, h] = [Math.floor(width / step), Math.floor(height / step)];
  const bright = new Uint8Array(w * h);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const i = 3 * (y * step * width + x * step);
      if (Math.min(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!) >= WASHED_OUT) bright[y * w + x] = 1;
    }
  let most = 0;
  for (let s = 0; s < w * h; s++) {
    if (!bright[s]) continue;
    let size = 0;
    const stack = [s];
    bright[s] = 0;
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      size++;
      const x = i % w;
      for (const j of [x ? i - 1 : -1, x < w - 1 ? i + 1 : -1, i - w, i + w])
        if (j >= 0 && j < w * h && bright[j]) {
          bright[j] = 0;
          stack.push(j);
        }
    }
    most = Math.max(most, size);
  }
  const share = most / Math.max(1, w * h);
  return share > MOST_GLARE ? 0 : share;
}
const WASHED_OUT = 250;
/** More than this is a white sheet. */
const MOST_GLARE = 0.3;

/** Share of a side within which a print's border ends, and the least that is worth cutting off. */
const MOST_BORDER = 0.14;
const LEAST_BORDER = 0.012;
/** OKLab distance between neighbours of one line of border, that light which falls off may cause. */
const EVEN = 0.03;
/** Share of the line within the border that differs from it, if a picture begins there. */
const BEGINS = 0.6;

/** Widths of an even border on the left, top, right and bottom, in pixels; all 0 where it is not on all four sides alike. */
function borderOf(rgb: Uint8Array, width: number, height: number): [number, number, number, number] {
  const lab = new Float32Array(3);
  const at = (x: number, y: number): [number, number, number] => {
    const i = 3 * (y * width + x);
    writeOklab(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!, lab, 0);
    return [lab[0]!, lab[1]!, lab[2]!];
  };
  const short = Math.min(width, height);
  const widths = [0, 1, 2, 3].map((s) => {
    const [size, length] = s % 2 ? [height, width] : [width, height];
    const line = (depth: number): [number, number, number][] =>
      Array.from({ length: 60 }, (_, k) => {
        // the corners belong to the neighbouring borders
        const t = Math.floor(length * (MOST_BORDER + ((1 - 2 * MOST_BORDER) * (k + 0.5)) / 60));
        const d = s < 2 ? depth : size - 1 - depth;
        return s % 2 ? at(t, d) : at(d, t);
      });
    const first = line(Math.floor(0.004 * short));
    const rough = first.filter((c, k) => k && Math.hypot(...c.map((v, q) => v - first[k - 1]![q]!)) > EVEN).length;
    // paper is light, even and without colour
    if (rough > 3 || first.some((c) => c[0] < 0.5) || first.some((c) => Math.hypot(c[1], c[2]) > 0.08)) return 0;
    for (let depth = Math.floor(LEAST_BORDER * short); depth < MOST_BORDER * short; depth++) {
      const now = line(depth);
      const other = now.filter((c, k) => Math.hypot(...c.map((v, q) => v - first[k]![q]!)) > 2 * EVEN).length;
      if (other > BEGINS * 60) return depth + Math.ceil(0.004 * short);
    }
    return 0;
  }) as [number, number, number, number];
  const [least, most] = [Math.min(...widths), Math.max(...widths)];
  return least > 0 && most < 3 * least ? widths : [0, 0, 0, 0];
}
