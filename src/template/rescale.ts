// The block at another finished size: every corner moved in proportion, back on the grid of 1 micrometre. What may no longer
// be sewn at that size is for the check to say.
import { type Block, onGrid } from '../block.ts';
import { UserError } from '../problems/problem.ts';
import { formatSize, type System } from '../units.ts';

/** How far the two sides' scales may be apart: a size in whole sixteenths is seldom exactly of the block's shape. */
const SAME_SHAPE = 0.01;

/** Throws UserError where `size` is of another shape than the block. */
export function rescaleBlock(block: Block, size: readonly [number, number], system: System): Block {
  const [kx, ky] = [size[0] / block.size[0], size[1] / block.size[1]];
  if (Math.abs(kx / ky - 1) > SAME_SHAPE) {
    const longer = Math.max(...size) / Math.max(...block.size);
    const fitting = formatSize([block.size[0] * longer, block.size[1] * longer], system);
    throw new UserError(
      'size-of-other-shape',
      { size: formatSize(size, system), block: formatSize(block.size, system), fitting },
      2,
    );
  }
  const at = ([x, y]: readonly [number, number]): [number, number] => [onGrid(x * kx), onGrid(y * ky)];
  const k = Math.sqrt(kx * ky);
  return {
    ...block,
    size: at(block.size),
    smallest: onGrid(block.smallest * k),
    sections: block.sections.map((s) => ({
      ...s,
      outline: s.outline.map(at),
      pieces: s.pieces.map((p) => ({
        ...p,
        outline: p.outline.map(at),
        seam: p.seam && [at(p.seam[0]), at(p.seam[1])],
      })),
    })),
    joins: block.joins.map((j) => ({ ...j, seam: [at(j.seam[0]), at(j.seam[1])] })),
    ...(block.stitches && { stitches: block.stitches.map((line) => line.map(at)) }),
    ...(block.marks && {
      marks: block.marks.map((m) => ({
        ...m,
        at: at(m.at),
        width: onGrid(m.width * k),
        ...(m.outline && { outline: m.outline.map(at) }),
      })),
    }),
  };
}
