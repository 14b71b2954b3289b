// The seam that is to be moved, whatever it belongs to, and which way is outward: where the named piece, or a join's first side,
// grows.
import type { Block } from '../../../block.ts';
import { centroid, convexHull, distance, offLine, type Point, type Segment } from '../../../geometry/polygon.ts';
import { factsOf, type PieceFacts } from '../store/facts.ts';

/** mm: a corner this near to a line is on it */
const ON = 0.05;

export interface MovableSeam {
  readonly target: string;
  readonly seam: Segment;
  readonly middle: Point;
  /** of length 1 */
  readonly outward: Point;
  readonly along: Point;
}

export function seamOf(block: Block, target: string): MovableSeam | undefined {
  const join = block.joins.find((j) => String(j.number) === target);
  const piece = block.sections.flatMap((s) => s.pieces.map((p) => ({ name: `${s.id}${p.number}`, p })));
  const own = piece.find((p) => p.name === target)?.p;
  const seam = join?.seam ?? own?.seam;
  if (!seam) return undefined;
  const inside = join
    ? centroid(convexHull(block.sections.filter((s) => join.left.includes(s.id)).flatMap((s) => s.outline)))
    : centroid(own!.outline);
  const [a, b] = seam;
  const length = distance(a, b);
  const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const away = offLine(a, b, inside) > 0 ? -1 : 1;
  return {
    target,
    seam,
    middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
    along,
    outward: [-along[1] * away, along[0] * away],
  };
}

/** The seam moved outward by mm and swung by degrees, clockwise to the eye, about its middle. */
export function movedSeam(s: MovableSeam, by: number, degrees: number): Segment {
  const t = (degrees * Math.PI) / 180;
  const half = distance(s.seam[0], s.seam[1]) / 2;
  const [ux, uy] = [
    s.along[0] * Math.cos(t) - s.along[1] * Math.sin(t),
    s.along[0] * Math.sin(t) + s.along[1] * Math.cos(t),
  ];
  const [mx, my] = [s.middle[0] + s.outward[0] * by, s.middle[1] + s.outward[1] * by];
  return [
    [mx - ux * half, my - uy * half],
    [mx + ux * half, my + uy * half],
  ];
}

/** The seams along a piece's rim, its own first; all where no piece is named. */
export function seamsAround(
  block: Block,
  piece: PieceFacts | undefined,
): { readonly pieces: readonly PieceFacts[]; readonly joins: Block['joins'] } {
  const pieces = factsOf(block).filter((f) => f.piece.seam);
  if (!piece) return { pieces, joins: block.joins };
  const { outline } = piece.piece;
  const bounds = ([a, b]: Segment): boolean =>
    outline.some((p, i) => {
      const q = outline[(i + 1) % outline.length]!;
      const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
      const along = (middle[0] - a[0]) * (b[0] - a[0]) + (middle[1] - a[1]) * (b[1] - a[1]);
      return [p, q].every((c) => Math.abs(offLine(a, b, c)) < ON) && along > 0 && along < distance(a, b) ** 2;
    });
  const near = pieces.filter((f) => f !== piece && bounds(f.piece.seam!));
  return {
    pieces: [...(piece.piece.seam ? [piece] : []), ...near],
    joins: block.joins.filter((j) => bounds(j.seam)),
  };
}
