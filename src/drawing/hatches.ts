// The hatches that tell fabrics apart on paper: families of parallel lines given by angle, pitch, offset and dash, cut to
// convex pieces. Pale for templates (numbers stay readable, little ink under the iron), dense for the key and for diagrams.
// The index runs from light to dark: later ones lay down more ink. Angles are as the eye sees them and are never mirrored.
import { boundsOf, centroid, type Polygon, type Segment } from '../geometry/polygon.ts';
import { clipSegment, insetConvex } from './clip.ts';
import { type PathItem, type Role, segments } from './drawing.ts';

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

const HATCHES: readonly (readonly Family[])[] = [
  [{ angle: 0, pitch: 4.5, dash: [0.7, 5.3, 3] }], // specks
  [{ angle: 0, pitch: 4, dash: [2.2, 2.8, 2.5] }], // short level dashes
  [{ angle: 90, pitch: 4, dash: [4, 1.6, 2.8] }], // long upright dashes
  [{ angle: 45, pitch: 4 }], // rising
  [{ angle: 0, pitch: 3.2 }], // level
  [{ angle: 135, pitch: 2.7 }], // falling, closer
  [{ angle: 90, pitch: 2.5 }], // upright, close
  [
    { angle: 60, pitch: 5 },
    { angle: 60, pitch: 5, offset: 1.1 },
  ], // steep pairs
  [
    { angle: 20, pitch: 2.9, dash: [1.2, 0.8] },
    { angle: 110, pitch: 4.6 },
  ], // basket
  [
    { angle: 0, pitch: 4.4 },
    { angle: 90, pitch: 4.4 },
  ], // squares
  [
    { angle: 45, pitch: 4 },
    { angle: 135, pitch: 4 },
  ], // diamonds
  [
    { angle: 90, pitch: 2.9 },
    { angle: 0, pitch: 2.9, dash: [1.45, 1.45, 1.45] },
  ], // bricks
  [
    { angle: 0, pitch: 5.5 },
    { angle: 60, pitch: 5.5 },
    { angle: 120, pitch: 5.5 },
  ], // triangles
  [
    { angle: 150, pitch: 4.8 },
    { angle: 150, pitch: 4.8, offset: 0.9 },
    { angle: 150, pitch: 4.8, offset: 1.8 },
  ], // triple lines
];

/** How many hatches there are; fabrics beyond take them again from the start. */
export const HATCH_COUNT = HATCHES.length;

export type HatchWeight = 'pale' | 'dense';

const WEIGHT: Record<HatchWeight, { scale: number; width: number; colour: string }> = {
  pale: { scale: 1, width: 0.12, colour: '#707070' },
  dense: { scale: 0.5, width: 0.2, colour: '#000000' },
};

/** The hatch's lines inside the convex piece, not in the holes. Anchored in the piece's middle: no piece stays empty. */
function hatchSegments(index: number, piece: Polygon, scale: number, holes: readonly Polygon[] = []): Segment[] {
  const out: Segment[] = [];
  const anchor = centroid(piece);
  const b = boundsOf(piece);
  const reach = Math.hypot(b.maxX - b.minX, b.maxY - b.minY);
  for (const f of HATCHES[index % HATCH_COUNT]!) {
    const a = (-f.angle * Math.PI) / 180;
    const [ux, uy] = [Math.cos(a), Math.sin(a)];
    const pitch = f.pitch * scale;
    const start = (f.offset ?? 0) * scale;
    const lines = Math.ceil(reach / pitch);
    for (let k = -lines; k <= lines; k++) {
      const v = k * pitch + start;
      const base: [number, number] = [anchor[0] - uy * v, anchor[1] + ux * v];
      const at = (u: number): [number, number] => [base[0] + ux * u, base[1] + uy * u];
      if (!f.dash) {
        out.push(...clipSegment([at(-reach), at(reach)], piece, holes));
        continue;
      }
      const [on, off, stagger] = [f.dash[0] * scale, f.dash[1] * scale, (f.dash[2] ?? 0) * scale];
      const step = on + off;
      const first = (k % 2 ? stagger : 0) - on / 2;
      // the whole line first: most lie outside the piece
      if (!clipSegment([at(-reach), at(reach)], piece, []).length) continue;
      for (let u = first - Math.ceil(reach / step) * step; u < reach; u += step)
        out.push(...clipSegment([at(u), at(u + on)], piece, holes));
    }
  }
  return out;
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
  const lines = hatchSegments(index, inner, w.scale, options.holes ?? []);
  return lines.length ? segments(options.role ?? 'hatch', lines, { width: w.width, colour: w.colour }) : undefined;
}
