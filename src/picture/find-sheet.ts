// Finds the sheet in a photo of a paper print, a drawing or a screen: one four-sided thing that is unlike all that lies along
// the frame. Takes sRGB pixels, gives its corners. Assumes that all of the sheet is in the picture, with table around it.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { writeOklab } from '../colour/oklab.ts';
import { convexHull } from '../geometry/polygon.ts';

/** x, y of the four corners, clockwise from the top left. */
export type Corners = readonly [number, number, number, number, number, number, number, number];

/** Longer side of the copy that is looked at. */
const SIDE = 256;
/** Pixels of the copy along the frame that are table. */
const BAND = 3;
/** Share of the frame in one exact colour over which the picture is drawn by a program or cut out, and shows no table. */
const ONE_COLOUR = 0.5;
/** OKLab distance from the table's colours that a sheet has at least. */
const UNLIKE = 0.06;
/** Share of the picture that a sheet covers. */
const LEAST_AREA = 0.15;
const MOST_AREA = 0.97;
/** Share of its four-sided frame that it fills, and of each side that lies within NEAR pixels of a straight line. */
const FULL = 0.965;
const STRAIGHT = 0.85;
const NEAR = 1.6;
/** The corners themselves, which may be bent or rounded, are left out: this much of a side is looked at. */
const ALONG = 0.92;
/** Cosine over which a corner is too sharp or too flat, and how unlike opposite sides may be. */
const SKEW = 0.5;
const UNEVEN = 1.7;

interface Small {
  readonly w: number;
  readonly h: number;
  /** sRGB of each place as one number */
  readonly rgb: Uint32Array;
  readonly lab: Float32Array;
}

/** A copy of means of 3 x 3 places a step. */
function shrink(rgb: Uint8Array, width: number, height: number): Small {
  const scale = Math.min(1, SIDE / Math.max(width, height));
  const [w, h] = [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
  const lab = new Float32Array(3 * w * h);
  const small = new Uint32Array(w * h);
  for (let y = 0, o = 0; y < h; y++)
    for (let x = 0; x < w; x++, o += 3) {
      let r = 0;
      let g = 0;
      let b = 0;
      for (let q = 0; q < 9; q++) {
        const X = Math.floor(((x + ((q % 3) + 0.5) / 3) * width) / w);
        const Y = Math.floor(((y + (Math.floor(q / 3) + 0.5) / 3) * height) / h);
        const i = 3 * (Y * width + X);
        r += rgb[i]!;
        g += rgb[i + 1]!;
        b += rgb[i + 2]!;
      }
      r = Math.round(r / 9);
      g = Math.round(g / 9);
      b = Math.round(b / 9);
      writeOklab(r, g, b, lab, o);
      small[o / 3] = (r << 16) | (g << 8) | b;
    }
  return { w, h, rgb: small, lab };
}

/** 1 in all that is not reached from the frame over what is like the frame: its greatest part, holes filled. */
function findThing({ w, h, rgb, lab }: Small): Uint8Array | undefined {
  const weights = new Float32Array(w * h);
  const seen = new Map<number, number>();
  let n = 0;
  for (let y = 0; y < h; y++) {
    const inside = y >= BAND && y < h - BAND;
    for (let x = 0; x < w; x++) {
      if (inside && x === BAND && w > 2 * BAND) x = w - BAND;
      const i = y * w + x;
      weights[i] = 1;
      n++;
      seen.set(rgb[i]!, (seen.get(rgb[i]!) ?? 0) + 1);
    }
  }
  if (Math.max(...seen.values()) > ONE_COLOUR * n) return undefined;
  const table = Float64Array.from(clusterColours(gatherColours(lab, weights, 0.06), 5, 1).flat());
  const away = new Float32Array(w * h);
  for (let i = 0; i < w * h; i++) {
    let least = Infinity;
    for (let j = 0; j < table.length; j += 3) {
      const L = lab[3 * i]! - table[j]!;
      const a = lab[3 * i + 1]! - table[j + 1]!;
      const b = lab[3 * i + 2]! - table[j + 2]!;
      const square = L * L + a * a + b * b;
      if (square < least) least = square;
    }
    away[i] = Math.sqrt(least);
  }
  // half of the typical distance of what is unlike: between table and sheet on both sides of the edge
  const far = away.filter((v) => v > UNLIKE).sort();
  if (far.length < LEAST_AREA * w * h * 0.5) return undefined;
  const level = Math.max(UNLIKE, 0.5 * far[far.length >> 1]!);
  const part = new Int32Array(w * h).fill(-1);
  const flood = (from: number, id: number, open: (i: number) => boolean): number => {
    const stack = [from];
    part[from] = id;
    let size = 0;
    const look = (j: number): void => {
      if (part[j]! >= 0 || !open(j)) return;
      part[j] = id;
      stack.push(j);
    };
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      size++;
      const x = i % w;
      if (x > 0) look(i - 1);
      if (x < w - 1) look(i + 1);
      if (i >= w) look(i - w);
      if (i < w * (h - 1)) look(i + w);
    }
    return size;
  };
  for (let i = 0; i < w * h; i++) if (weights[i] && part[i]! < 0) flood(i, 0, (j) => away[j]! < level);
  let [best, most] = [0, 0];
  for (let i = 0, id = 1; i < w * h; i++)
    if (part[i]! < 0) {
      const size = flood(i, id, () => true);
      if (size > most) [best, most] = [id, size];
      id++;
    }
  if (most < LEAST_AREA * w * h || most > MOST_AREA * w * h) return undefined;
  return Uint8Array.from(part, (p) => (p === best ? 1 : 0));
}

