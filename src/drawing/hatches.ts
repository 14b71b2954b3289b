// The hatches that tell fabrics apart on paper. Templates lie on their sheets turned any way, so hatches differ in kind (dots,
// crosses, rings, dashes, waves, single, double lines, triangles, squares, grids), never in direction alone. Pale for templates (numbers stay
// readable, little ink under the iron), dense for the key and for diagrams. The index runs from light to dark: later ones lay down
// more ink. They are never mirrored, and would mean the same if they were.
import { boundsOf, centroid, type Point, type Polygon, type Segment, signedArea } from '../geometry/polygon.ts';
import { clipSegment, insetConvex } from './clip.ts';
import type { PathItem, Role } from './drawing.ts';

/** Parallel straight lines. */
interface Family {
  /** degrees, counter-clockwise to the eye from "to the right" */
  readonly angle: number;
  /** mm between lines when pale */
  readonly pitch: number;
  /** mm by which the family is moved square to its lines */
  readonly offset?: number;
  /** mm on, mm off, and by how much every second line is moved along */
  readonly dash?: readonly [on: number, off: number, stagger?: number];
}

/** A small sign again and again, every second row moved by half a step. */
interface Signs {
  /** of one sign, about its middle */
  readonly lines: readonly (readonly Point[])[];
  /** mm from sign to sign along a row, and from row to row */
  readonly along: number;
  readonly pitch: number;
  /** rows are not moved: signs run together into one line */
  readonly straight?: boolean;
}

type Layer = Family | Signs;

/** A closed ring of straight lines about the middle. */
const ring = (corners: number, radius: number): Point[][] => [
  Array.from({ length: corners + 1 }, (_, k): Point => {
    const a = ((k + 0.5) * 2 * Math.PI) / corners;
    return [radius * Math.cos(a), radius * Math.sin(a)];
  }),
];

/** Lines through the middle. */
const star = (lines: number, reach: number): Point[][] =>
  Array.from({ length: lines }, (_, k): Point[] => {
    const a = (k * Math.PI) / lines;
    const tip: Point = [reach * Math.cos(a), reach * Math.sin(a)];
    return [[-tip[0], -tip[1]], tip];
  });

/** One wave of a zigzag that runs on to its neighbours. */
const wave = (length: number, height: number): Point[][] => [
  [
    [-length / 2, height / 2],
    [0, -height / 2],
    [length / 2, height / 2],
  ],
];

const HATCHES: readonly (readonly Layer[])[] = [
  [{ lines: star(2, 0.32), along: 5.2, pitch: 4.5 }], // dots
  [{ lines: star(2, 0.95), along: 5.4, pitch: 4.7 }], // crosses
  [{ angle: 0, pitch: 2.9, dash: [2, 2.4, 2.2] }], // dashes
  [{ lines: ring(6, 0.98), along: 5.4, pitch: 4.7 }], // rings
  [{ angle: 0, pitch: 3.6 }], // single lines
  [{ lines: wave(4, 1.9), along: 4, pitch: 3.9, straight: true }], // waves
  [
    { angle: 0, pitch: 5.2 },
    { angle: 0, pitch: 5.2, offset: 0.9 },
  ], // double lines
  [{ lines: ring(3, 1.5), along: 4.6, pitch: 4 }], // triangles
  [
    { angle: 0, pitch: 4.2 },
    { angle: 90, pitch: 4.2 },
  ], // grid
  [{ lines: ring(4, 1.6), along: 4.6, pitch: 4 }], // squares
  [
    { angle: 0, pitch: 2.9, offset: 1.45 },
    { angle: 90, pitch: 2.9, dash: [2.9, 2.9, 2.9] },
  ], // bricks
  [
    { angle: 0, pitch: 5.5 },
    { angle: 60, pitch: 5.5 },
    { angle: 120, pitch: 5.5 },
  ], // net of three directions
  [
    { angle: 0, pitch: 7 },
    { angle: 0, pitch: 7, offset: 0.9 },
    { angle: 90, pitch: 7 },
    { angle: 90, pitch: 7, offset: 0.9 },
  ], // double grid
  [{ lines: [...star(4, 1.15)], along: 4, pitch: 3.6 }], // stars
];

/** How many hatches there are; fabrics beyond take them again from the start. */
export const HATCH_COUNT = HATCHES.length;

export type HatchWeight = 'pale' | 'dense';

const WEIGHT: Record<HatchWeight, { scale: number; width: number; colour: string }> = {
  pale: { scale: 1, width: 0.12, colour: '#707070' },
  dense: { scale: 0.5, width: 0.2, colour: '#000000' },
};

/** The hatch's lines inside the convex piece, not in the holes. Anchored in the piece's middle: no piece stays empty. */
function hatchLines(
  index: number,
  piece: Polygon,
  scale: number,
  holes: readonly Polygon[] = [],
): (readonly Point[])[] {
  const out: (readonly Point[])[] = [];
  const anchor = centroid(piece);
  const b = boundsOf(piece);
  const reach = Math.hypot(b.maxX - b.minX, b.maxY - b.minY);
  for (const f of HATCHES[index % HATCH_COUNT]!)
    if ('lines' in f) out.push(...signsIn(f, piece, anchor, reach, scale, holes));
    else out.push(...linesIn(f, piece, anchor, reach, scale, holes));
  return out;
}

