// Paints convex shapes into a grid.
import { insideConvex, type Point } from '../../geometry/polygon.ts';

/** Calls `visit` with each cell whose middle lies in a convex outline, given in cells. */
export function eachCellIn(outline: readonly Point[], w: number, h: number, visit: (i: number) => void): void {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  for (let y = Math.max(0, Math.floor(Math.min(...ys))); y < Math.min(h, Math.max(...ys)); y++)
    for (let x = Math.max(0, Math.floor(Math.min(...xs))); x < Math.min(w, Math.max(...xs)); x++)
      if (insideConvex(outline, [x + 0.5, y + 0.5])) visit(y * w + x);
}
