// What can be wrong with what is asked about cutting and buying fabric, for blocks, classes and quilts.
import type { Voice } from './problem.ts';

export const FABRIC_SENTENCES = {
  'no-blocks': (_: object) => 'There is no block to plan fabric for: name at least one block file.',
  'no-copies': (v: { block: string }) => `${v.block}: the number of copies must be 1 or more.`,
  'number-too-small': (v: { what: string; least: number }) => `The number of ${v.what} must be ${v.least} or more.`,
  'quantity-too-small': (v: { what: string; value: number; aboveZero: boolean }) =>
    `The ${v.what} cannot be ${v.value}: give ${v.aboveZero ? 'more than zero' : 'zero or more'}.`,
  'one-code-two-colours': (v: {
    code: string;
    colours: readonly [string, string];
    blocks: readonly [string, string];
  }) =>
    `Fabric ${v.code} is ${v.colours[0]} in ${v.blocks[0]} and ${v.colours[1]} in ${v.blocks[1]}: give one of them another code, or plan the blocks one by one.`,
  'too-many-patches': (v: { patches: number }) =>
    `That would be ${v.patches} patches, more than one plan can hold: plan fewer blocks or people at once.`,
  'piece-without-area': (v: { piece: string }) =>
    `Piece ${v.piece} has no area: the block file is damaged, or was not made for sewing.`,
  'patch-too-long': (v: { patch: string; lengthCm: number; clothCm: number }) =>
    `Patch ${v.patch} is ${v.lengthCm} cm long and does not fit across the cloth, which is ${v.clothCm} cm: choose wider cloth, or more pieces.`,

  'no-usable-width': (_: object) => 'The usable width of the cloth must be more than zero.',
  'no-strip-widths': (_: object) => 'Give at least one strip width, each more than zero.',
  'strip-wider-than-cloth': (v: { strip: string; cloth: string }) =>
    `A strip of ${v.strip} is wider than the cloth, which is ${v.cloth}.`,
  'no-widths-per-fabric': (_: object) => 'At least one strip width a fabric is needed.',
  'layers-out-of-range': (v: { layers: number; most: number }) =>
    `Cloth is cut in 1 to ${v.most} layers at once, not ${v.layers}.`,

  'class-or-quilt': (v: { class: string; quilt: string }, say: Voice) =>
    `Plan either kits for a class or one quilt: leave out ${say.field(v.class)} or ${say.field(v.quilt)}.`,
  'quilt-counts-blocks': (v: { field: string }, say: Voice) =>
    `A quilt says itself how many blocks it takes: leave out ${say.field(v.field)}.`,
  'too-many-blocks-for-quilt': (v: { room: number; blocks: number }) =>
    `The quilt has room for ${v.room} ${v.room === 1 ? 'block' : 'blocks'} and ${v.blocks} were named: give it more rows or columns, or name fewer.`,
  'blocks-of-two-sizes': (v: { blocks: readonly [string, string] }) =>
    `${v.blocks.join(' and ')} are not of one size: a quilt in rows and columns takes blocks of one size.`,
  'no-rows-or-columns': (_: object) => 'A quilt has at least one row and one column of blocks.',
  'sizes-under-zero': (_: object) =>
    'The sizes of blocks, sashing, borders and cloth must be zero or more, and blocks and cloth have some size.',
  'not-square-on-point': (_: object) => 'Only square blocks can be set on point: make the block as wide as it is high.',
  'wider-than-cloth': (v: { what: string }) => `The ${v.what} would be wider than the cloth: choose a smaller width.`,
  'join-costs-a-strip': (_: object) => 'A binding join cannot cost a whole strip: give a smaller loss.',
  'seam-takes-a-width': (_: object) => 'A backing seam cannot take a whole width of cloth: give a smaller loss.',
} as const;
