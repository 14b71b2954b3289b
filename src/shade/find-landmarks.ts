// Finds small things that stand out alone: eyes, noses, beaks. Takes cells, gives their places, sizes and colours.
// A blob is sought at every size from a cell to the narrowest piece: its disc against the ring around it.
import type { Lab } from '../colour/oklab.ts';
import type { Cells } from './cells.ts';

export interface Blob {
  readonly x: number;
  readonly y: number;
  /** cells */
  readonly radius: number;
  readonly colour: Lab;
  /** OKLab distance to the ring around it, less what the ring itself strays; light ones count less */
  readonly stands: number;
}

/** Least difference from the ring to stand out. */
const LEAST = 0.14;
/** What a light blob on dark counts beside a dark one on light: eyes and noses are dark, glints and petals light. */
const LIGHT_ONE = 0.55;
/** Share of the most striking blob's difference that the others must have: in grass or fur all are alike and weak. */
const OF_BEST = 0.5;

/** Prefix sums of L, a, b and of their squares: rows and columns one more than cells. */
interface Sums {
  readonly L: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly squares: Float64Array;
}

function addUp({ width: w, height: h, lab }: Cells): Sums {
  const stride = w + 1;
  const empty = (): Float64Array => new Float64Array(stride * (h + 1));
  const [sumL, suma, sumb, squares] = [empty(), empty(), empty(), empty()];
  for (let y = 0, i = 0; y < h; y++)
    for (let x = 0, o = (y + 1) * stride + 1; x < w; x++, o++, i += 3) {
      const L = lab[i]!;
      const a = lab[i + 1]!;
      const b = lab[i + 2]!;
      const left = o - 1;
      const up = o - stride;
      const corner = up - 1;
      sumL[o] = L + sumL[left]! + sumL[up]! - sumL[corner]!;
      suma[o] = a + suma[left]! + suma[up]! - suma[corner]!;
      sumb[o] = b + sumb[left]! + sumb[up]! - sumb[corner]!;
      squares[o] = L * L + a * a + b * b + squares[left]! + squares[up]! - squares[corner]!;
    }
  return { L: sumL, a: suma, b: sumb, squares };
}

/** The blobs of radius `r` that stand out, wherever they lie, into `found`. */
function addBlobs(sums: Sums, w: number, h: number, r: number, found: Blob[]): void {
  const stride = w + 1;
  const boxOf = (sum: Float64Array, x0: number, y0: number, x1: number, y1: number): number =>
    sum[y1 * stride + x1]! - sum[y0 * stride + x1]! - sum[y1 * stride + x0]! + sum[y0 * stride + x0]!;
  const { L: sumL, a: suma, b: sumb, squares } = sums;
  const side = Math.max(1, Math.round(1.7 * r));
  const gap = Math.max(1, Math.round(0.5 * r));
  const ring = Math.max(2, Math.round(r));
  for (let y = 0; y + side <= h; y++)
    for (let x = 0; x + side <= w; x++) {
      const ax = Math.max(0, x - gap);
      const ay = Math.max(0, y - gap);
      const ax1 = Math.min(w, x + side + gap);
      const ay1 = Math.min(h, y + side + gap);
      const bx = Math.max(0, x - gap - ring);
      const by = Math.max(0, y - gap - ring);
      const bx1 = Math.min(w, x + side + gap + ring);
      const by1 = Math.min(h, y + side + gap + ring);
      const inner = side * side;
      const outer = (bx1 - bx) * (by1 - by) - (ax1 - ax) * (ay1 - ay);
      if (outer < 3 * inner) continue; // at the frame there is no ring to stand out from
      const mL = boxOf(sumL, x, y, x + side, y + side) / inner;
      const oL = (boxOf(sumL, bx, by, bx1, by1) - boxOf(sumL, ax, ay, ax1, ay1)) / outer;
      const dL = mL - oL;
      if (Math.abs(dL) < LEAST / 2) continue; // what people call an eye differs in light
      // without a list a place: there are tens of thousands
      const ma = boxOf(suma, x, y, x + side, y + side) / inner;
      const mb = boxOf(sumb, x, y, x + side, y + side) / inner;
      const oa = (boxOf(suma, bx, by, bx1, by1) - boxOf(suma, ax, ay, ax1, ay1)) / outer;
      const ob = (boxOf(sumb, bx, by, bx1, by1) - boxOf(sumb, ax, ay, ax1, ay1)) / outer;
      const away = dL ** 2 + (ma - oa) ** 2 + (mb - ob) ** 2;
      const spread =
        (boxOf(squares, bx, by, bx1, by1) - boxOf(squares, ax, ay, ax1, ay1)) / outer - oL * oL - oa * oa - ob * ob;
      const own = boxOf(squares, x, y, x + side, y + side) / inner - mL * mL - ma * ma - mb * mb;
      const stands = Math.sqrt(away) - 1.2 * Math.sqrt(Math.max(0, spread)) - 0.5 * Math.sqrt(Math.max(0, own));
      const striking = dL < 0 ? stands : LIGHT_ONE * stands;
      if (striking < LEAST) continue;
      found.push({ x: x + side / 2, y: y + side / 2, radius: r, colour: [mL, ma, mb], stands: striking });
    }
}

/** Blobs of radius 1 to `largest` cells, the most striking first, at most `most`; texture (many alike close by) has none. */
export function findBlobs(cells: Cells, largest: number, most: number): Blob[] {
  const sums = addUp(cells);
  const found: Blob[] = [];
  for (let r = 1; r <= largest; r = r < 3 ? r + 0.5 : r + 1) addBlobs(sums, cells.width, cells.height, r, found);
  // the larger of two that stand out alike is the thing itself
  found.sort((p, q) => q.stands * Math.sqrt(q.radius) - p.stands * Math.sqrt(p.radius) || p.y - q.y || p.x - q.x);
  const kept: Blob[] = [];
  for (const blob of found) {
    if (kept.length >= 4 * most) break;
    if (kept.every((o) => Math.hypot(o.x - blob.x, o.y - blob.y) > 1.6 * (o.radius + blob.radius))) kept.push(blob);
  }
  const best = kept.reduce((t, b) => Math.max(t, b.stands), 0);
  return kept.filter((b) => b.stands >= OF_BEST * best).slice(0, most);
}
