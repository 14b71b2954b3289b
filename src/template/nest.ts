// Convex templates -> places on sheets, turned and nested. A template may stand where the no-fit polygons of those already on
// the sheet leave room (for convex shapes a no-fit polygon is a Minkowski sum; Art 1966, Bennell & Oliveira 2008). The order
// of placing is improved by a seeded local search; the sheets are then put in the order of their first sections.
import { insetConvex } from '../drawing/clip.ts';
import { areaOf, type Point, type Polygon, signedArea } from '../geometry/polygon.ts';
import { type Area, edgeTurns, type Place, type Shape } from './pack-boxes.ts';

/** x, y, x, y …; plain arrays, for small typed ones cost more to make than to use */
type Flat = readonly number[];

export interface NestOptions {
  /** mm between templates */
  readonly gap: number;
  /** what already stands on every sheet */
  readonly fixed: readonly Polygon[];
  /** how often a template is tried on a sheet, at most: the budget */
  readonly tries: number;
}

interface Turned {
  readonly turn: number;
  /** parts reversed through the origin, ready for Minkowski sums */
  readonly reversed: readonly Flat[];
  /** parts grown by the gap, about the same origin */
  readonly grown: readonly Flat[];
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
  /** middle of the main part */
  readonly cx: number;
  readonly cy: number;
}

interface Item {
  readonly id: string;
  readonly area: number;
  readonly turns: readonly Turned[];
}

interface Sheet {
  /** every placed part, grown by the gap */
  readonly grown: Flat[];
  free: number;
  readonly places: { item: number; turned: Turned; x: number; y: number }[];
}

/** Where one shape may not have its origin because another stands there, and the box around that. */
interface NoFit {
  readonly ring: Flat;
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

const EPS = 1e-7;
/** share of the sheets' room that nested sections never filled in any of our blocks: no better is searched for */
const FULLEST = 0.84;

const flat = (P: Polygon): Flat => {
  const ring = signedArea(P) < 0 ? [...P].reverse() : P;
  return ring.flatMap((q) => [q[0], q[1]]);
};

/** Starts at the lowest corner (then the leftmost), so that edges run in order of angle. */
function fromLowest(P: Flat): Flat {
  const n = P.length / 2;
  let at = 0;
  for (let i = 1; i < n; i++)
    if (P[2 * i + 1]! < P[2 * at + 1]! || (P[2 * i + 1] === P[2 * at + 1] && P[2 * i]! < P[2 * at]!)) at = i;
  return [...P.slice(2 * at), ...P.slice(0, 2 * at)];
}

/** Minkowski sum of two convex polygons in positive order that start at their lowest corners. */
function minkowski(A: Flat, B: Flat): Flat {
  const n = A.length / 2;
  const m = B.length / 2;
  const out: number[] = [];
  let [i, j] = [0, 0];
  let x = A[0]! + B[0]!;
  let y = A[1]! + B[1]!;
  while (i < n || j < m) {
    out.push(x, y);
    const ax = i < n ? A[(2 * i + 2) % (2 * n)]! - A[2 * i]! : 0;
    const ay = i < n ? A[(2 * i + 3) % (2 * n)]! - A[2 * i + 1]! : 0;
    const bx = j < m ? B[(2 * j + 2) % (2 * m)]! - B[2 * j]! : 0;
    const by = j < m ? B[(2 * j + 3) % (2 * m)]! - B[2 * j + 1]! : 0;
    const turn = i >= n ? -1 : j >= m ? 1 : ax * by - ay * bx;
    if (turn >= 0) {
      x += ax;
      y += ay;
      i++;
    }
    if (turn <= 0) {
      x += bx;
      y += by;
      j++;
    }
  }
  return out;
}

const boxed = (ring: Flat): NoFit => {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    x0 = Math.min(x0, ring[i]!);
    x1 = Math.max(x1, ring[i]!);
    y0 = Math.min(y0, ring[i + 1]!);
    y1 = Math.max(y1, ring[i + 1]!);
  }
  return { ring, x0, x1, y0, y1 };
};

