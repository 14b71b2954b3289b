// Pieces against a grid of cells.
import type { Polygon } from './polygon.ts';

/** Seams are often laid right through cell centres, and a cell must belong to one piece: outlines are looked at this much beside
 *  themselves, in cells, as the fit's engine does. */
const ASIDE = [-1.3e-7, 0.48e-7] as const;

/** Which of the convex outlines (mm) each cell's centre lies in, row by row; -1 for none. */
export function pieceOfCells(
  outlines: readonly Polygon[],
  width: number,
  height: number,
  size: readonly [number, number],
): Int32Array {
  const owner = new Int32Array(width * height).fill(-1);
  const scale = [width / size[0], height / size[1]] as const;
  outlines.forEach((outline, piece) => {
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
