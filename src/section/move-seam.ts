// Moves a seam of a finished block: the line between a piece and those sewn before it, or the line of a join. What lies on both
// sides is cut again along its own lines, so that order, numbers and letters stay as they are.
import type { Block, Piece, Section } from '../block.ts';
import { centroid, clipHalf, distance, offLine, type Point, type Polygon, type Segment } from '../geometry/polygon.ts';
import { UserError } from '../problems/problem.ts';
import { type ChangeLimits, refuseNarrow } from './change-block.ts';
import { dropFlatCorners, outlineOf } from './fewest-sections.ts';
import { findPiece } from './find-by-name.ts';
import { blockFromTree, cornersIn, type JoinTree, treeOf } from './join-tree.ts';
import { onGridSeam } from './number-pieces.ts';

export interface Move {
  /** mm; positive makes the named piece, or the join's left side, larger */
  readonly by: number;
  /** degrees, clockwise to the eye, about the seam's middle */
  readonly turn: number;
}

/** mm: a corner cut again this near to where it was has only been rounded */
const SAME = 0.004;

/** `target`: a piece ("B3": its seam) or a join ("3"). Throws UserError where a piece would vanish or become too narrow. */
export function moveSeam(block: Block, target: string, move: Move, limits: ChangeLimits): Block {
  const known = new Corners(block.sections.flatMap((s) => s.pieces.flatMap((p) => p.outline)));
  const join = /^\d+$/.test(target.trim()) ? Number(target) : undefined;
  if (join !== undefined) {
    if (!block.joins.some((j) => j.number === join))
      throw new UserError('no-such-join', { join, block: block.name, joins: block.joins.length }, 2);
    const visit = (node: JoinTree): JoinTree => {
      if ('section' in node) return node;
      if (node.number !== join) return { ...node, left: visit(node.left), right: visit(node.right) };
      const region = hull(cornersIn(node));
      const inside = centroid(hull(cornersIn(node.left)));
      const line = moved(node.seam, inside, move);
      return cutNode({ ...node, seam: line }, region, known, limits);
    };
    return blockFromTree(block, visit(treeOf(block)));
  }
  const { section, at } = findPiece(block, target);
  const piece = section.pieces[at]!;
  if (!piece.seam) throw new UserError('first-piece-has-no-seam', { piece: target });
  const line = moved(piece.seam, centroid(piece.outline), move);
  const changed = cutSection(section, section.outline, known, limits, { piece, line });
  return { ...block, sections: block.sections.map((s) => (s === section ? changed : s)) };
}

const hull = (corners: Polygon): Polygon => outlineOf([corners], [0]);

/** The line moved away from the side that is to grow, and turned about the seam's middle. */
function moved([a, b]: Segment, inside: Point, { by, turn }: Move): Segment {
  const length = distance(a, b);
  const [dx, dy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const away = offLine(a, b, inside) > 0 ? -1 : 1;
  const [mx, my] = [(a[0] + b[0]) / 2 - dy * away * by, (a[1] + b[1]) / 2 + dx * away * by];
  const t = (turn * Math.PI) / 180;
  const [ux, uy] = [dx * Math.cos(t) - dy * Math.sin(t), dx * Math.sin(t) + dy * Math.cos(t)];
  return [
    [mx - ux * length, my - uy * length],
    [mx + ux * length, my + uy * length],
  ];
}

function cutNode(node: JoinTree, region: Polygon, known: Corners, limits: ChangeLimits): JoinTree {
  if ('section' in node) return { section: cutSection(node.section, region, known, limits) };
  const side = sideOf(node.seam, centroid(hull(cornersIn(node.left))));
  const left = known.clip(region, node.seam, side);
  const right = known.clip(region, node.seam, -side as 1 | -1);
  if (left.length < 3 || right.length < 3) throw new UserError('seam-leaves-no-side', {});
  return {
    ...node,
    seam: onGridSeam(edgeAlong(left, node.seam)),
    left: cutNode(node.left, left, known, limits),
    right: cutNode(node.right, right, known, limits),
  };
}

/** A section's pieces cut again from its region, last sewn first. */
function cutSection(
  section: Section,
  outline: Polygon,
  known: Corners,
  limits: ChangeLimits,
  change?: { readonly piece: Piece; readonly line: Segment },
): Section {
  let region = outline;
  const pieces = [...section.pieces]
    .sort((p, q) => q.number - p.number)
    .map((p): Piece => {
      const name = `${section.id}${p.number}`;
      const line = p === change?.piece ? change.line : (p.seam as Segment | null);
      let own = region;
      if (line) {
        const side = sideOf((p.seam as Segment | null) ?? line, centroid(p.outline));
        own = known.clip(region, line, side);
        region = known.clip(region, line, -side as 1 | -1);
      }
      if (own.length < 3 || region.length < 3) throw new UserError('seam-leaves-no-piece', { piece: name });
      refuseNarrow([own], name, limits);
      return { ...p, outline: own.map(([x, y]) => [x, y]), seam: line ? onGridSeam(edgeAlong(own, line)) : null };
    })
    .reverse();
  return { ...section, outline: outline.map(([x, y]) => [x, y]), pieces };
}

const sideOf = ([a, b]: Segment, inside: Point): 1 | -1 => (offLine(a, b, inside) > 0 ? 1 : -1);

/** The edge of a piece that lies on a line. */
function edgeAlong(P: Polygon, [a, b]: Segment): Segment {
  const on = P.filter((q) => Math.abs(offLine(a, b, q)) < 0.01);
  const along = (q: Point): number => (q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1]);
  const sorted = on.sort((p, q) => along(p) - along(q));
  return [sorted[0]!, sorted.at(-1)!];
}

/** Corners on the grid of 1 micrometre; one that has only been rounded otherwise is the one it was. */
class Corners {
  readonly #cells = new Map<string, Point[]>();

  constructor(corners: readonly Point[]) {
    for (const p of corners) this.#at(p);
  }

  #at(p: Point): Point {
    const [cx, cy] = [Math.floor(p[0] * 10), Math.floor(p[1] * 10)];
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (const q of this.#cells.get(`${x} ${y}`) ?? []) if (distance(p, q) <= SAME) return q;
    const made: Point = [Math.round(p[0] * 1000) / 1000, Math.round(p[1] * 1000) / 1000];
    const key = `${cx} ${cy}`;
    this.#cells.set(key, [...(this.#cells.get(key) ?? []), made]);
    return made;
  }

  /** The part of a convex region on one side of a line. */
  clip(region: Polygon, [a, b]: Segment, side: 1 | -1): Polygon {
    const corners = clipHalf(region, a, b, side).map((p) => this.#at(p));
    const apart = corners.filter((p, i) => p !== corners[(i + 1) % corners.length]);
    return apart.length < 3 ? [] : dropFlatCorners(apart);
  }
}
