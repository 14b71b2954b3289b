// Puts changed pieces in a section's place; all other sections keep their letters and their pieces' numbers.
import { type Block, type Section, sectionLetters } from '../block.ts';
import type { SectionLimits } from '../tree/sections.ts';
import { findFewestSections, type SectionTree } from './fewest-sections.ts';
import { blockFromTree, type JoinTree, mapLeaves, sectionsIn, treeOf } from './join-tree.ts';
import { type BarePiece, makeSection, numberPieces, sectionInOrder } from './number-pieces.ts';
import { isPeelable, seamsInOrder } from './sewing-order.ts';

export const fabricIndex = (block: Block): ReadonlyMap<string, number> =>
  new Map(block.fabrics.map((f, i) => [f.id, i]));

/** A section's pieces in sewing order. */
export function bare(block: Block, section: Section): BarePiece[] {
  const index = fabricIndex(block);
  return [...section.pieces]
    .sort((p, q) => p.number - q.number)
    .map((p) => ({ outline: p.outline, fabric: index.get(p.fabric)! }));
}

/** Puts changed pieces in a section's place: in the first order given that can be sewn, else in the best; where they are no
 *  longer one section, in as few as can be. */
export function replaceSection(
  block: Block,
  section: Section,
  orders: readonly (readonly BarePiece[])[],
  limits: SectionLimits,
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
export function grow(node: SectionTree, pieces: readonly BarePiece[], block: Block, letter: string): JoinTree {
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
export function withLetters(block: Block, tree: JoinTree): Block {
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
export function numberAnew(block: Block, pieces: readonly BarePiece[], limits: SectionLimits): Block {
  const facts = { name: block.name, smallest: block.smallest, fabrics: block.fabrics };
  const { sections, joins } = numberPieces({ size: block.size, pieces }, facts, limits);
  return { ...block, sections, joins };
}
