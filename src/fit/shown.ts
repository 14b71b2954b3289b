// What finished pieces show of the picture, cell by cell, as laid on the grid: the slow and plain way, apart from the engine's sums.
import type { Landmark, Partition, Shading } from '../data.ts';
import type { SmallRegion } from '../geometry/landmarks.ts';

/** A small region counts as lost where less of it than this share shows. */
const SHOWN = 0.4;
/** Seams are often laid right through cell centres, and a cell must belong to one piece: outlines are looked at this much beside
 *  themselves, in cells, as the engine does. */
const ASIDE = [-1.3e-7, 0.48e-7] as const;

/** The piece that each cell's centre lies in, row by row. */
export function pieceOfCells(
  pieces: Partition['pieces'],
  width: number,
  height: number,
  size: readonly [number, number],
): Int32Array {
  const owner = new Int32Array(width * height).fill(-1);
  const scale = [width / size[0], height / size[1]] as const;
  pieces.forEach(({ outline }, piece) => {
    const corners = outline.map(([x, y]) => [x * scale[0] + ASIDE[0], y * scale[1] + ASIDE[1]] as const);
    const first = Math.max(0, Math.ceil(Math.min(...corners.map((c) => c[1])) - 0.5));
    const past = Math.min(height, Math.ceil(Math.max(...corners.map((c) => c[1])) - 0.5));
    for (let row = first; row < past; row++) {
      // a convex outline crosses the row's middle twice
      const at: number[] = [];
      corners.forEach((a, i) => {
        const b = corners[(i + 1) % corners.length]!;
        if (a[1] <= row + 0.5 !== b[1] <= row + 0.5)
          at.push(a[0] + ((row + 0.5 - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
      });
      if (at.length === 0) continue;
      owner.fill(
        piece,
        row * width + Math.max(0, Math.ceil(Math.min(...at) - 0.5)),
        row * width + Math.min(width, Math.ceil(Math.max(...at) - 0.5)),
      );
    }
  });
  return owner;
}

/** Share of the block that shows the wrong fabric, and which of the small regions that stand out are lost. */
export function judgePieces(
  pieces: Partition['pieces'],
  { width, height, labels }: Shading,
  size: readonly [number, number],
  marks: readonly SmallRegion[],
): { readonly misplaced: number; readonly lost: readonly Landmark[] } {
  const owner = pieceOfCells(pieces, width, height, size);
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
