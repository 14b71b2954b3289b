// A sheet that lies on a table, photographed: its corners are known, so what is found of them can be judged.
import { seededRandom } from '../../src/colour/cluster.ts';
import type { Picture } from '../../src/data.ts';
import type { Corners } from '../../src/picture/find-sheet.ts';
import { squareTo } from '../../src/picture/square-up.ts';

/** px of the photos that are taken here */
export const [W, H] = [600, 480];

export interface Shot {
  /** as shares of the photo */
  readonly corners: Corners;
  /** white paper round the picture, as a share of the sheet's side */
  readonly border: number;
  readonly glare: boolean;
  readonly table: readonly [number, number, number];
}

/** The sheet on a grained table under light that falls off to the right, with noise and perhaps a lamp's glare. */
export function photograph(picture: Picture, shot: Shot, w = W, h = H): Uint8Array {
  const c = shot.corners.map((v, i) => v * (i % 2 ? h : w)) as unknown as Corners;
  const back = inverse(c);
  const random = seededRandom(5);
  const out = new Uint8Array(3 * w * h);
  const grain = Array.from({ length: h }, () => random() * 24 - 12);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const sum = [0, 0, 0];
      // four samples a pixel: a lens has no steps
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ] as const) {
        const [u, v] = back(x + dx, y + dy);
        const inside = u >= 0 && v >= 0 && u < 1 && v < 1;
        const b = shot.border;
        const [s, t] = [(u - b) / (1 - 2 * b), (v - b) / (1 - 2 * b)];
        const shown = s >= 0 && t >= 0 && s < 1 && t < 1;
        const i = 3 * (Math.floor(t * picture.height) * picture.width + Math.floor(s * picture.width));
        for (let q = 0; q < 3; q++)
          sum[q]! += inside
            ? shown
              ? picture.pixels[i + q]!
              : 246
            : shot.table[q]! + grain[y]! * (1 + 0.3 * Math.sin(x / 37));
      }
      const light = 0.96 - 0.3 * (x / w);
      const lamp = shot.glare ? 190 * Math.exp(-(((x - 0.45 * w) ** 2 + (y - 0.4 * h) ** 2) / (0.09 * w) ** 2)) : 0;
      for (let q = 0; q < 3; q++)
        out[3 * (y * w + x) + q] = Math.max(0, Math.min(255, (sum[q]! / 4) * light + lamp + random() * 8 - 4));
    }
  return out;
}

/** From the photo to the unit square. */
function inverse(c: Corners): (x: number, y: number) => [number, number] {
  const to = squareTo(c);
  // the inverse of a projective map is projective: known at four points, it is known
  const [a, b, d, e] = [to(0, 0), to(1, 0), to(1, 1), to(0, 1)];
  const rows: number[][] = [];
  for (const [[x, y], [u, v]] of [
    [a, [0, 0]],
    [b, [1, 0]],
    [d, [1, 1]],
    [e, [0, 1]],
  ] as const) {
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u]);
    rows.push([0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  for (let p = 0; p < 8; p++) {
    const pivot = rows.slice(p).reduce((m, r, i) => (Math.abs(r[p]!) > Math.abs(rows[m]![p]!) ? p + i : m), p);
    [rows[p], rows[pivot]] = [rows[pivot]!, rows[p]!];
    for (let r = 0; r < 8; r++) {
      if (r === p) continue;
      const f = rows[r]![p]! / rows[p]![p]!;
      for (let q = p; q < 9; q++) rows[r]![q]! -= f * rows[p]![q]!;
    }
  }
  const k = rows.map((r, i) => r[8]! / r[i]!);
  return (x, y) => {
    const w = k[6]! * x + k[7]! * y + 1;
    return [(k[0]! * x + k[1]! * y + k[2]!) / w, (k[3]! * x + k[4]! * y + k[5]!) / w];
  };
}

export const WOOD = [126, 92, 60] as const;
export const DARK = [52, 54, 60] as const;
export const SKEWED: Corners = [0.16, 0.1, 0.83, 0.15, 0.92, 0.93, 0.07, 0.86];
export const TURNED: Corners = [0.22, 0.05, 0.9, 0.2, 0.74, 0.95, 0.08, 0.78];
