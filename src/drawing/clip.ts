// Straight lines cut to convex shapes: kept inside one, taken out of others. Lengths in the unit of the input.
import {
  boundsOf,
  centroid,
  clipHalf,
  cross,
  distance,
  type Point,
  type Polygon,
  type Segment,
  signedArea,
} from '../geometry/polygon.ts';

/** The share [t0, t1] of the segment that lies inside a convex polygon (either order); undefined where none does. */
export function spanInside(P: Polygon, s: Segment): [number, number] | undefined {
  const turn = Math.sign(signedArea(P)) || 1;
  const p = s[0];
  const q = s[1];
  let t0 = 0;
  let t1 = 1;
  for (let i = 0; i < P.length; i++) {
    const a = P[i]!;
    const b = P[(i + 1) % P.length]!;
    const fp = turn * cross(a, b, p);
    const fq = turn * cross(a, b, q);
    if (fp < 0 && fq < 0) return undefined;
    if (fp >= 0 && fq >= 0) continue;
    const t = fp / (fp - fq);
    if (fp < 0) {
      if (t > t0) t0 = t;
    } else if (t < t1) t1 = t;
  }
  return t1 > t0 ? [t0, t1] : undefined;
}

const along = ([p, q]: Segment, t: number): Point => [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];

/** The parts of a segment inside `inside` and outside every one of `holes`, all convex. */
export function clipSegment(s: Segment, inside: Polygon, holes: readonly Polygon[]): Segment[] {
  const span = spanInside(inside, s);
  if (!span) return [];
  let spans: [number, number][] = [span];
  for (const hole of holes) {
    const gap = spanInside(hole, s);
    if (!gap) continue;
    spans = spans.flatMap(([a, b]): [number, number][] => [
      ...(gap[0] > a ? [[a, Math.min(b, gap[0])] as [number, number]] : []),
      ...(gap[1] < b ? [[Math.max(a, gap[1]), b] as [number, number]] : []),
    ]);
    spans = spans.filter(([a, b]) => b > a);
  }
  return spans.map(([a, b]) => [along(s, a), along(s, b)]);
}

/** The convex polygon with every edge moved inwards by `by` (outwards where negative, corners mitred); [] where nothing
 *  is left. `by` may depend on the edge's outward unit normal. */
export function insetConvex(P: Polygon, by: number | ((nx: number, ny: number) => number)): Point[] {
  const turn = (Math.sign(signedArea(P)) || 1) as 1 | -1;
  const lines: Segment[] = [];
  let outward = 0;
  for (let i = 0; i < P.length; i++) {
    const a = P[i]!;
    const b = P[(i + 1) % P.length]!;
    const length = distance(a, b);
    if (length < 1e-9) continue;
    const nx = (turn * (b[1] - a[1])) / length;
    const ny = (-turn * (b[0] - a[0])) / length;
    const d = typeof by === 'number' ? by : by(nx, ny);
    outward = Math.max(outward, -d);
    lines.push([
      [a[0] - nx * d, a[1] - ny * d],
      [b[0] - nx * d, b[1] - ny * d],
    ]);
  }
  let out: Point[] = [...P];
  if (outward > 0) {
    const b = boundsOf(P);
    const far = 4 * (b.maxX - b.minX + b.maxY - b.minY + outward);
    out = [
      [b.minX - far, b.minY - far],
      [b.maxX + far, b.minY - far],
      [b.maxX + far, b.maxY + far],
      [b.minX - far, b.maxY + far],
    ];
  }
  for (const [a, b] of lines) {
    out = clipHalf(out, a, b, turn);
    if (out.length < 3) return [];
  }
  return out;
}

/** What two convex polygons share; [] where nothing. Corners in the order of P. */
export function intersectConvex(P: Polygon, Q: Polygon): Point[] {
  const turn = (Math.sign(signedArea(Q)) || 1) as 1 | -1;
  let out: Point[] = [...P];
  for (let i = 0; i < Q.length && out.length >= 3; i++) out = clipHalf(out, Q[i]!, Q[(i + 1) % Q.length]!, turn);
  return out.length >= 3 ? out : [];
}

/** True where two convex polygons share area: no edge of either separates them by `gap` or more. */
export function convexTouch(A: Polygon, B: Polygon, gap = 0): boolean {
  return !separated(A, B, gap) && !separated(B, A, gap);
}

function separated(A: Polygon, B: Polygon, gap: number): boolean {
  const turn = Math.sign(signedArea(A)) || 1;
  for (let i = 0; i < A.length; i++) {
    const a = A[i]!;
    const b = A[(i + 1) % A.length]!;
    const length = distance(a, b);
    if (length < 1e-9) continue;
    let nearest = Infinity;
    for (const q of B) nearest = Math.min(nearest, (-turn * cross(a, b, q)) / length);
    if (nearest >= gap) return true;
  }
  return false;
}

/** Shortest distance from a point to a segment. */
export function distanceToSegment(q: Point, [a, b]: Segment): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((q[0] - a[0]) * dx + (q[1] - a[1]) * dy) / l2));
  const x = q[0] - a[0] - t * dx;
  const y = q[1] - a[1] - t * dy;
  return Math.sqrt(x * x + y * y);
}

/** Shortest distance between a segment and a convex polygon; 0 where they touch. */
export function distanceToConvex(s: Segment, P: Polygon): number {
  if (spanInside(P, s)) return 0;
  let least = Infinity;
  for (let i = 0; i < P.length; i++) {
    const edge: Segment = [P[i]!, P[(i + 1) % P.length]!];
    least = Math.min(
      least,
      distanceToSegment(s[0], edge),
      distanceToSegment(s[1], edge),
      distanceToSegment(edge[0], s),
      distanceToSegment(edge[1], s),
    );
  }
  return least;
}

/** The middle of the largest circle in a convex polygon, and its radius (bisection on the inset). */
export function deepestPoint(P: Polygon): { at: Point; radius: number } {
  let [lo, hi] = [0, 1000];
  let at = centroid(P);
  for (let k = 0; k < 30 && hi - lo > 0.005; k++) {
    const mid = (lo + hi) / 2;
    const inner = insetConvex(P, mid);
    if (inner.length < 3) hi = mid;
    else {
      lo = mid;
      at = centroid(inner);
    }
  }
  return { at, radius: lo };
}
