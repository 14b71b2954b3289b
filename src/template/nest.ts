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
  readonly reversed: readonly Ring[];
  /** parts grown by the gap, about the same origin */
  readonly grown: readonly Ring[];
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
  turns: readonly Turned[];
}

interface Sheet {
  /** every placed part, grown by the gap */
  readonly grown: Ring[];
  free: number;
  readonly places: { item: number; turned: Turned; x: number; y: number }[];
}

/** A convex polygon and the box around it. */
interface Ring {
  readonly ring: Flat;
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

const EPS = 1e-7;
/** mm: a template is tried with only its longer edges along a side of the sheet: that leaves tries for more orders of placing.
 *  441 layouts: all edges 2227 sheets, from 25 mm 2213, 50 mm 2193, 80 mm 2154, 120 mm 2132, none 2139 */
const LONG_EDGE = 120;
/** share of the sheets' room: to fill them more succeeds in 2 of 125 cases, so no better is searched for */
const FULLEST = 0.8;

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

const boxed = (ring: Flat): Ring => {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    x0 = Math.min(x0, ring[i]!);
    x1 = Math.max(x1, ring[i]!);
    y0 = Math.min(y0, ring[i + 1]!);
    y1 = Math.max(y1, ring[i + 1]!);
  }
  return { ring, x0, x1, y0, y1 };
};

const moved = ({ ring, x0, x1, y0, y1 }: Ring, dx: number, dy: number): Ring => ({
  ring: ring.map((v, i) => v + (i % 2 ? dy : dx)),
  x0: x0 + dx,
  x1: x1 + dx,
  y0: y0 + dy,
  y1: y1 + dy,
});

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
    grown: turned.map((P) => boxed(fromLowest(flat(insetConvex(P, -gap))))),
    reversed: turned.map((P) => boxed(fromLowest(flat(P.map(([x, y]): Point => [-x, -y]))))),
    x0,
    x1,
    y0,
    y1,
    cx: main.reduce((sum, q) => sum + q[0], 0) / main.length,
    cy: main.reduce((sum, q) => sum + q[1], 0) / main.length,
  };
}

const turnsOf = ({ parts }: Shape, gap: number, longer: number): Turned[] =>
  edgeTurns(parts.slice(0, 1), longer).map((turn) => turnShape(parts, turn, gap));

/** No spot can be better than the corner that the direction points to. */
const cornerBound = (t: Turned, area: Area, dx: number, dy: number): number =>
  dx * (dx > 0 ? -t.x0 : area.width - t.x1) + dy * (dy > 0 ? -t.y0 : area.height - t.y1) + dx * t.cx + dy * t.cy;

/** mm: what lies no deeper in a polygon counts as on its side */
const SKIN = 1e-6;
/** numbers kept for a side of a no-fit polygon: its start, its way, and what ex * y - ey * x exceeds within it */
const SIDE = 5;

/** Looks for spots on a sheet; keeps its room for no-fit polygons from one search to the next. */
class SpotFinder {
  private readonly area: Area;
  /** sides of all polygons, one after another */
  private sides = new Float64Array(SIDE * 512);
  /** where each polygon's sides begin, and the end of the last */
  private from: number[] = [];
  /** x0, x1, y0, y1 of each polygon */
  private boxes: number[] = [];
  private count = 0;
  private hindering = 0;

  constructor(area: Area) {
    this.area = area;
  }