type Dot = readonly [number, number];
const turn = (a: Dot, b: Dot, c: Dot): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Where the lines a-b and c-d meet. */
function meet(a: Dot, b: Dot, c: Dot, d: Dot): Dot | undefined {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const det = ux * vy - uy * vx;
  if (Math.abs(det) < 1e-9) return undefined;
  const t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / det;
  return [a[0] + t * ux, a[1] + t * uy];
}

/** Takes sides off a convex polygon, its neighbours prolonged, each time the one that adds least, until four are left. */
function fourSided(hull: readonly Dot[]): Dot[] | undefined {
  let poly = [...hull];
  while (poly.length > 4) {
    let best: { i: number; at: Dot; adds: number } | undefined;
    const n = poly.length;
    for (let i = 0; i < n; i++) {
      const [a, b, c, d] = [poly[(i + n - 1) % n]!, poly[i]!, poly[(i + 1) % n]!, poly[(i + 2) % n]!];
      const at = meet(a, b, c, d);
      // beyond the side, not behind it
      if (!at || turn(b, c, at) >= 0) continue;
      const adds = Math.abs(turn(b, at, c));
      if (!best || adds < best.adds) best = { i, at, adds };
    }
    if (!best) return undefined;
    const { i, at } = best;
    const next = (i + 1) % n;
    poly = poly.map((p, j) => (j === i ? at : p)).filter((_, j) => j !== next);
  }
  return poly.length === 4 ? poly : undefined;
}

const areaOf = (poly: readonly Dot[]): number =>
  Math.abs(
    poly.reduce((t, p, i) => {
      const q = poly[(i + 1) % poly.length]!;
      return t + p[0] * q[1] - p[1] * q[0];
    }, 0) / 2,
  );

/** The line through points that has the least squares of distances to them: a point and a point further on. */
function lineThrough(dots: readonly Dot[]): [Dot, Dot] {
  const n = dots.length;
  const [mx, my] = [dots.reduce((t, d) => t + d[0], 0) / n, dots.reduce((t, d) => t + d[1], 0) / n];
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of dots) {
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
    yy += (y - my) ** 2;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  return [
    [mx, my],
    [mx + Math.cos(angle), my + Math.sin(angle)],
  ];
}

/** Corners in pixels of the picture, or undefined where it shows no sheet on a table. */
export function findSheet(rgb: Uint8Array, width: number, height: number): Corners | undefined {
  const small = shrink(rgb, width, height);
  const { w, h } = small;
  const thing = findThing(small);
  if (!thing) return undefined;
  // its rim as corners of its cells
  const rim: Dot[] = [];
  let filled = 0;
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const i = y * w + x;
      if (!thing[i]) continue;
      filled++;
      if (x === 0 || y === 0 || x === w - 1 || y === h - 1) return undefined;
      if (!thing[i - 1]) rim.push([x, y + 0.5]);
      if (!thing[i + 1]) rim.push([x + 1, y + 0.5]);
      if (!thing[i - w]) rim.push([x + 0.5, y]);
      if (!thing[i + w]) rim.push([x + 0.5, y + 1]);
    }
  const rough = fourSided(convexHull(rim));
  if (!rough || filled < 0.93 * areaOf(rough)) return undefined;
  const lines: [Dot, Dot][] = [];
  for (let s = 0; s < 4; s++) {
    const [a, b] = [rough[s]!, rough[(s + 1) % 4]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along = (d: Dot): number =>
      ((d[0] - a[0]) * (b[0] - a[0]) + (d[1] - a[1]) * (b[1] - a[1])) / (length * length);
    const near = (from: Dot, to: Dot, within: number): Dot[] => {
      const l = Math.hypot(to[0] - from[0], to[1] - from[1]);
      return rim.filter((d) => Math.abs(turn(from, to, d)) / l < within && Math.abs(along(d) - 0.5) < ALONG / 2);
    };
    let some = near(a, b, 2.5 * NEAR);
    if (some.length < 8) return undefined;
    let line = lineThrough(some);
    some = near(...line, NEAR);
    if (some.length < 8) return undefined;
    line = lineThrough(some);
    // every part of the side must lie on the line
    const steps = Math.max(8, Math.floor(length / 3));
    const there = new Set(near(...line, NEAR).map((d) => Math.floor(along(d) * steps)));
    if (there.size < STRAIGHT * ALONG * steps) return undefined;
    lines.push(line);
  }
  const corners = lines.map((l, s) => meet(...lines[(s + 3) % 4]!, ...l));
  if (corners.some((c) => !c || c[0] < 0 || c[1] < 0 || c[0] > w || c[1] > h)) return undefined;
  const quad = corners as Dot[];
  if (filled < FULL * areaOf(quad)) return undefined;
  const sides = quad.map((p, s) => {
    const q = quad[(s + 1) % 4]!;
    return [q[0] - p[0], q[1] - p[1]] as const;
  });
  const long = sides.map(([x, y]) => Math.hypot(x, y));
  for (let s = 0; s < 4; s++) {
    const [u, v] = [sides[s]!, sides[(s + 1) % 4]!];
    if (Math.abs(u[0] * v[0] + u[1] * v[1]) > SKEW * long[s]! * long[(s + 1) % 4]!) return undefined;
    const ratio = long[s]! / long[(s + 2) % 4]!;
    if (ratio > UNEVEN || ratio < 1 / UNEVEN) return undefined;
  }
  // clockwise from the one nearest to the top left
  const first = quad.reduce((b, c, i) => (c[0] / w + c[1] / h < quad[b]![0] / w + quad[b]![1] / h ? i : b), 0);
  const turned = [0, 1, 2, 3].flatMap((i) => {
    const [x, y] = quad[(first + i) % 4]!;
    return [(x * width) / w, (y * height) / h];
  });
  return turned as unknown as Corners;
}
