// What can be wrong with a block, its pieces and what is done to them.
import type { Voice } from './problem.ts';

export const BLOCK_SENTENCES = {
  'other-shape': (v: { file: string; cells: readonly [number, number]; field: string }, say: Voice) =>
    `${v.file} is ${v.cells.join(' x ')} cells, another shape than the block; give a ${say.field(v.field)} of the same shape.`,
  'too-small-to-cut': (v: { size: readonly number[]; smallest: number }) =>
    `A block of ${v.size.join(' x ')} mm cannot be cut into pieces ${v.smallest} mm wide; choose a larger size or a smaller width.`,
  'cannot-be-sewn': (v: { what: string; fault: string }) =>
    `${v.what} cannot be sewn as it stands in its file: ${v.fault}`,
  'file-cannot-be-sewn': (v: { file: string; fault: string }) => `${v.file} cannot be sewn as it stands: ${v.fault}`,
  'cannot-be-sewn-yet': (v: { what: string; fault: string }, say: Voice) =>
    `${v.what} cannot be sewn as it is (${v.fault.replace(/\.$/, '')}); ${say.command('check --repair')} mends it first.`,
  'change-cannot-be-sewn': (v: { fault: string }) => `So changed the block cannot be sewn: ${v.fault}`,
  'too-small-for-piece': (v: { size: string; piece: string; width: string; enough: string }) =>
    `At ${v.size} piece ${v.piece} would finish ${v.width} wide; under 1/4 in (6.4 mm) cannot be sewn. Choose ${v.enough} or more.`,
  'not-a-block-file': (v: { file: string; at: string; why: string }) =>
    `${v.file} is not a block file of this program: ${v.at}: ${v.why}.`,
  'block-file-not-json': (v: { file: string }) =>
    `${v.file} is not a block file: it is not JSON. Choose the file that ends in .block.json.`,
  'block-file-too-long': (v: { file: string }) =>
    `${v.file} is too long for a block file: keep it under 8 million characters.`,
  'block-file-too-deep': (v: { file: string }) =>
    `${v.file} is no block file of this program: its brackets lie too deep within one another.`,
  'block-too-large': (v: { file: string; pieces: number; most: number }) =>
    `${v.file} has ${v.pieces} pieces; a block has ${v.most} at most. Part it into several blocks.`,
  'too-many-corners': (v: { file: string; corners: number; most: number }) =>
    `${v.file} has outlines of ${v.corners} corners together; a block has ${v.most} at most.`,
  'fabric-not-listed': (v: { file: string; piece: string; fabric: string }) =>
    `${v.file}: piece ${v.piece} asks for fabric "${v.fabric}", which the file does not list.`,
  'size-of-other-shape': (v: { size: string; block: string; fitting: string }) =>
    `${v.size} is another shape than the block, which is ${v.block}; ${v.fitting} would be of its shape.`,
} as const;
