// Where a section's edge meets another section or the edge of the block, and the marks that both sides share. Everything
// is worked out once a pair of sections, so that ticks on one template find their partners on the other.
import type { Block, Section } from '../block.ts';
import { distance, offLine, type Point, type Polygon, type Segment, signedArea } from '../geometry/polygon.ts';

/** mm: outlines are rounded to 1 micrometre, so points of one line lie this near to it */
export const ON_LINE = 0.02;
/** mm: seam ends nearer than this across a join are meant to meet (trade rule 5) */
const MATCH = 0.25;
/** mm: no tick nearer than this to another (1/4 in), none further apart than 3 in */
const TICKS_APART = 6.35;
const TICKS_FAR = 76.2;

export interface Contact {
  readonly other: string;
  readonly join: number;
  /** ends of the shared stretch, the same order on both sides */
  readonly line: Segment;
  /** where seams of both sides meet */
  readonly matched: readonly Point[];
  /** further single ticks, so that none is more than 3 in from the next */
  readonly ticks: readonly Point[];
  /** two ticks close together, off centre: a side cannot be turned round; absent on short stretches */
  readonly pair?: readonly [Point, Point];
}

/** Corners in positive order without those that lie on the line of their neighbours. */
export function cleanOutline(P: Polygon): Point[] {
  const ring = signedArea(P) < 0 ? [...P].reverse() : [...P];
  const apart = ring.filter((q, i) => distance(q, ring[(i + ring.length - 1) % ring.length]!) > ON_LINE / 2);
  return apart.filter((q, i) => {
    const a = apart[(i + apart.length - 1) % apart.length]!;
    const b = apart[(i + 1) % apart.length]!;
    return Math.abs(offLine(a, b, q)) > ON_LINE / 4;
  });
}

export const edgesOf = (P: Polygon): Segment[] => P.map((a, i) => [a, P[(i + 1) % P.length]!]);

/** The shared stretch of two edges that run against each other on one line. */
function overlap(e: Segment, f: Segment): Segment | undefined {
  const length = distance(e[0], e[1]);
  if (Math.abs(offLine(e[0], e[1], f[0])) > ON_LINE || Math.abs(offLine(e[0], e[1], f[1])) > ON_LINE) return undefined;
  const ux = (e[1][0] - e[0][0]) / length;
  const uy = (e[1][1] - e[0][1]) / length;
  const at = (q: Point): number => (q[0] - e[0][0]) * ux + (q[1] - e[0][1]) * uy;
  const [t0, t1] = [at(f[1]), at(f[0])];
  const lo = Math.max(0, t0);
  const hi = Math.min(length, t1);
  if (hi - lo < 0.1) return undefined;
  const start = lo === 0 ? e[0] : f[1];
  const end = hi === length ? e[1] : f[0];
  return [start, end];
}

/** Seam ends of a section's pieces strictly inside a stretch. */
function seamEndsOn(s: Section, line: Segment): Point[] {
  const out: Point[] = [];
  for (const p of s.pieces)
    for (const q of p.seam ?? []) {
      if (Math.abs(offLine(line[0], line[1], q)) > ON_LINE) continue;
      const t = shareAlong(line, q) * distance(line[0], line[1]);
      if (t < MATCH || t > distance(line[0], line[1]) - MATCH) continue;
      if (!out.some((o) => distance(o, q) < ON_LINE)) out.push(q);
    }
  return out;
}

export function shareAlong([a, b]: Segment, q: Point): number {
  const l2 = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
  return ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / l2;
}

const pointAlong = ([a, b]: Segment, t: number): Point => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];

function marksOn(line: Segment, ends: readonly Point[], others: readonly Point[]) {
  const length = distance(line[0], line[1]);
  const matched = ends.filter((q) => others.some((o) => distance(o, q) < MATCH));
  const where = (q: Point): number => shareAlong(line, q) * length;
  const taken = [0, length, ...matched.map(where)];
  // seams of either side run through the allowance: the pair keeps off them so that it is not taken for one
  const seams = [...ends, ...others].map(where);
  const clear = (t: number): number => Math.min(...taken.map((m) => Math.abs(m - t)));
  const clearOfSeams = (t: number): number => Math.min(Infinity, ...seams.map((m) => Math.abs(m - t)));
  let pair: [Point, Point] | undefined;
  const half = 0.8;
  const tries = [0.36, 0.64, 0.3, 0.7, 0.4, 0.6, 0.26, 0.74, 0.22, 0.78].map((share) => share * length);
  const good = tries.filter((t) => clear(t) >= TICKS_APART + half);
  const best = good.find((t) => clearOfSeams(t) >= 3) ?? good[0];
  if (best !== undefined) {
    pair = [pointAlong(line, (best - half) / length), pointAlong(line, (best + half) / length)];
    taken.push(best);
  }
  taken.sort((a, b) => a - b);
  const ticks: Point[] = [];
  for (let i = 0; i + 1 < taken.length; i++) {
    const gap = taken[i + 1]! - taken[i]!;
    const parts = Math.ceil(gap / TICKS_FAR);
    for (let k = 1; k < parts; k++) ticks.push(pointAlong(line, (taken[i]! + (gap * k) / parts) / length));
  }
  return { matched, ticks, ...(pair ? { pair } : {}) };
}

/** Every section's contacts with other sections, by section id. */
export function findContacts(block: Block): Map<string, Contact[]> {
  const found = new Map<string, Contact[]>(block.sections.map((s) => [s.id, []]));
  const outlines = block.sections.map((s) => edgesOf(cleanOutline(s.outline)));
  const sides = block.joins.map((j) => ({ number: j.number, left: new Set(j.left), right: new Set(j.right) }));
  for (let i = 0; i < block.sections.length; i++)
    for (let k = i + 1; k < block.sections.length; k++) {
      const [a, b] = [block.sections[i]!, block.sections[k]!];
      for (const e of outlines[i]!)
        for (const f of outlines[k]!) {
          const line = overlap(e, f);
          if (!line) continue;
          const join = sides.find(
            (j) => (j.left.has(a.id) && j.right.has(b.id)) || (j.left.has(b.id) && j.right.has(a.id)),
          );
          if (!join) throw new Error(`sections ${a.id} and ${b.id} touch, but no join is between them`);
          const marks = marksOn(line, seamEndsOn(a, line), seamEndsOn(b, line));
          found.get(a.id)!.push({ other: b.id, join: join.number, line, ...marks });
          found.get(b.id)!.push({ other: a.id, join: join.number, line, ...marks });
        }
    }
  return found;
}

/** The edges of an outline that lie on the edge of the block. */
export function outerEdges(outline: Polygon, size: readonly [number, number]): Segment[] {
  const on = (v: number, at: number): boolean => Math.abs(v - at) < ON_LINE;
  return edgesOf(outline).filter(([a, b]) =>
    [0, 1].some((axis) => [0, size[axis]!].some((at) => on(a[axis]!, at) && on(b[axis]!, at))),
  );
}
