// What can be wrong with a change of a block's pieces, seams and sections.
import type { Voice } from './problem.ts';

type Piece = { piece: string };
type Pair = readonly [string, string];

const tenths = (v: number): number => Math.round(v * 10) / 10;

export const SECTION_SENTENCES = {
  'no-such-piece': (v: { piece: string; block: string; example: string }) =>
    `There is no piece ${v.piece} in ${v.block}; pieces are named like ${v.example}.`,
  'no-such-section': (v: { section: string; block: string; sections: readonly string[] }) =>
    `There is no section ${v.section} in ${v.block}; it has ${v.sections.join(', ')}.`,
  'too-many-parts': (v: { block: string; most: number; field: string }, say: Voice) =>
    `${v.block} would be printed in more than ${v.most} parts, too many to paste; print it smaller or on larger paper (${say.field(v.field)}), or only some of its sections.`,
  'no-such-join': (v: { join: number; block: string; joins: number }) =>
    `There is no join ${v.join} in ${v.block}; it has ${v.joins}.`,
  'no-such-fabric': (v: { fabric: string; block?: string; fabrics: readonly string[] }) =>
    v.block === undefined
      ? `There is no fabric "${v.fabric}" in these blocks; there are ${v.fabrics.join(', ')}.`
      : `There is no fabric "${v.fabric}" in ${v.block}; it has ${v.fabrics.join(', ')}.`,
  'not-a-colour': (v: { value: string }) => `"${v.value}" is not a colour like #a3b18a.`,
  'empty-name': (_: object) => 'The new name is empty.',
  'name-not-plain': (v: { most: number }) =>
    `The new name must be at most ${v.most} characters, all of them visible, on one line.`,

  'one-piece-already': (v: { pieces: Pair }) => `${v.pieces.join(' and ')} are one piece already.`,
  'not-neighbours': (v: { pieces: Pair }) =>
    `${v.pieces.join(' and ')} together turn inward or do not touch, so no straight seams hold them; choose two that share a whole edge.`,
  'same-points': (_: object) => 'The two points of the line are the same.',
  'line-misses-piece': (v: Piece) => `The line does not cross ${v.piece}.`,
  'part-too-narrow': (v: { piece: string; width: number; least: number }) =>
    `A part of ${v.piece} would be ${tenths(v.width)} mm wide, under ${tenths(v.least)} mm: too narrow to sew.`,

  'first-piece-has-no-seam': (v: Piece) =>
    `${v.piece} is the first piece of its section and has no seam of its own; move that of a neighbour.`,
  'seam-leaves-no-side': (_: object) => 'The seam would leave nothing of one of its sides.',
  'seam-leaves-no-piece': (v: Piece) => `Moved so far, the seam leaves nothing of ${v.piece}.`,

  'too-many-for-section': (v: { sections: Pair; pieces: number; most: number; field: string }, say: Voice) =>
    `${v.sections.join(' and ')} together have ${v.pieces} pieces; a section has ${v.most} at most (${say.field(v.field)}).`,
  'too-large-for-sheet': (v: { sections: Pair }) =>
    `${v.sections.join(' and ')} together do not fit on one sheet of this paper.`,
  'no-order-on-one-paper': (v: { sections: Pair }) =>
    `${v.sections.join(' and ')} cannot be sewn on one paper: some piece would need a seam that stops in the middle.`,
  'not-joined': (v: { sections: Pair }) =>
    `${v.sections.join(' and ')} are not joined to each other directly; see the joins in the packet.`,
  'single-piece': (v: { section: string }) => `Section ${v.section} is a single piece.`,
  'no-seam-in-section': (v: { piece: string; section: string }) =>
    `${v.piece} has no seam in section ${v.section}; name one of its later pieces.`,
  'seam-not-across': (v: { piece: string; section: string }) =>
    `The seam of ${v.piece} does not run right across section ${v.section}, so it cannot be parted there.`,
  'no-line-across': (v: { pieces: number; at: readonly [number, number]; areaCm2: number }) =>
    `The ${v.pieces} pieces around ${v.at.join(', ')} mm (${v.areaCm2} cm²) have no straight line across them, so they cannot be joined by straight seams; prolong a seam there until it runs edge to edge.`,
} as const;
