// Whether a shape can lie on a sheet of paper, turned any way.
import { distance, type Polygon } from './polygon.ts';

/** Width and height in mm of what can be printed on. */
export type PaperArea = readonly [width: number, height: number];

/** True where a rectangle around the convex outline, with `allowance` on every side, fits the sheet for some turn.
 *  The smallest box has a side along an edge of the outline (Freeman & Shapira 1975), so only those turns are tried. */
export function fitsSheet(outline: Polygon, paper: PaperArea, allowance: number): boolean {
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i]!;
    const b = outline[(i + 1) % outline.length]!;
    const length = distance(a, b);
    if (length < 1e-9) continue;
    const dx = (b[0] - a[0]) / length;
    const dy = (b[1] - a[1]) / length;
    let [u0, u1, v0, v1] = [Infinity, -Infinity, Infinity, -Infinity];
    for (const q of outline) {
      const u = q[0] * dx + q[1] * dy;
      const v = q[1] * dx - q[0] * dy;
      if (u < u0) u0 = u;
      if (u > u1) u1 = u;
      if (v < v0) v0 = v;
      if (v > v1) v1 = v;
    }
    const w = u1 - u0 + 2 * allowance;
    const h = v1 - v0 + 2 * allowance;
    if ((w <= paper[0] && h <= paper[1]) || (w <= paper[1] && h <= paper[0])) return true;
  }
  return false;
}
