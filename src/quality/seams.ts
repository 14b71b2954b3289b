// Takes a block; gives its pieces flat, with what they touch: the shared edges of every two pieces, and where seams end on the
// two sides of each join. Outlines are on the grid of 1 micrometre, so "on a line" means within ON.
import type { Block } from '../block.ts';
import { areaOf, boundsOf, offLine, type Point, type Segment } from '../geometry/polygon.ts';

/** mm */
const ON = 0.02;
/** corners of two pieces this near to each other on a join are one seam's end, mm */
const SAME_END = 0.1;

export interface FlatPiece {
  readonly outline: readonly Point[];
  readonly fabric: number;
  /** index of its section, and its number there */
  readonly section: number;
  readonly number: number;
  /** mm² */
  readonly area: number;
}

/** An edge, or part of one, that two pieces share. */
export interface SharedEdge {
  readonly pieces: readonly [number, number];
  readonly ends: Segment;
  /** mm */
  readonly length: number;
}

export function flatten(block: Block): FlatPiece[] {
  const index = new Map(block.fabrics.map((f, i) => [f.id, i]));
  return block.sections.flatMap((s, section) =>
    s.pieces.map((p) => ({
      outline: p.outline,
      fabric: index.get(p.fabric)!,
      section,
      number: p.number,
      area: areaOf(p.outline),
    })),
  );
}

const along = ([a, b]: Segment, q: Point): number =>
  ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / Math.hypot(b[0] - a[0], b[1] - a[1]);

const at = ([a, b]: Segment, t: number): Point => {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [a[0] + ((b[0] - a[0]) * t) / length, a[1] + ((b[1] - a[1]) * t) / length];
};

/** Every stretch of edge that two pieces have in common, each once. O(pieces² x edges), most pairs ruled out by their boxes. */
export function sharedEdges(pieces: readonly FlatPiece[]): SharedEdge[] {
  const boxes = pieces.map((p) => boundsOf(p.outline));
  const found: SharedEdge[] = [];
  for (let i = 0; i < pieces.length; i++)
    for (let j = i + 1; j < pieces.length; j++) {
      const [p, q] = [boxes[i]!, boxes[j]!];
      if (p.minX > q.maxX + ON || q.minX > p.maxX + ON || p.minY > q.maxY + ON || q.minY > p.maxY + ON) continue;
      const [P, Q] = [pieces[i]!.outline, pieces[j]!.outline];
      P.forEach((a, e) => {
        const edge: Segment = [a, P[(e + 1) % P.length]!];
        const length = along(edge, edge[1]);
        Q.forEach((c, f) => {
          const d = Q[(f + 1) % Q.length]!;
          if (Math.abs(offLine(...edge, c)) > ON || Math.abs(offLine(...edge, d)) > ON) return;
          const [from, to] = [along(edge, c), along(edge, d)].sort((x, y) => x - y) as [number, number];
          const [low, high] = [Math.max(0, from), Math.min(length, to)];
          if (high - low > 5 * ON)
            found.push({ pieces: [i, j], ends: [at(edge, low), at(edge, high)], length: high - low });
        });
      });
    }
  return found;
}

/** Where seams end on a join, in mm along it: from its one side, and from its other. */
export function endsOnJoin(join: Segment, pieces: readonly FlatPiece[]): [number[], number[]] {
  const length = along(join, join[1]);
  const sides: [number[], number[]] = [[], []];
  for (const { outline } of pieces) {
    const on = outline.filter((q) => Math.abs(offLine(...join, q)) <= ON).map((q) => along(join, q));
    if (on.length < 2) continue;
    const side = outline.some((q) => offLine(...join, q) > ON) ? 1 : 0;
    for (const t of on) if (t > ON && t < length - ON) sides[side].push(t);
  }
  // two pieces meet at every end
  return sides.map((s) => s.sort((x, y) => x - y).filter((t, i) => i === 0 || t - s[i - 1]! > SAME_END)) as [
    number[],
    number[],
  ];
}
