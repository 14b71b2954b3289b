// Changes of a finished block that keep it sewable. Each takes a block that passed the check and gives another, with as much
// of it left alone as can be: sections keep their letters and pieces their numbers, so that printed paper and cut cloth stay
// good. What cannot be sewn is refused with the reason (UserError).
import { BLOCK_LIMITS, type Block } from '../block.ts';
import {
  areaOf,
  clipHalf,
  convexHull,
  distance,
  narrowestWidth,
  type Point,
  type Segment,
} from '../geometry/polygon.ts';
import { fitsSheet } from '../geometry/sheet-fit.ts';
import { PLAIN_TEXT } from '../names.ts';
import { UserError } from '../problems/problem.ts';
import type { SectionLimits } from '../tree/sections.ts';
import { findCuts, sideOfLine } from './cuts.ts';
import { dropFlatCorners, findFewestSections, outlineOf } from './fewest-sections.ts';
import { findFabric, findPiece, findSection } from './find-by-name.ts';
import { blockFromTree, type JoinTree, mapLeaves, sectionsIn, treeOf } from './join-tree.ts';
import { type BarePiece, makeSection } from './number-pieces.ts';
import { bare, fabricIndex, grow, numberAnew, replaceSection, withLetters } from './replace-section.ts';
import { isPeelable } from './sewing-order.ts';

export interface ChangeLimits extends SectionLimits {
  /** no piece may become narrower, mm */
  readonly narrowest: number;
}

/** mm: two pieces whose hull is this much larger than both, per mm of its size, do not make a convex one */
const DENT = 0.02;

/** Gives pieces another fabric. The sewing order stays. */
export function changeFabric(block: Block, pieces: readonly string[], fabric: string): Block {
  const { id } = findFabric(block, fabric);
  const wanted = new Set(
    pieces.map((name) => {
      const { section, at } = findPiece(block, name);
      return section.pieces[at]!;
    }),
  );
  const sections = block.sections.map((s) => ({
    ...s,
    pieces: s.pieces.map((p) => (wanted.has(p) ? { ...p, fabric: id } : p)),
  }));
  return { ...block, sections };
}

