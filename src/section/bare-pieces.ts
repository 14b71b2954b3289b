// The pieces of a block without sections and numbers.
import type { Block } from '../block.ts';
import type { Outlines, Partition } from '../data.ts';
import type { Polygon } from '../geometry/polygon.ts';

/** The bare pieces of a block, as a drawing would have them; fabrics by index. */
export function piecesOf(block: Block): Partition {
  const index = new Map(block.fabrics.map((f, i) => [f.id, i]));
  const pieces = block.sections.flatMap((s) => s.pieces);
  return {
    size: block.size,
    pieces: pieces.map((p) => ({ outline: p.outline, fabric: index.get(p.fabric)! })),
  };
}

export const bareOutlines = (partition: Partition): Polygon[] => partition.pieces.map((p) => p.outline);

/** For the colouring page of a block that no picture is known of: one region a piece. */
export function outlinesOfBlock(block: Block): Outlines {
  const { size, pieces } = piecesOf(block);
  return { size, regions: pieces.map((p) => ({ fabric: p.fabric, rings: [p.outline] })) };
}
