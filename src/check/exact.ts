// The checker's own geometry, on whole micrometres, so that the proof does not rest on the kernels that fitted the block.
// Takes corners in micrometres; cross products of blocks up to 30 m stay under 2^53, so every sign is exact.
// Assumes positive corner order (shoelace sum above zero, y down) where a loop is asked for.

/** A corner in whole micrometres. */
export type Micro = readonly [x: number, y: number];

/** Longest side in µm for which sums of two products of coordinate differences stay exact: 2 · (3e7)² < 2^53. */
export const LARGEST = 3e7;

/** A corner rounded to the grid of 1 µm lies up to √½ µm from its true place. One that was laid on an edge that was itself
 *  laid on an edge, six times over, lies (6 + 1) · √½ = 4.95 µm off the straight line: more is no rounding. */
export const OFF_LINE = 5;

/** The corners of one straight side of a union may be off to both sides of it. */
export const bend = (slack: number): number => 2 * slack;

/** Two corners that are meant to be one and were rounded apart lie at most 2 · √½ = 1.41 µm from each other. */
export const SAME_CORNER = 2;

/** A second corner within OFF_LINE of a sharp tip moves the tip by up to OFF_LINE / sin(angle): 96 µm at 3°. A seam may end that
 *  far from where the two sides' common edge ends; across the edge it may be off by OFF_LINE only. */
export const SEAM_END = 100;

export const toMicro = (p: readonly [number, number]): Micro => [Math.round(p[0] * 1000), Math.round(p[1] * 1000)];
export const toMm = (p: Micro): readonly [number, number] => [p[0] / 1000, p[1] / 1000];

/** Twice the signed area of o, a, b; exact. */
export const turn = (o: Micro, a: Micro, b: Micro): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);

export const between = (a: Micro, b: Micro): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Twice the signed area of a loop, by triangles at its first corner so that every term is exact. */
export function twiceArea(loop: readonly Micro[]): number {
  let sum = 0;
  for (let i = 2; i < loop.length; i++) sum += turn(loop[0]!, loop[i - 1]!, loop[i]!);
  return sum;
}

/** How far q lies off the segment a-b and how far along it (from a), in µm. */
export function offSegment(a: Micro, b: Micro, q: Micro): { off: number; along: number; length: number } {
  const length = between(a, b);
  if (length === 0) return { off: between(a, q), along: 0, length };
  const along = ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length;
  return { off: turn(a, b, q) / length, along, length };
}

/** Convex hull in positive order, without corners on its edges. Gift wrapping: slow, short, exact. */
export function wrap(points: readonly Micro[]): Micro[] {
  let start = points[0]!;
  for (const p of points) if (p[0] < start[0] || (p[0] === start[0] && p[1] < start[1])) start = p;
  const hull: Micro[] = [];
  let at = start;
  do {
    hull.push(at);
    let next: Micro | undefined;
    for (const p of points) {
      if (p[0] === at[0] && p[1] === at[1]) continue;
      const side = next ? turn(at, next, p) : -1;
      if (side < 0 || (side === 0 && between(at, p) > between(at, next!))) next = p;
    }
    if (!next) break;
    at = next;
  } while ((at[0] !== start[0] || at[1] !== start[1]) && hull.length <= points.length);
  return hull;
}

/** Undefined where a loop goes once round a convex outline, no corner more than `slack` off it; else the worst corner.
 *  Corners that are no hull corners must lie along the hull edge between their two hull neighbours, in its direction. */
export function notConvexAt(loop: readonly Micro[], slack: number): Micro | undefined {
  const hull = wrap(loop);
  const key = (p: Micro): string => `${p[0]},${p[1]}`;
  const rank = new Map(hull.map((p, i) => [key(p), i]));
  if (hull.length < 3 || new Set(loop.map(key)).size !== loop.length) return loop[0];
  const first = loop.findIndex((p) => rank.get(key(p)) === 0);
  let worst: Micro | undefined;
  let amount = slack;
  let edge = 0;
  let reached = 0;
  for (let i = 1; i <= loop.length; i++) {
    const p = loop[(first + i) % loop.length]!;
    const a = hull[edge]!;
    const b = hull[(edge + 1) % hull.length]!;
    const r = rank.get(key(p));
    if (r !== undefined) {
      if (r !== (edge + 1) % hull.length) return p;
      edge++;
      reached = 0;
      continue;
    }
    const { off, along } = offSegment(a, b, p);
    const back = reached - along;
    if (Math.max(off, back) > amount) {
      amount = Math.max(off, back);
      worst = p;
    }
    reached = along;
  }
  return worst ?? (edge === hull.length ? undefined : loop[first]);
}

/** A way out and back shorter than this, in µm, may come of rounding at a sharp tip. */
const SHORTEST_SPIKE = SEAM_END;
/** per µm of the way: a tip of half a degree holds nothing that could be sewn */
const SPIKE = 0.01;

/** The corner at which an outline turns back on the way it came, within `slack`: a point without area. Such a way out and back adds
 *  nothing to any sum of borders, and must be looked for by itself. */
export function spikeIn(outline: readonly Micro[], slack: number): Micro | undefined {
  const loop = outline.filter((p, i) => between(p, outline[(i + 1) % outline.length]!) > 0);
  return loop.find((tip, i) => {
    const [a, b] = [loop[(i + loop.length - 1) % loop.length]!, loop[(i + 1) % loop.length]!];
    const [near, far] = between(tip, a) < between(tip, b) ? [a, b] : [b, a];
    const { off, along } = offSegment(tip, far, near);
    return along > SHORTEST_SPIKE && Math.abs(off) <= Math.max(1, Math.min(slack, SPIKE * along));
  });
}

/** The smallest distance in µm between two parallel lines that hold all points; one of them lies along a hull edge. */
export function narrowest(points: readonly Micro[]): number {
  const hull = wrap(points);
  let width = Infinity;
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i]!;
    const b = hull[(i + 1) % hull.length]!;
    let far = 0;
    for (const q of hull) far = Math.max(far, turn(a, b, q) / between(a, b));
    width = Math.min(width, far);
  }
  return width;
}

/** Whether points with `margin` on every side fit into width x height, turned any way (all in µm).
 *  The smallest box has a side along a hull edge (Freeman & Shapira 1975). */
export function fitsBox(points: readonly Micro[], width: number, height: number, margin: number): boolean {
  const hull = wrap(points);
  return hull.some((a, i) => {
    const b = hull[(i + 1) % hull.length]!;
    const spots = hull.map((q) => offSegment(a, b, q));
    const along = spots.map((s) => s.along);
    const w = Math.max(...along) - Math.min(...along) + 2 * margin - OFF_LINE;
    const h = Math.max(...spots.map((s) => s.off)) + 2 * margin - OFF_LINE;
    return (w <= width && h <= height) || (w <= height && h <= width);
  });
}

/** Whether q lies strictly inside a convex loop in positive order. */
export function holds(loop: readonly Micro[], q: Micro): boolean {
  return loop.every((a, i) => {
    const b = loop[(i + 1) % loop.length]!;
    return turn(a, b, q) > 0 || (a[0] === b[0] && a[1] === b[1]);
  });
}
