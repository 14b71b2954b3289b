// Convex polygons as lists of corners [x, y], y down. "Positive" corner order = the shoelace sum is positive
// (clockwise to the eye, since y runs down). All functions are pure; lengths are in the unit of the input.

export type Point = readonly [x: number, y: number];
export type Segment = readonly [Point, Point];
export type Polygon = readonly Point[];

/** Twice the signed area of triangle o, a, b: positive where a -> b turns in positive order about o. */
export const cross = (o: Point, a: Point, b: Point): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);

/** mm. Not by Math.hypot, which guards against numbers that no block has, for ten times the work. */
export const distance = (a: Point, b: Point): number => {
  const x = b[0] - a[0];
  const y = b[1] - a[1];
  return Math.sqrt(x * x + y * y);
};

/** Signed shoelace area; positive for positive order. */
export function signedArea(P: Polygon): number {
  let sum = 0;
  for (let i = 0, j = P.length - 1; i < P.length; j = i++) sum += P[j]![0] * P[i]![1] - P[i]![0] * P[j]![1];
  return sum / 2;
}

export const areaOf = (P: Polygon): number => Math.abs(signedArea(P));

/** Area centroid. */
export function centroid(P: Polygon): Point {
  let a = 0;
  let x = 0;
  let y = 0;
  for (let i = 0, j = P.length - 1; i < P.length; j = i++) {
    const c = P[j]![0] * P[i]![1] - P[i]![0] * P[j]![1];
    a += c;
    x += c * (P[j]![0] + P[i]![0]);
    y += c * (P[j]![1] + P[i]![1]);
  }
  return a === 0 ? P[0]! : [x / (3 * a), y / (3 * a)];
}

export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export function boundsOf(points: Iterable<Point>): Bounds {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const p of points) {
    const x = p[0];
    const y = p[1];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** The smallest distance between two parallel lines that hold the polygon between them: its narrowest width.
 *  For a convex polygon one of the two lines lies along an edge (Houle & Toussaint 1988). O(n²), n is small. */
export function narrowestWidth(P: Polygon): number {
  let width = Infinity;
  for (let i = 0; i < P.length; i++) {
    const a = P[i]!;
    const b = P[(i + 1) % P.length]!;
    const length = distance(a, b);
    if (length < 1e-6) continue;
    let far = 0;
    for (const q of P) far = Math.max(far, Math.abs(cross(a, b, q)) / length);
    width = Math.min(width, far);
  }
  return width;
}

/** Interior angles in degrees, one a corner. */
export function cornerAngles(P: Polygon): number[] {
  return P.map((b, i) => {
    const a = P[(i + P.length - 1) % P.length]!;
    const c = P[(i + 1) % P.length]!;
    const u: Point = [a[0] - b[0], a[1] - b[1]];
    const v: Point = [c[0] - b[0], c[1] - b[1]];
    return (Math.atan2(Math.abs(u[0] * v[1] - u[1] * v[0]), u[0] * v[0] + u[1] * v[1]) * 180) / Math.PI;
  });
}

/** Convex hull in positive order, collinear points dropped (Andrew's monotone chain, 1979). */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly Point[]): Point[] => {
    const out: Point[] = [];
    for (const q of list) {
      while (out.length > 1 && cross(out[out.length - 2]!, out[out.length - 1]!, q) <= 0) out.pop();
      out.push(q);
    }
    out.pop();
    return out;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** The part of a convex polygon on one side of the line a -> b: side 1 keeps where cross(a, b, q) >= 0, side -1 the rest. */
export function clipHalf(P: Polygon, a: Point, b: Point, side: 1 | -1): Point[] {
  const out: Point[] = [];
  for (let i = 0; i < P.length; i++) {
    const p = P[i]!;
    const q = P[(i + 1) % P.length]!;
    const fp = side * cross(a, b, p);
    const fq = side * cross(a, b, q);
    if (fp >= 0) out.push(p);
    if ((fp > 0 && fq < 0) || (fp < 0 && fq > 0)) {
      const t = fp / (fp - fq);
      out.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
  }
  return out;
}

/** Where the lines a-b and c-d meet; undefined where they are parallel. */
export function meetLines(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const den = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  if (Math.abs(den) < 1e-12) return undefined;
  const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / den;
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** Distance of q from the line through a and b, positive where cross(a, b, q) is. */
export const offLine = (a: Point, b: Point, q: Point): number => cross(a, b, q) / distance(a, b);

/** True inside or on the border of a convex polygon (either order), within eps of every edge. */
export function insideConvex(P: Polygon, q: Point, eps = 0): boolean {
  const turn = Math.sign(signedArea(P));
  for (let i = 0; i < P.length; i++) {
    const a = P[i]!;
    const b = P[(i + 1) % P.length]!;
    const length = distance(a, b);
    if (length > 1e-9 && (turn * cross(a, b, q)) / length < -eps) return false;
  }
  return true;
}

/** Reflection of q across the line through a and b. */
export function reflect(q: Point, a: Point, b: Point): Point {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const t = (2 * ((q[0] - a[0]) * dx + (q[1] - a[1]) * dy)) / (dx * dx + dy * dy);
  return [2 * a[0] + t * dx - q[0], 2 * a[1] + t * dy - q[1]];
}
