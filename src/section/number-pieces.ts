// 4. Partition -> Block. Sections, letters, numbers and joins, from the pieces alone: the same for pictures that were fitted,
// designs that were drawn and blocks that were changed. Letters follow the joining order, so that join 1 is A + B.
import { type Block, type Fabric, pointOnGrid, type Section, type Source, sectionLetters } from '../block.ts';
import { lightness } from '../colour/difference.ts';
import type { Partition } from '../data.ts';
import { narrowestWidth, type Polygon, type Segment } from '../geometry/polygon.ts';
import type { SectionLimits } from '../tree/sections.ts';
import { dropFlatCorners, findFewestSections, type SectionTree } from './fewest-sections.ts';
import { bestOrder } from './sewing-order.ts';

export interface BlockFacts {
  readonly name: string;
  readonly edition?: string;
  /** the narrowest finished width that was asked for, mm */
  readonly smallest: number;
  readonly fabrics: readonly Fabric[];
  readonly source?: Source;
}

/** Throws UserError where the pieces cannot be joined by straight seams. Piece fabrics are indices into facts.fabrics. `most` as
 *  in findFewestSections. */
export const numberPieces = (given: Partition, facts: BlockFacts, limits: SectionLimits, most?: number): Block =>
  numberWithProof(given, facts, limits, most).block;

/** The same, and whether no other tree of the same pieces has fewer sections: not known where there were too many to try. */
export function numberWithProof(
  given: Partition,
  facts: BlockFacts,
  limits: SectionLimits,
  most?: number,
): { block: Block; fewest: boolean } {
  const partition = {
    size: given.size,
    pieces: given.pieces.map((p) => ({ ...p, outline: dropFlatCorners(p.outline) })),
  };
  const outlines = partition.pieces.map((p) => p.outline);
  const { tree, exact } = findFewestSections(outlines, limits, most);
  const sections: Section[] = [];
  const joins: Block['joins'] = [];
  /** names of the sections below a node, joins made on the way */
  const visit = (node: SectionTree): string[] => {
    if ('pieces' in node) {
      const section = makeSection(
        sectionLetters(sections.length),
        node.pieces.map((i) => partition.pieces[i]!),
        node.outline,
        facts.fabrics,
      );
      sections.push(section);
      return [section.id];
    }
    const [first, second] =
      countSections(node.left) >= countSections(node.right) ? [node.left, node.right] : [node.right, node.left];
    const left = visit(first);
    const right = visit(second);
    joins.push({ number: joins.length + 1, left, right, seam: onGridSeam(node.seam) });
    return [...left, ...right];
  };
  visit(tree);
  const block: Block = {
    format: 'seamwright-block',
    version: 1,
    name: facts.name,
    ...(facts.edition && { edition: facts.edition }),
    unit: 'mm',
    size: [...partition.size],
    smallest: facts.smallest,
    fabrics: [...facts.fabrics],
    sections,
    joins,
    ...(facts.source && { source: facts.source }),
  };
  return { block, fewest: exact };
}

/** One section in its best order. Pieces' fabrics are indices into `fabrics`. Throws Error where there is no order. */
export function makeSection(
  id: string,
  given: readonly BarePiece[],
  outline: Polygon,
  fabrics: readonly Fabric[],
): Section {
  const pieces = given.map(({ outline: P, fabric }) => ({
    ...{ outline: P, fabric, width: narrowestWidth(P) },
    lightness: lightness(fabrics[fabric]!.colour),
  }));
  const sewn = bestOrder(pieces);
  if (!sewn) throw new Error(`section ${id} was found sewable and has no sewing order`);
  return sectionInOrder(
    id,
    sewn.order.map((i) => pieces[i]!),
    sewn.seams,
    outline,
    fabrics,
  );
}

/** One section of pieces that are given in their sewing order. */
export const sectionInOrder = (
  id: string,
  pieces: readonly BarePiece[],
  seams: readonly (Segment | undefined)[],
  outline: Polygon,
  fabrics: readonly Fabric[],
): Section => ({
  id,
  outline: outline.map(pointOnGrid),
  pieces: pieces.map((p, n) => ({
    number: n + 1,
    fabric: fabrics[p.fabric]!.id,
    outline: p.outline.map(pointOnGrid),
    seam: seams[n] ? onGridSeam(seams[n]) : null,
  })),
});

export type BarePiece = Partition['pieces'][number];

export const onGridSeam = ([a, b]: Segment): [[number, number], [number, number]] => [pointOnGrid(a), pointOnGrid(b)];

const countSections = (node: SectionTree): number =>
  'pieces' in node ? 1 : countSections(node.left) + countSections(node.right);
