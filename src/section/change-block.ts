// Changes of a finished block that keep it sewable. Each takes a block that passed the check and gives another, with as much
// of it left alone as can be: sections keep their letters and pieces their numbers, so that printed paper and cut cloth stay
// good. What cannot be sewn is refused with the reason (UserError).
import { BLOCK_LIMITS, type Block, pieceName, type Section, sectionLetters } from '../block.ts';
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
import { dropFlatCorners, findFewestSections, outlineOf, type SectionTree } from './fewest-sections.ts';
import { blockFromTree, type JoinTree, mapLeaves, sectionsIn, treeOf } from './join-tree.ts';
import { type BarePiece, makeSection, numberPieces, sectionInOrder } from './number-pieces.ts';
import { isPeelable, seamsInOrder } from './sewing-order.ts';

export interface ChangeLimits extends SectionLimits {
  /** no piece may become narrower, mm */
  readonly narrowest: number;
}

/** mm: two pieces whose hull is this much larger than both, per mm of its size, do not make a convex one */
const DENT = 0.02;

/** "B3" -> the section and its piece. */
export function findPiece(block: Block, name: string): { section: Section; at: number } {
  for (const section of block.sections) {
    const at = section.pieces.findIndex((p) => pieceName(section, p).toLowerCase() === name.trim().toLowerCase());
    if (at >= 0) return { section, at };
  }
  const example = pieceName(block.sections[0]!, { number: 1 });
  throw new UserError('no-such-piece', { piece: name, block: block.name, example }, 2);
}

export function findSection(block: Block, id: string): Section {
  const section = block.sections.find((s) => s.id.toLowerCase() === id.trim().toLowerCase());
  const sections = block.sections.map((s) => s.id);
  if (!section) throw new UserError('no-such-section', { section: id, block: block.name, sections }, 2);
  return section;
}

/** By its code, name or id. */
export function findFabric(block: Block, name: string): Block['fabrics'][number] {
  const wanted = name.trim().toLowerCase();
  const fabric = block.fabrics.find((f) => [f.code, f.name, f.id].some((t) => t.toLowerCase() === wanted));
  const fabrics = block.fabrics.map((f) => `${f.code} (${f.name})`);
  if (!fabric) throw new UserError('no-such-fabric', { fabric: name, block: block.name, fabrics }, 2);
  return fabric;
}

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

const fabricIndex = (block: Block): ReadonlyMap<string, number> => new Map(block.fabrics.map((f, i) => [f.id, i]));

/** A section's pieces in sewing order. */
function bare(block: Block, section: Section): BarePiece[] {
  const index = fabricIndex(block);
  return [...section.pieces]
    .sort((p, q) => p.number - q.number)
    .map((p) => ({ outline: p.outline, fabric: index.get(p.fabric)! }));
}

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

/** Puts changed pieces in a section's place: in the first order given that can be sewn, else in the best; where they are no
 *  longer one section, in as few as can be. */
function replaceSection(
  block: Block,
  section: Section,
  orders: readonly (readonly BarePiece[])[],
  limits: ChangeLimits,
): Block {
  const pieces = orders[0]!;
  const outline = section.outline;
  const fits = pieces.length <= limits.mostPieces || pieces.length <= section.pieces.length;
  const one = (): Section | undefined => {
    for (const order of orders) {
      const seams = seamsInOrder(order.map((p) => p.outline));
      if (seams) return sectionInOrder(section.id, order, seams, outline, block.fabrics);
    }
    return isPeelable(pieces.map((p) => p.outline))
      ? makeSection(section.id, pieces, outline, block.fabrics)
      : undefined;
  };
  const whole = fits ? one() : undefined;
  const leaf: JoinTree = whole
    ? { section: whole }
    : grow(
        findFewestSections(
          pieces.map((p) => p.outline),
          limits,
        ).tree,
        pieces,
        block,
        section.id,
      );
  return withLetters(
    block,
    mapLeaves(treeOf(block), (s) => (s.id === section.id ? leaf : { section: s })),
  );
}

/** A tree of new sections; the first is given the letter, the others are named by withLetters. */
function grow(node: SectionTree, pieces: readonly BarePiece[], block: Block, letter: string): JoinTree {
  if ('pieces' in node)
    return {
      section: makeSection(
        letter,
        node.pieces.map((i) => pieces[i]!),
        node.outline,
        block.fabrics,
      ),
    };
  return {
    seam: node.seam,
    left: grow(node.left, pieces, block, letter),
    right: grow(node.right, pieces, block, ''),
  };
}

/** Names what has no letter yet by the first letters that are free. */
function withLetters(block: Block, tree: JoinTree): Block {
  const taken = new Set(sectionsIn(tree).map((s) => s.id));
  let next = 0;
  const free = (): string => {
    while (taken.has(sectionLetters(next))) next++;
    taken.add(sectionLetters(next));
    return sectionLetters(next);
  };
  return blockFromTree(
    block,
    mapLeaves(tree, (s) => ({ section: s.id ? s : { ...s, id: free() } })),
  );
}

/** Where sections grow together all of them are found again. */
function numberAnew(block: Block, pieces: readonly BarePiece[], limits: ChangeLimits): Block {
  const facts = { name: block.name, smallest: block.smallest, fabrics: block.fabrics };
  const { sections, joins } = numberPieces({ size: block.size, pieces }, facts, limits);
  return { ...block, sections, joins };
}
