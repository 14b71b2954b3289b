// What finished pieces show of the picture, cell by cell, as laid on the grid: the slow and plain way, apart from the engine's sums.
import type { Landmark, Partition, Shading } from '../data.ts';
import { pieceOfCells } from '../geometry/cells.ts';
import type { SmallRegion } from '../geometry/landmarks.ts';

/** A small region counts as lost where less of it than this share shows. */
const SHOWN = 0.4;
/** Share of the block that shows the wrong fabric, and which of the small regions that stand out are lost. */
export function judgePieces(
  pieces: Partition['pieces'],
  { width, height, labels }: Shading,
  size: readonly [number, number],
  marks: readonly SmallRegion[],
): { readonly misplaced: number; readonly lost: readonly Landmark[] } {
  const owner = pieceOfCells(
    pieces.map((p) => p.outline),
    width,
    height,
    size,
  );
  const shows = (cell: number): number => pieces[owner[cell]!]?.fabric ?? -1;
  let right = 0;
  for (let i = 0; i < labels.length; i++) if (shows(i) === labels[i]) right++;
  const lost: Landmark[] = [];
  for (const { cells, label } of marks) {
    const n = cells.length;
    let [shown, x, y] = [0, 0, 0];
    for (const i of cells) {
      if (shows(i) === label) shown++;
      x += (i % width) + 0.5;
      y += Math.floor(i / width) + 0.5;
    }
    if (shown < SHOWN * n) lost.push({ at: [x / n / width, y / n / height], area: n / labels.length, fabric: label });
  }
  return { misplaced: 1 - right / labels.length, lost };
}