  /** Where on the sheet the turned shape lies furthest in direction (dx, dy) against; undefined where it has no room.
   *  Only spots better than `limit` count. The best spot is a corner of the free region, so it lies on a side of the sheet's
   *  room or of a no-fit polygon: each side is followed from its cheaper end, past all that stands there, to a free spot. */
  bestSpot(
    standing: readonly Ring[],
    t: Turned,
    dx: number,
    dy: number,
    limit: number,
  ): { x: number; y: number; cost: number } | undefined {
    const rx0 = -t.x0;
    const rx1 = this.area.width - t.x1;
    const ry0 = -t.y0;
    const ry1 = this.area.height - t.y1;
    if (rx1 < rx0 - EPS || ry1 < ry0 - EPS) return undefined;
    const offset = dx * t.cx + dy * t.cy;
    if (cornerBound(t, this.area, dx, dy) >= limit) return undefined;
    this.clear();
    for (const g of standing)
      for (const r of t.reversed) {
        const x0 = g.x0 + r.x0;
        const x1 = g.x1 + r.x1;
        const y0 = g.y0 + r.y0;
        const y1 = g.y1 + r.y1;
        // what lies off the spots that the sheet allows hinders nothing, nor does what lies where no spot is better
        if (x1 <= rx0 || x0 >= rx1 || y1 <= ry0 || y0 >= ry1) continue;
        if (dx * (dx > 0 ? x0 : x1) + dy * (dy > 0 ? y0 : y1) + offset >= limit) continue;
        this.boxes.push(x0, x1, y0, y1);
        this.addSum(g.ring, r.ring);
      }
    let best: { x: number; y: number; cost: number } | undefined;
    let bound = limit;
    const follow = (ax: number, ay: number, ex: number, ey: number): void => {
      const rise = dx * ex + dy * ey;
      if (rise < 0) {
        follow(ax + ex, ay + ey, -ex, -ey);
        return;
      }
      const least = dx * ax + dy * ay + offset;
      if (least >= bound) return;
      let u = Math.max(0, entry(ax, ex, rx0 - EPS, rx1 + EPS), entry(ay, ey, ry0 - EPS, ry1 + EPS));
      const end = Math.min(1, exit(ax, ex, rx0 - EPS, rx1 + EPS), exit(ay, ey, ry0 - EPS, ry1 + EPS));
      while (u <= end) {
        const cost = least + u * rise;
        if (cost >= bound) return;
        const x = ax + u * ex;
        const y = ay + u * ey;
        const P = this.hinderer(x, y);
        if (P < 0) {
          best = { x, y, cost };
          bound = cost;
          return;
        }
        u += this.lengthInside(P, x, y, ex, ey);
      }
    };
    follow(rx0, ry0, rx1 - rx0, 0);
    follow(rx0, ry1, rx1 - rx0, 0);
    follow(rx0, ry0, 0, ry1 - ry0);
    follow(rx1, ry0, 0, ry1 - ry0);
    const { sides } = this;
    const all = this.from[this.count]!;
    for (let i = 0; i < all; i += SIDE) follow(sides[i]!, sides[i + 1]!, sides[i + 2]!, sides[i + 3]!);
    return best;
  }

  private clear(): void {
    this.count = 0;
    this.hindering = 0;
    this.from = [0];
    this.boxes = [];
  }

  /** Adds the Minkowski sum of two convex polygons in positive order that start at their lowest corners. */
  private addSum(A: Flat, B: Flat): void {
    const n = A.length;
    const m = B.length;
    let at = this.from[this.count]!;
    if (at + (SIDE * (n + m)) / 2 > this.sides.length) {
      const wider = new Float64Array(2 * this.sides.length + SIDE * (n + m));
      wider.set(this.sides);
      this.sides = wider;
    }
    const { sides } = this;
    let [i, j] = [0, 0];
    let x = A[0]! + B[0]!;
    let y = A[1]! + B[1]!;
    while (i < n || j < m) {
      const k = i + 2 < n ? i + 2 : 0;
      const l = j + 2 < m ? j + 2 : 0;
      const ax = i < n ? A[k]! - A[i]! : 0;
      const ay = i < n ? A[k + 1]! - A[i + 1]! : 0;
      const bx = j < m ? B[l]! - B[j]! : 0;
      const by = j < m ? B[l + 1]! - B[j + 1]! : 0;
      const turn = i >= n ? -1 : j >= m ? 1 : ax * by - ay * bx;
      let ex = 0;
      let ey = 0;
      if (turn >= 0) {
        ex += ax;
        ey += ay;
        i += 2;
      }
      if (turn <= 0) {
        ex += bx;
        ey += by;
        j += 2;
      }
      sides[at] = x;
      sides[at + 1] = y;
      sides[at + 2] = ex;
      sides[at + 3] = ey;
      sides[at + 4] = ex * y - ey * x + SKIN * (Math.abs(ex) + Math.abs(ey));
      x += ex;
      y += ey;
      at += SIDE;
    }
    this.from.push(at);
    this.count++;
  }