function turnShape(parts: readonly Polygon[], turn: number, gap: number): Turned {
  const a = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  const turned = parts.map((P) =>
    P.map(([x, y]): Point => {
      const q: Point = [x * c - y * s, x * s + y * c];
      x0 = Math.min(x0, q[0]);
      x1 = Math.max(x1, q[0]);
      y0 = Math.min(y0, q[1]);
      y1 = Math.max(y1, q[1]);
      return q;
    }),
  );
  const main = turned[0]!;
  return {
    turn,
    grown: turned.map((P) => fromLowest(flat(insetConvex(P, -gap)))),
    reversed: turned.map((P) => fromLowest(flat(P.map(([x, y]): Point => [-x, -y])))),
    x0,
    x1,
    y0,
    y1,
    cx: main.reduce((sum, q) => sum + q[0], 0) / main.length,
    cy: main.reduce((sum, q) => sum + q[1], 0) / main.length,
  };
}

/** No spot can be better than the corner that the direction points to. */
const cornerBound = (t: Turned, area: Area, dx: number, dy: number): number =>
  dx * (dx > 0 ? -t.x0 : area.width - t.x1) + dy * (dy > 0 ? -t.y0 : area.height - t.y1) + dx * t.cx + dy * t.cy;

/** Where on the sheet the turned shape lies furthest in direction (dx, dy) against; undefined where it has no room.
 *  Only spots better than `limit` count. */
function bestSpot(
  noFits: () => readonly NoFit[],
  t: Turned,
  area: Area,
  dx: number,
  dy: number,
  limit: number,
): { x: number; y: number; cost: number } | undefined {
  const rx0 = -t.x0;
  const rx1 = area.width - t.x1;
  const ry0 = -t.y0;
  const ry1 = area.height - t.y1;
  if (rx1 < rx0 - EPS || ry1 < ry0 - EPS) return undefined;
  const offset = dx * t.cx + dy * t.cy;
  if (cornerBound(t, area, dx, dy) >= limit) return undefined;
  // what lies off the spots that the sheet allows hinders nothing
  const polys = noFits().filter((n) => n.x1 > rx0 && n.x0 < rx1 && n.y1 > ry0 && n.y0 < ry1);
  let best: { x: number; y: number; cost: number } | undefined;
  let bound = limit;
  let hindering = 0;
  const consider = (x: number, y: number): void => {
    const cost = dx * x + dy * y + offset;
    if (cost >= bound) return;
    if (x < rx0 - EPS || x > rx1 + EPS || y < ry0 - EPS || y > ry1 + EPS) return;
    // what hindered the last spot most likely hinders the next
    if (hindering < polys.length && stands(polys[hindering]!, x, y)) return;
    for (let k = 0; k < polys.length; k++)
      if (stands(polys[k]!, x, y)) {
        hindering = k;
        return;
      }
    best = { x, y, cost };
    bound = cost;
  };
  consider(rx0, ry0);
  consider(rx1, ry0);
  consider(rx0, ry1);
  consider(rx1, ry1);
  for (let p = 0; p < polys.length; p++) {
    const P = polys[p]!.ring;
    for (let i = 0; i < P.length; i += 2) {
      const ax = P[i]!;
      const ay = P[i + 1]!;
      const k = i + 2 === P.length ? 0 : i + 2;
      const bx = P[k]!;
      const by = P[k + 1]!;
      consider(ax, ay);
      // where the edge crosses the sides of what the sheet allows
      for (const v of [rx0, rx1]) {
        if (ax - v > 0 === bx - v > 0) continue;
        consider(v, ay + ((v - ax) / (bx - ax)) * (by - ay));
      }
      for (const v of [ry0, ry1]) {
        if (ay - v > 0 === by - v > 0) continue;
        consider(ax + ((v - ay) / (by - ay)) * (bx - ax), v);
      }
      const ex0 = Math.min(ax, bx);
      const ex1 = Math.max(ax, bx);
      const ey0 = Math.min(ay, by);
      const ey1 = Math.max(ay, by);
      // the whole edge costs more than what is known already
      if (Math.min(dx * ax + dy * ay, dx * bx + dy * by) + offset >= bound) continue;
      for (let q = p + 1; q < polys.length; q++) {
        const box = polys[q]!;
        if (box.x1 < ex0 || box.x0 > ex1 || box.y1 < ey0 || box.y0 > ey1) continue;
        const Q = box.ring;
        for (let j = 0; j < Q.length; j += 2) {
          const l = j + 2 === Q.length ? 0 : j + 2;
          const cx = Q[j]!;
          const cy = Q[j + 1]!;
          const fx = Q[l]!;
          const fy = Q[l + 1]!;
          if ((cx < ex0 && fx < ex0) || (cx > ex1 && fx > ex1) || (cy < ey0 && fy < ey0) || (cy > ey1 && fy > ey1))
            continue;
          const den = (bx - ax) * (fy - cy) - (by - ay) * (fx - cx);
          if (den === 0) continue;
          const u = ((cx - ax) * (fy - cy) - (cy - ay) * (fx - cx)) / den;
          if (u < 0 || u > 1) continue;
          const w = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / den;
          if (w < 0 || w > 1) continue;
          consider(ax + u * (bx - ax), ay + u * (by - ay));
        }
      }
    }
  }
  return best;
}