/** Another name or colour for a fabric; its code and hatch stay. */
export function renameFabric(block: Block, fabric: string, to: { name?: string; colour?: string }): Block {
  const { id } = findFabric(block, fabric);
  if (to.colour && !/^#[0-9a-f]{6}$/i.test(to.colour)) throw new UserError('not-a-colour', { value: to.colour }, 2);
  if (to.name !== undefined && !to.name.trim()) throw new UserError('empty-name', {}, 2);
  if (to.name !== undefined && (to.name.length > BLOCK_LIMITS.name || !PLAIN_TEXT.test(to.name)))
    throw new UserError('name-not-plain', { most: BLOCK_LIMITS.name }, 2);
  const fabrics = block.fabrics.map((f) =>
    f.id === id
      ? { ...f, ...(to.name && { name: to.name.trim() }), ...(to.colour && { colour: to.colour.toLowerCase() }) }
      : f,
  );
  return { ...block, fabrics };
}

/** Makes one piece of two that lie side by side, in the fabric of the first. */
export function mergePieces(block: Block, first: string, second: string, limits: ChangeLimits): Block {
  const [a, b] = [findPiece(block, first), findPiece(block, second)];
  const [p, q] = [a.section.pieces[a.at]!, b.section.pieces[b.at]!];
  if (p === q) throw new UserError('one-piece-already', { pieces: [first, second] }, 2);
  const hull = dropFlatCorners(convexHull([...p.outline, ...q.outline]));
  const more = areaOf(hull) - areaOf(p.outline) - areaOf(q.outline);
  if (more > DENT * distance(hull[0]!, hull[Math.floor(hull.length / 2)]!))
    throw new UserError('not-neighbours', { pieces: [first, second] });
  const index = fabricIndex(block);
  const merged: BarePiece = { outline: hull, fabric: index.get(p.fabric)! };
  if (a.section !== b.section) {
    const pieces = block.sections.flatMap((s) =>
      s.pieces.flatMap((r): BarePiece[] =>
        r === p ? [merged] : r === q ? [] : [{ outline: r.outline, fabric: index.get(r.fabric)! }],
      ),
    );
    return numberAnew(block, pieces, limits);
  }
  const others = bare(block, a.section);
  const put = (at: number, gone: number): BarePiece[] =>
    others.flatMap((r, i) => (i === at ? [merged] : i === gone ? [] : [r]));
  return replaceSection(block, a.section, [put(a.at, b.at), put(b.at, a.at)], limits);
}

/** Divides a piece along the line through two points of the face, mm. The second part may have another fabric. */
export function dividePiece(block: Block, name: string, line: Segment, limits: ChangeLimits, fabric?: string): Block {
  const { section, at } = findPiece(block, name);
  const piece = section.pieces[at]!;
  if (distance(...line) < 0.01) throw new UserError('same-points', {}, 2);
  const parts = ([1, -1] as const).map((side) => tidy(clipHalf(piece.outline, line[0], line[1], side)));
  if (parts.some((P) => P.length < 3)) throw new UserError('line-misses-piece', { piece: name });
  refuseNarrow(parts, name, limits);
  const own = fabricIndex(block).get(piece.fabric)!;
  const second = fabric ? fabricIndex(block).get(findFabric(block, fabric).id)! : own;
  const [p, q] = [
    { outline: parts[0]!, fabric: own },
    { outline: parts[1]!, fabric: second },
  ];
  const others = bare(block, section);
  const put = (...both: BarePiece[]): BarePiece[] => others.flatMap((r, i) => (i === at ? both : [r]));
  return replaceSection(block, section, [put(p, q), put(q, p)], limits);
}

/** Two sections that are joined to each other become one paper. */
export function joinSections(block: Block, first: string, second: string, limits: ChangeLimits): Block {
  const sections = [findSection(block, first).id, findSection(block, second).id] as const;
  let done = false;
  const visit = (node: JoinTree): JoinTree => {
    if ('section' in node) return node;
    const pair = [node.left, node.right].map((n) => ('section' in n ? n.section.id : ''));
    if (!sections.every((id) => pair.includes(id)) || sections[0] === sections[1])
      return { ...node, left: visit(node.left), right: visit(node.right) };
    done = true;
    const pieces = sectionsIn(node).flatMap((s) => bare(block, s));
    const outline = outlineOf(
      pieces.map((p) => p.outline),
      pieces.map((_, i) => i),
    );
    const most = limits.mostPieces;
    if (pieces.length > most)
      throw new UserError('too-many-for-section', { sections, pieces: pieces.length, most, field: 'mostPieces' });
    if (!fitsSheet(outline, limits.paper, limits.allowance)) throw new UserError('too-large-for-sheet', { sections });
    if (!isPeelable(pieces.map((p) => p.outline))) throw new UserError('no-order-on-one-paper', { sections });
    return { section: makeSection(sections[0], pieces, outline, block.fabrics) };
  };
  const tree = visit(treeOf(block));
  if (!done) throw new UserError('not-joined', { sections: [first, second] });
  return blockFromTree(block, tree);
}

/** Parts a section into two papers, along the seam of a piece where it runs right across, else along the evenest seam. */
export function splitSection(block: Block, id: string, limits: ChangeLimits, piece?: string): Block {
  const section = findSection(block, id);
  const pieces = bare(block, section);
  const outlines = pieces.map((p) => p.outline);
  let cuts = findCuts(
    outlines,
    outlines.map((_, i) => i),
  );
  if (!cuts.length) throw new UserError('single-piece', { section: section.id });
  if (piece) {
    const own = findPiece(block, piece);
    const seam = own.section === section ? own.section.pieces[own.at]!.seam : undefined;
    if (!seam) throw new UserError('no-seam-in-section', { piece, section: section.id }, 2);
    cuts = cuts.filter((c) => sideOfLine([...seam], ...c.seam) !== 0 && seam.every((q) => onLine(q, c.seam)));
    if (!cuts.length) throw new UserError('seam-not-across', { piece, section: section.id });
  }
  const even = (c: (typeof cuts)[number]): number => Math.min(c.left.length, c.right.length);
  const cut = cuts.reduce((best, c) => (even(c) > even(best) ? c : best));
  const half = (set: readonly number[], letter: string): JoinTree =>
    grow(
      findFewestSections(
        set.map((i) => outlines[i]!),
        limits,
      ).tree,
      set.map((i) => pieces[i]!),
      block,
      letter,
    );
  const tree = mapLeaves(treeOf(block), (s) =>
    s.id !== section.id
      ? { section: s }
      : { seam: cut.seam, left: half(cut.left, section.id), right: half(cut.right, '') },
  );
  return withLetters(block, tree);
}

const onLine = (q: Point, [a, b]: Segment): boolean =>
  sideOfLine([q, q], a, b) !== 0 && Math.abs(area2(a, b, q)) < 0.01 * distance(a, b);
const area2 = (a: Point, b: Point, q: Point): number => (b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0]);

/** mm: parts of a corner nearer than this are one */
const HAIR = 0.005;
const tidy = (P: readonly Point[]): Point[] => {
  const grid = P.map(([x, y]): Point => [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000]);
  const apart = grid.filter((p, i) => distance(p, grid[(i + 1) % grid.length]!) > HAIR);
  return apart.length < 3 ? [] : [...dropFlatCorners(apart)];
};

export function refuseNarrow(parts: readonly (readonly Point[])[], name: string, limits: ChangeLimits): void {
  const width = Math.min(...parts.map((P) => narrowestWidth(P)));
  if (width < limits.narrowest - 1e-6)
    throw new UserError('part-too-narrow', { piece: name, width, least: limits.narrowest });
}
