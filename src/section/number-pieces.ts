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
  /** the narrowest finished width that was asked for, mm */
  readonly smallest: number;
  readonly fabrics: readonly Fabric[];
  readonly source?: Source;
}

/** Throws UserError where the pieces cannot be joined by straight seams. Piece fabrics are indices into facts.fabrics. */
export function numberPieces(given: Partition, facts: BlockFacts, limits: SectionLimits): Block {
  const partition = {
    size: given.size,
    pieces: given.pieces.map((p) => ({ ...p, outline: dropFlatCorners(p.outline) })),
  };
  const outlines = partition.pieces.map((p) => p.outline);
  const { tree } = findFewestSections(outlines, limits);
  const sections: Section[] = [];
  const joins: Block['joins'] = [];
  const shades = facts.fabrics.map((f) => lightness(f.colour));
  /** names of the sections below a node, joins made on the way */
  const visit = (node: SectionTree): string[] => {
    if ('pieces' in node) {
      const section = makeSection(sectionLetters(sections.length), node.pieces, node.outline);
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
  const makeSection = (id: string, set: readonly number[], outline: Polygon): Section => {
    const pieces = set.map((i) => {
      const { outline: P, fabric } = partition.pieces[i]!;
      return { outline: P, fabric, lightness: shades[fabric]!, width: narrowestWidth(P) };
    });
    const sewn = bestOrder(pieces);
    if (!sewn) throw new Error(`section ${id} was found sewable and has no sewing order`);
    return {
      id,
      outline: outline.map(pointOnGrid),
      pieces: sewn.order.map((i, n) => ({
        number: n + 1,
        fabric: facts.fabrics[pieces[i]!.fabric]!.id,
        outline: pieces[i]!.outline.map(pointOnGrid),
        seam: sewn.seams[n] ? onGridSeam(sewn.seams[n]) : null,
      })),
    };
  };
  visit(tree);
  return {
    format: 'seamwright-block',
    version: 1,
    name: facts.name,
    unit: 'mm',
    size: [...partition.size],
    smallest: facts.smallest,
    fabrics: [...facts.fabrics],
    sections,
    joins,
    ...(facts.source && { source: facts.source }),
  };
}

const onGridSeam = ([a, b]: Segment): [[number, number], [number, number]] => [pointOnGrid(a), pointOnGrid(b)];

const countSections = (node: SectionTree): number =>
  'pieces' in node ? 1 : countSections(node.left) + countSections(node.right);
