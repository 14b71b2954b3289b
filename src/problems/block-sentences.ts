// What can be wrong with a block, its pieces and what is done to them.
import type { Voice } from './problem.ts';

export const BLOCK_SENTENCES = {
  'other-shape': (v: { file: string; cells: readonly [number, number]; field: string }, say: Voice) =>
    `${v.file} is ${v.cells.join(' x ')} cells, another shape than the block; give a ${say.field(v.field)} of the same shape.`,
  'cannot-be-sewn': (v: { what: string; fault: string }) =>
    `${v.what} cannot be sewn as it stands in its file: ${v.fault}`,
  'cannot-be-sewn-yet': (v: { what: string; fault: string }, say: Voice) =>
    `${v.what} cannot be sewn as it is (${v.fault.replace(/\.$/, '')}); ${say.command('check --repair')} mends it first.`,
  'change-cannot-be-sewn': (v: { fault: string }) => `So changed the block cannot be sewn: ${v.fault}`,
  'too-small-for-piece': (v: { size: string; piece: string; width: string; enough: string }) =>
    `At ${v.size} piece ${v.piece} would finish ${v.width} wide; under 1/4 in (6.4 mm) cannot be sewn. Choose ${v.enough} or more.`,
} as const;
