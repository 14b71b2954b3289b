// Where on a sheet a turned template may stand: the no-fit polygons of those already there (for convex shapes Minkowski sums;
// Art 1966, Bennell & Oliveira 2008) are followed to the best free spot.
import type { Area } from './pack-boxes.ts';
import type { Flat, Ring, Turned } from './turned-shape.ts';

const EPS = 1e-7;
/** mm: what lies no deeper in a polygon counts as on its side */
const SKIN = 1e-6;
/** numbers kept for a side of a no-fit polygon: its start, its way, and what ex * y - ey * x exceeds within it */
const SIDE = 5;

/** No spot can be better than the corner that the direction points to. */
export const cornerBound = (t: Turned, area: Area, dx: number, dy: number): number =>
  dx * (dx > 0 ? -t.x0 : area.width - t.x1) + dy * (dy > 0 ? -t.y0 : area.height - t.y1) + dx * t.cx + dy * t.cy;

/** Looks for spots on a sheet; keeps its room for no-fit polygons from one search to the next. */
export class SpotFinder {
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