const stands = (P: NoFit, x: number, y: number): boolean =>
  x > P.x0 && x < P.x1 && y > P.y0 && y < P.y1 && strictlyInside(P.ring, x, y);

function strictlyInside(P: Flat, x: number, y: number): boolean {
  const n = P.length;
  for (let i = 0; i < n; i += 2) {
    const k = i + 2 === n ? 0 : i + 2;
    const ex = P[k]! - P[i]!;
    const ey = P[k + 1]! - P[i + 1]!;
    if (ex * (y - P[i + 1]!) - ey * (x - P[i]!) <= 1e-6 * (Math.abs(ex) + Math.abs(ey))) return false;
  }
  return true;
}

/** A small seeded generator (Numerical Recipes' 32-bit linear congruence). */
function generator(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return s / 4294967296;
  };
}

class Nester {
  private readonly items: Item[];
  private readonly area: Area;
  private readonly options: NestOptions;
  private readonly fixed: Flat[];
  private readonly room: number;
  private tries = 0;

  constructor(shapes: readonly Shape[], area: Area, options: NestOptions) {
    this.area = area;
    this.options = options;
    this.items = shapes.map((s) => ({
      id: s.id,
      area: areaOf(s.parts[0]!),
      turns: edgeTurns(s.parts.slice(0, 1)).map((turn) => turnShape(s.parts, turn, options.gap)),
    }));
    this.fixed = options.fixed.map((P) => fromLowest(flat(P)));
    this.room = area.width * area.height - options.fixed.reduce((sum, P) => sum + areaOf(P), 0);
  }

  private emptySheet(): Sheet {
    return { grown: [...this.fixed], free: this.room, places: [] };
  }

  private noFitsOn(sheet: Sheet, t: Turned): NoFit[] {
    return sheet.grown.flatMap((g) => t.reversed.map((r) => boxed(minkowski(g, r))));
  }

  /** The items that go on an empty sheet. */
  private fitting(): number[] {
    return this.items.flatMap((_, i) => (this.place(this.emptySheet(), i, -1, -1) ? [i] : []));
  }