function linesIn(
  f: Family,
  piece: Polygon,
  anchor: Point,
  reach: number,
  scale: number,
  holes: readonly Polygon[],
): Segment[] {
  const out: Segment[] = [];
  const a = (-f.angle * Math.PI) / 180;
  const [ux, uy] = [Math.cos(a), Math.sin(a)];
  const pitch = f.pitch * scale;
  const start = (f.offset ?? 0) * scale;
  const lines = Math.ceil(reach / pitch);
  for (let k = -lines; k <= lines; k++) {
    const v = k * pitch + start;
    const base: Point = [anchor[0] - uy * v, anchor[1] + ux * v];
    const at = (u: number): Point => [base[0] + ux * u, base[1] + uy * u];
    if (!f.dash) {
      out.push(...clipSegment([at(-reach), at(reach)], piece, holes));
      continue;
    }
    const [on, off, stagger] = [f.dash[0] * scale, f.dash[1] * scale, (f.dash[2] ?? 0) * scale];
    const step = on + off;
    const first = (k % 2 ? stagger : 0) - on / 2;
    // what of the whole line shows; then its dashes within that
    for (const [from, to] of clipSegment([at(-reach), at(reach)], piece, holes)) {
      const low = (from[0] - base[0]) * ux + (from[1] - base[1]) * uy;
      const high = (to[0] - base[0]) * ux + (to[1] - base[1]) * uy;
      for (let u = first + Math.floor((low - first) / step) * step; u < high; u += step) {
        const [a, b] = [Math.max(u, low), Math.min(u + on, high)];
        if (b > a) out.push([at(a), at(b)]);
      }
    }
  }
  return out;
}

function signsIn(
  f: Signs,
  piece: Polygon,
  anchor: Point,
  reach: number,
  scale: number,
  holes: readonly Polygon[],
): (readonly Point[])[] {
  const out: (readonly Point[])[] = [];
  const [along, pitch] = [f.along * scale, f.pitch * scale];
  const rows = Math.ceil(reach / pitch);
  const columns = Math.ceil(reach / along);
  const b = boundsOf(piece);
  // a sign well inside is not cut, one well outside is not there: most need no more than this
  const size = scale * Math.max(...f.lines.flat().map(([x, y]) => Math.hypot(x, y)));
  const depth = depthIn(piece);
  const intoHoles = holes.map(depthIn);
  for (let k = -rows; k <= rows; k++) {
    const y = anchor[1] + k * pitch;
    if (y < b.minY - pitch || y > b.maxY + pitch) continue;
    const shift = f.straight || k % 2 === 0 ? 0 : along / 2;
    for (let n = -columns; n <= columns; n++) {
      const x = anchor[0] + n * along + shift;
      if (x < b.minX - along || x > b.maxX + along) continue;
      const inside = depth(x, y);
      if (inside < -size) continue;
      const near = holes.filter((_, h) => intoHoles[h]!(x, y) > -size);
      const whole = inside > size && !near.length;
      for (const points of f.lines) {
        const line = points.map(([u, v]): Point => [x + u * scale, y + v * scale]);
        if (whole) out.push(line);
        else for (const [m, q] of line.slice(1).entries()) out.push(...clipSegment([line[m]!, q], piece, near));
      }
    }
  }
  return out;
}

/** How deep a point lies in a convex polygon: its distance to the nearest edge's line, below zero outside. */
function depthIn(P: Polygon): (x: number, y: number) => number {
  const turn = Math.sign(signedArea(P)) || 1;
  const edges = P.flatMap((a, i) => {
    const c = P[(i + 1) % P.length]!;
    const length = Math.hypot(c[0] - a[0], c[1] - a[1]);
    if (length < 1e-9) return [];
    return [{ x: a[0], y: a[1], nx: (-turn * (c[1] - a[1])) / length, ny: (turn * (c[0] - a[0])) / length }];
  });
  return (x, y) => {
    let least = Number.POSITIVE_INFINITY;
    for (const e of edges) least = Math.min(least, (x - e.x) * e.nx + (y - e.y) * e.ny);
    return least;
  };
}

export interface HatchOptions {
  readonly weight: HatchWeight;
  /** mm by which the hatch keeps off the piece's edges; 0 if absent */
  readonly inset?: number;
  /** convex places to leave free: texts, rings */
  readonly holes?: readonly Polygon[];
  readonly role?: Role;
}

/** A hatch as one path item; undefined where nothing of it lies in the piece. */
export function drawHatch(index: number, piece: Polygon, options: HatchOptions): PathItem | undefined {
  const inner = options.inset ? insetConvex(piece, options.inset) : piece;
  if (inner.length < 3) return undefined;
  const w = WEIGHT[options.weight];
  const lines = hatchLines(index, inner, w.scale, options.holes ?? []);
  return lines.length
    ? {
        ...{ kind: 'path', role: options.role ?? 'hatch', rings: lines, closed: false },
        stroke: { width: w.width, colour: w.colour },
      }
    : undefined;
}
