// The side way from stage 2. Takes a Shading, gives its regions as polygons that share their borders: each border is
// followed once and simplified once for both neighbours, so that neither gap nor overlap can open. Areas sum to the block.
import { onGrid } from '../block.ts';
import type { Outlines, Shading } from '../data.ts';
import { findRegions } from '../geometry/label-regions.ts';
import { type Point, signedArea } from '../geometry/polygon.ts';

import { simplifyByDistance } from '../geometry/simplify-line.ts';
import { type Arc, ringsOf, traceArcs } from './trace-arcs.ts';

export interface OutlineOptions {
  /** how far a border may move, mm; half a cell takes the steps of the grid away, the default is 0.75 of a cell */
  readonly tolerance?: number;
}

/** Cells; sides up to this long are steps of a slope, longer ones are straight edges. */
const LONGEST_STEP = 3;

const keyOf = (p: Point): string => `${p[0]},${p[1]}`;

/** Whether two segments share more than an end that both have. */
function meet(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (o: Point, p: Point, q: Point): number =>
    Math.sign((p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]));
  const within = (o: Point, p: Point, q: Point): boolean =>
    Math.min(o[0], p[0]) <= q[0] &&
    q[0] <= Math.max(o[0], p[0]) &&
    Math.min(o[1], p[1]) <= q[1] &&
    q[1] <= Math.max(o[1], p[1]);
  const same = (p: Point, q: Point): boolean => p[0] === q[0] && p[1] === q[1];
  const s1 = side(a, b, c);
  const s2 = side(a, b, d);
  const s3 = side(c, d, a);
  const s4 = side(c, d, b);
  if (s1 * s2 < 0 && s3 * s4 < 0) return true;
  const ends = [
    s1 === 0 && within(a, b, c) && !same(c, a) && !same(c, b),
    s2 === 0 && within(a, b, d) && !same(d, a) && !same(d, b),
    s3 === 0 && within(c, d, a) && !same(a, c) && !same(a, d),
    s4 === 0 && within(c, d, b) && !same(b, c) && !same(b, d),
  ];
  return ends.some(Boolean) || (same(a, c) && same(b, d)) || (same(a, d) && same(b, c));
}

/** Arcs that touch others, or themselves, elsewhere than at shared ends. Segments are sorted into square buckets. */
function crossing(arcs: readonly (readonly Point[])[], size: number): Set<number> {
  const buckets = new Map<number, [number, Point, Point][]>();
  const bad = new Set<number>();
  arcs.forEach((points, id) => {
    for (let i = 0; i + 1 < points.length; i++) {
      const [p, q] = [points[i]!, points[i + 1]!];
      const seen = new Set<unknown>();
      for (let y = Math.floor(Math.min(p[1], q[1]) / size); y <= Math.floor(Math.max(p[1], q[1]) / size); y++)
        for (let x = Math.floor(Math.min(p[0], q[0]) / size); x <= Math.floor(Math.max(p[0], q[0]) / size); x++) {
          const key = y * 65536 + x;
          const list = buckets.get(key) ?? [];
          for (const entry of list) {
            if (seen.has(entry)) continue;
            seen.add(entry);
            if (meet(p, q, entry[1], entry[2])) {
              bad.add(id);
              bad.add(entry[0]);
            }
          }
          list.push([id, p, q]);
          buckets.set(key, list);
        }
    }
  });
  return bad;
}

/** Replaces the corners of short steps by the middles of the steps, so that a slope of cells becomes a slope; the corners of
 *  long straight sides and the ends stay. */
function smoothSteps(points: readonly Point[]): Point[] {
  const closed = keyOf(points[0]!) === keyOf(points.at(-1)!);
  const out: Point[] = [];
  const add = (p: Point): void => {
    if (!out.length || keyOf(out.at(-1)!) !== keyOf(p)) out.push(p);
  };
  if (!closed) add(points[0]!);
  for (let i = 0; i + 1 < points.length; i++) {
    const [p, q] = [points[i]!, points[i + 1]!];
    if (Math.abs(p[0] - q[0]) + Math.abs(p[1] - q[1]) <= LONGEST_STEP) add([(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]);
    else {
      add(p);
      add(q);
    }
  }
  add(closed ? out[0]! : points.at(-1)!);
  return out;
}

/** A closed arc is cut at the two points farthest apart, so that simplifying cannot swallow it. */
function simplifyArc(points: readonly Point[], tolerance: number): Point[] {
  if (keyOf(points[0]!) !== keyOf(points.at(-1)!)) return simplifyByDistance(points, tolerance);
  let far = 1;
  const d = (p: Point): number => Math.hypot(p[0] - points[0]![0], p[1] - points[0]![1]);
  for (let i = 1; i < points.length - 1; i++) if (d(points[i]!) > d(points[far]!)) far = i;
  const one = simplifyByDistance(points.slice(0, far + 1), tolerance);
  const two = simplifyByDistance(points.slice(far), tolerance);
  const ring = [...one, ...two.slice(1)];
  return ring.length >= 4 ? ring : [...points];
}

/** Simplifies every arc; where the results cross, those arcs are simplified less, at last not at all. */
function simplifyArcs(arcs: readonly Arc[], tolerance: number): (readonly Point[])[] {
  const make = (arc: Arc, level: number): readonly Point[] => {
    if (arc.left < 0 || arc.right < 0) return arc.points; // the block's own edge
    if (level >= 3) return arc.points;
    const smooth = level < 2 ? smoothSteps(arc.points) : arc.points;
    return simplifyArc(smooth, level < 2 ? tolerance / 2 ** level : 0.01);
  };
  const levels = arcs.map(() => 0);
  let lines = arcs.map((arc) => make(arc, 0));
  for (let round = 0; round < 12; round++) {
    const bad = crossing(lines, 8);
    if (!bad.size) break;
    let changed = false;
    for (const id of bad)
      if (levels[id]! < 3) {
        levels[id]!++;
        changed = true;
      }
    if (!changed) break;
    lines = arcs.map((arc, i) => (bad.has(i) ? make(arc, levels[i]!) : lines[i]!));
  }
  return lines;
}

/** Regions of `shading` as polygons on `size` mm, in the order of their first cells; on the grid of 1 micrometre.
 *  Throws Error where the areas do not sum to the block: that would be a fault of this code. */
export function traceOutlines(
  shading: Shading,
  size: readonly [number, number],
  options: OutlineOptions = {},
): Outlines {
  const { width: w, height: h, labels } = shading;
  const { region, list } = findRegions(labels, w, h);
  const scale = [size[0] / w, size[1] / h] as const;
  const tolerance = options.tolerance === undefined ? 0.75 : options.tolerance / Math.max(scale[0], scale[1]);
  const arcs = traceArcs(region, w, h);
  const lines = simplifyArcs(arcs, tolerance);
  const scaled = arcs.map((arc, i) => ({
    left: arc.left,
    right: arc.right,
    points: lines[i]!.map(([x, y]): Point => [onGrid(x * scale[0]), onGrid(y * scale[1])]),
  }));
  const regions = ringsOf(scaled, list.length).map((rings, id) => {
    const ordered = rings.sort((p, q) => Math.abs(signedArea(q)) - Math.abs(signedArea(p)));
    return { fabric: list[id]!.label, rings: ordered };
  });
  const sum = regions.reduce((t, r) => t + r.rings.reduce((u, ring) => u + signedArea(ring), 0), 0);
  if (Math.abs(sum - size[0] * size[1]) > 1e-3) throw new Error(`outlines cover ${sum} of ${size[0] * size[1]} mm²`);
  return { size, regions };
}
