// Hand-drawn lines -> a clean set of corners and edges. Takes segments in mm, joins ends that nearly meet, ends that nearly reach
// a line, and divides lines where they cross, meet or lie on each other. Gives corners and undirected edges between them.
// Assumes a few thousand lines at most: pairs are compared through a grid of cells.
import { distance, type Point, type Segment } from '../geometry/polygon.ts';

export interface Net {
  readonly corners: Point[];
  /** pairs of corner numbers, each pair once, lower first */
  readonly edges: (readonly [number, number])[];
  /** ends that were moved to meet another end or a line */
  readonly joined: number;
}

/** Distance of q from the segment, and how far along it, as a share of its length. */
export function nearestOn([a, b]: Segment, q: Point): { off: number; share: number } {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const share = Math.min(1, Math.max(0, ((q[0] - a[0]) * dx + (q[1] - a[1]) * dy) / (dx * dx + dy * dy)));
  return { off: Math.hypot(a[0] + share * dx - q[0], a[1] + share * dy - q[1]), share };
}

/** Corners, numbered as they are first met; ends within `near` are one. */
class Corners {
  readonly list: Point[] = [];
  readonly #cells = new Map<string, number[]>();
  readonly #near: number;
  moved = 0;

  constructor(near: number) {
    this.#near = near;
  }

  at(p: Point): number {
    const [cx, cy] = [Math.floor(p[0] / this.#near), Math.floor(p[1] / this.#near)];
    let best = -1;
    let least = this.#near;
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (const i of this.#cells.get(`${x} ${y}`) ?? []) {
          const d = distance(this.list[i]!, p);
          if (d <= least) [best, least] = [i, d];
        }
    if (best >= 0) {
      if (least > 0.002) this.moved++;
      return best;
    }
    const made = this.list.push(p) - 1;
    const key = `${cx} ${cy}`;
    this.#cells.set(key, [...(this.#cells.get(key) ?? []), made]);
    return made;
  }
}

/** Joins, divides and cleans. `near`: mm within which ends are meant to meet. Undefined where that makes more than `most`
 *  corners. */
export function joinLines(
  lines: readonly Segment[],
  frame: readonly [number, number],
  near: number,
  most = Infinity,
): Net | undefined {
  let snapped = 0;
  const corners = new Corners(near);
  const [w, h] = frame;
  const rim: Point[] = [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ];
  for (const p of rim) corners.at(p);
  const snap = (v: number, far: number): number => (Math.abs(v) <= near ? 0 : Math.abs(v - far) <= near ? far : v);
  const ends = lines.map((ab) =>
    ab.map((p): Point => {
      const q: Point = [snap(p[0], w), snap(p[1], h)];
      if (distance(p, q) > 0.002) snapped++;
      return q;
    }),
  );
  let segments = [
    ...ends.map(([a, b]) => [corners.at(a!), corners.at(b!)] as const),
    [0, 1] as const,
    [1, 2] as const,
    [2, 3] as const,
    [3, 0] as const,
  ];
  segments = unique(segments);
  if (corners.list.length > most) return undefined;
  const line = ([i, j]: readonly [number, number]): Segment => [corners.list[i]!, corners.list[j]!];
  // Ends that nearly reach a line belong to it. Lines' own ends may move in turn, so all are laid on their lines until none moves.
  const on = corners.list.map((p, c) => (c < rim.length ? undefined : lineUnder(segments, corners.list, c, p, near)));
  const start = [...corners.list];
  for (let round = 0; round < ROUNDS; round++)
    on.forEach((s, c) => {
      if (s === undefined) return;
      const [a, b] = line(segments[s]!);
      const { share } = nearestOn([a, b], corners.list[c]!);
      corners.list[c] = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    });
  const joined = start.filter((p, c) => distance(p, corners.list[c]!) > 0.002).length;
  const cuts = segments.map((): { share: number; corner: number }[] => []);
  on.forEach((s, c) => {
    if (s !== undefined) cuts[s]!.push({ share: nearestOn(line(segments[s]!), corners.list[c]!).share, corner: c });
  });
  const boxes = segments.map((s) => {
    const [a, b] = line(s);
    return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1])] as const;
  });
  for (let i = 0; i < segments.length; i++)
    for (let j = i + 1; j < segments.length; j++) {
      const [p, q] = [boxes[i]!, boxes[j]!];
      if (p[0] > q[2] || q[0] > p[2] || p[1] > q[3] || q[1] > p[3]) continue;
      const [s, t] = [segments[i]!, segments[j]!];
      if (s.some((c) => t.includes(c) || on[c] === j) || t.some((c) => on[c] === i)) continue;
      const met = crossing(line(s), line(t));
      if (!met) continue;
      const corner = corners.at(met.at);
      if (corners.list.length > most) return undefined;
      cuts[i]!.push({ share: met.s, corner });
      cuts[j]!.push({ share: met.t, corner });
    }
  const edges: (readonly [number, number])[] = [];
  segments.forEach((s, i) => {
    const own = line(s);
    const found = [...cuts[i]!];
    const known = new Set([...s, ...found.map((f) => f.corner)]);
    const [x0, y0, x1, y1] = boxes[i]!;
    const slack = ON_LINE;
    corners.list.forEach((c, k) => {
      if (known.has(k) || c[0] < x0 - slack || c[0] > x1 + slack || c[1] < y0 - slack || c[1] > y1 + slack) return;
      const { off, share } = nearestOn(own, c);
      if (off <= slack && share > 0 && share < 1) found.push({ share, corner: k });
    });
    found.sort((a, b) => a.share - b.share);
    let last = s[0];
    for (const { corner } of [...found, { corner: s[1] }]) {
      if (corner === last) continue;
      edges.push([last, corner]);
      last = corner;
    }
  });
  return { corners: corners.list, edges: unique(edges), joined: joined + corners.moved + snapped };
}

/** Rounds of laying ends on lines; what is left after them is under a micrometre. */
const ROUNDS = 20;

/** The nearest line within `near` of a corner that is no end of it. */
function lineUnder(
  segments: readonly (readonly [number, number])[],
  list: readonly Point[],
  corner: number,
  p: Point,
  near: number,
): number | undefined {
  let best: number | undefined;
  let least = near;
  segments.forEach(([i, j], s) => {
    if (i === corner || j === corner) return;
    const { off, share } = nearestOn([list[i]!, list[j]!], p);
    if (off <= least && share > 0 && share < 1) [best, least] = [s, off];
  });
  return best;
}

/** mm within which a corner lies on a line once ends have been joined: larger than rounding, far under what a hand can draw. */
const ON_LINE = 0.02;

function unique(edges: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const seen = new Set<string>();
  return edges.flatMap(([a, b]) => {
    const [low, high] = a < b ? [a, b] : [b, a];
    const key = `${low} ${high}`;
    if (low === high || seen.has(key)) return [];
    seen.add(key);
    return [[low, high] as const];
  });
}

/** Where two segments cross inside both. */
function crossing([a, b]: Segment, [c, d]: Segment): { at: Point; s: number; t: number } | undefined {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const den = ux * vy - uy * vx;
  if (Math.abs(den) < 1e-9) return undefined;
  const s = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / den;
  const t = ((c[0] - a[0]) * uy - (c[1] - a[1]) * ux) / den;
  if (s <= 0 || s >= 1 || t <= 0 || t >= 1) return undefined;
  return { at: [a[0] + s * ux, a[1] + s * uy], s, t };
}