  private place(sheet: Sheet, item: number, dx: number, dy: number): boolean {
    const it = this.items[item]!;
    if (it.area > sheet.free) return false;
    this.tries++;
    let best: { x: number; y: number; cost: number } | undefined;
    let turned: Turned | undefined;
    // the most promising turns first: what they reach rules the others out
    const promising = it.turns
      .map((t) => ({ t, bound: cornerBound(t, this.area, dx, dy) }))
      .sort((a, b) => a.bound - b.bound);
    for (const { t } of promising) {
      const spot = bestSpot(() => this.noFitsOn(sheet, t), t, this.area, dx, dy, best?.cost ?? Infinity);
      if (spot) [best, turned] = [spot, t];
    }
    if (!best || !turned) return false;
    const { x, y } = best;
    for (const g of turned.grown) sheet.grown.push(g.map((v, i) => v + (i % 2 ? y : x)));
    sheet.free -= it.area;
    sheet.places.push({ item, turned, x, y });
    return true;
  }

  /** First sheet that has room, in the order given; undefined where that takes more than `most` sheets. */
  private pack(order: readonly number[], angle: () => number, most: number): Sheet[] | undefined {
    const sheets: Sheet[] = [];
    const angles: number[] = [];
    for (const item of order) {
      let done = false;
      for (let k = 0; !done; k++) {
        if (k === sheets.length) {
          if (sheets.length >= most) return undefined;
          sheets.push(this.emptySheet());
          angles.push(angle());
        }
        done = this.place(sheets[k]!, item, Math.cos(angles[k]!), Math.sin(angles[k]!));
      }
    }
    return sheets;
  }

  /** All items on few sheets: the largest first, then sheets are taken two or three at a time and packed anew so that one
   *  gets as full as it can; a sheet that ends up empty is saved. */
  solve(): Sheet[] {
    const byArea = this.fitting().sort((a, b) => this.items[b]!.area - this.items[a]!.area);
    if (!byArea.length) return [];
    const random = generator(20260 + byArea.length);
    const used = (s: Sheet): number => this.room - s.free;
    const total = byArea.reduce((sum, i) => sum + this.items[i]!.area, 0);
    const least = Math.ceil(total / (this.room * FULLEST));
    // towards the upper right, away from the ruler; later from any side
    let sheets = this.pack(byArea, () => Math.PI * 1.62, Infinity)!;
    this.tries = 0;
    while (this.tries < this.options.tries && sheets.length > least) {
      const many = sheets.length > 2 && random() < 0.4 ? 3 : 2;
      const order = sheets.map((s, i) => ({ i, key: used(s) * (0.6 + 0.8 * random()) })).sort((a, b) => a.key - b.key);
      const chosen = order.slice(0, many).map((o) => o.i);
      const items = chosen.flatMap((i) => sheets[i]!.places.map((p) => p.item));
      const shuffled = items
        .map((item) => ({ item, key: this.items[item]!.area * (0.5 + random()) }))
        .sort((a, b) => b.key - a.key)
        .map((e) => e.item);
      const anew = this.pack(shuffled, () => random() * 2 * Math.PI, many);
      if (!anew) continue;
      const worth = (list: readonly Sheet[]): number => list.reduce((sum, s) => sum + used(s) ** 2, 0);
      if (anew.length === many && worth(anew) < worth(chosen.map((i) => sheets[i]!))) continue;
      sheets = [...sheets.filter((_, i) => !chosen.includes(i)), ...anew];
    }
    return sheets;
  }
}

/** Places for all shapes that fit an empty sheet. Sheets in the order of their first shapes. */
export function nestShapes(shapes: readonly Shape[], area: Area, options: NestOptions): Place[] {
  const sheets = new Nester(shapes, area, options).solve();
  const ordered = sheets
    .map((s) => ({ s, first: Math.min(...s.places.map((p) => p.item)) }))
    .sort((a, b) => a.first - b.first);
  return ordered
    .flatMap(({ s }, sheet) =>
      s.places.map((p) => ({
        item: p.item,
        place: { id: shapes[p.item]!.id, sheet, turn: p.turned.turn, dx: p.x, dy: p.y },
      })),
    )
    .sort((a, b) => a.item - b.item)
    .map((p) => p.place);
}