  /** A polygon in which the spot lies; -1 where it is free. */
  private hinderer(x: number, y: number): number {
    // what hindered the last spot most likely hinders the next
    if (this.stands(this.hindering, x, y)) return this.hindering;
    for (let k = 0; k < this.count; k++)
      if (this.stands(k, x, y)) {
        this.hindering = k;
        return k;
      }
    return -1;
  }

  private stands(k: number, x: number, y: number): boolean {
    const { boxes, sides } = this;
    const b = 4 * k;
    if (!(x > boxes[b]! && x < boxes[b + 1]! && y > boxes[b + 2]! && y < boxes[b + 3]!)) return false;
    const end = this.from[k + 1]!;
    for (let i = this.from[k]!; i < end; i += SIDE)
      if (sides[i + 2]! * y - sides[i + 3]! * x <= sides[i + 4]!) return false;
    return true;
  }

  /** How often (dx, dy) a spot in polygon k has to go until it is within half the skin of a side: surely no longer inside. */
  private lengthInside(k: number, x: number, y: number, dx: number, dy: number): number {
    const { sides } = this;
    const end = this.from[k + 1]!;
    let least = Infinity;
    for (let i = this.from[k]!; i < end; i += SIDE) {
      const ex = sides[i + 2]!;
      const ey = sides[i + 3]!;
      const nearing = ey * dx - ex * dy;
      if (nearing <= 0) continue;
      const skin = (SKIN / 2) * (Math.abs(ex) + Math.abs(ey));
      least = Math.min(least, (ex * y - ey * x - sides[i + 4]! + skin) / nearing);
    }
    return least;
  }
}

/** From which and up to which share of its way e a point at a lies between lo and hi. */
const entry = (a: number, e: number, lo: number, hi: number): number =>
  e > 0 ? (lo - a) / e : e < 0 ? (hi - a) / e : a < lo || a > hi ? Infinity : -Infinity;
const exit = (a: number, e: number, lo: number, hi: number): number =>
  e > 0 ? (hi - a) / e : e < 0 ? (lo - a) / e : Infinity;

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
  private readonly fixed: Ring[];
  private readonly room: number;
  private readonly finder: SpotFinder;
  /** the items that go on a sheet at all */
  private readonly fitting: readonly number[];
  private tries = 0;

  constructor(shapes: readonly Shape[], area: Area, options: NestOptions) {
    this.area = area;
    this.finder = new SpotFinder(area);
    this.options = options;
    this.items = shapes.map((s) => ({
      id: s.id,
      area: areaOf(s.parts[0]!),
      turns: turnsOf(s, options.gap, LONG_EDGE),
    }));
    this.fixed = options.fixed.map((P) => boxed(fromLowest(flat(P))));
    this.room = area.width * area.height - options.fixed.reduce((sum, P) => sum + areaOf(P), 0);
    this.fitting = this.findFitting(shapes);
  }

  private emptySheet(): Sheet {
    return { grown: [...this.fixed], free: this.room, places: [] };
  }

  /** The items that go on an empty sheet; those that only a turn along a shorter edge lets fit get all their turns. */
  private findFitting(shapes: readonly Shape[]): number[] {
    return this.items.flatMap((item, i) => {
      if (this.place(this.emptySheet(), i, -1, -1)) return [i];
      item.turns = turnsOf(shapes[i]!, this.options.gap, 0);
      return this.place(this.emptySheet(), i, -1, -1) ? [i] : [];
    });
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
      const spot = this.finder.bestSpot(sheet.grown, t, dx, dy, best?.cost ?? Infinity);
      if (spot) [best, turned] = [spot, t];
    }
    if (!best || !turned) return false;
    const { x, y } = best;
    for (const g of turned.grown) sheet.grown.push(moved(g, x, y));
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
    const byArea = [...this.fitting].sort((a, b) => this.items[b]!.area - this.items[a]!.area);
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
