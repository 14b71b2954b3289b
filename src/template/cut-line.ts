// A section's cut line: its outline moved out by the allowance, corners trimmed along the cut line of the section that
// will be sewn to it, so that tips lie edge to edge at the join. No point of it is nearer to the outline than the allowance.

import { insetConvex } from '../drawing/clip.ts';
import { clipHalf, distance, offLine, type Point, type Polygon, reflect, type Segment } from '../geometry/polygon.ts';

/** Sharper corners than 60° that no neighbour trims are squared off at this many allowances from the corner (house rule). */
const SQUARE_OFF = 2;
/** mm: corners that are the same place */
const SAME = 0.05;

/** The half-plane "not beyond the line that lies `by` outside a -> b", a and b in positive order. */
const clipBeyond = (P: Polygon, a: Point, b: Point, by: number): Point[] => {
  const length = distance(a, b);
  const nx = (by * (b[1] - a[1])) / length;
  const ny = (-by * (b[0] - a[0])) / length;
  return clipHalf(P, [a[0] + nx, a[1] + ny], [b[0] + nx, b[1] + ny], 1);
};

/** outline: corners in positive order; neighbours: outlines in positive order that share a stretch of an edge with it. */
export function cutLine(outline: Polygon, neighbours: readonly Polygon[], allowance: number): Point[] {
  let cut = insetConvex(outline, -allowance);
  const n = outline.length;
  for (let i = 0; i < n; i++) {
    const corner = outline[i]!;
    const before = outline[(i + n - 1) % n]!;
    const after = outline[(i + 1) % n]!;
    for (const [edge, along] of [
      [[before, corner] as Segment, before],
      [[corner, after] as Segment, after],
    ] as const) {
      const far = neighbourEdge(corner, along, edge, neighbours);
      if (!far) continue;
      // laid right sides together the neighbour is reflected across the seam
      const q = reflect(far, edge[0], edge[1]);
      // positive order about the outline: the reflected edge starts at the corner when the seam ends there
      // a neighbour with the sharper corner trims nothing of this one
      const [from, to, rest] = along === before ? [corner, q, after] : [q, corner, before];
      if (offLine(from, to, rest) < -SAME) continue;
      cut = clipBeyond(cut, from, to, allowance);
    }
    const a = distance(corner, before);
    const b = distance(corner, after);
    const ux = (before[0] - corner[0]) / a + (after[0] - corner[0]) / b;
    const uy = (before[1] - corner[1]) / a + (after[1] - corner[1]) / b;
    // a line square to the bisector through the corner, positive order about the outline
    const length = Math.hypot(ux, uy);
    if (length > 1e-6)
      cut = clipBeyond(cut, corner, [corner[0] + uy / length, corner[1] - ux / length], SQUARE_OFF * allowance);
  }
  return cut;
}

/** The neighbour's other edge at this corner: its far end; undefined where the neighbour has no corner here. */
function neighbourEdge(corner: Point, along: Point, edge: Segment, neighbours: readonly Polygon[]): Point | undefined {
  for (const N of neighbours) {
    const at = N.findIndex((q) => distance(q, corner) < SAME);
    if (at < 0) continue;
    const sides = [N[(at + N.length - 1) % N.length]!, N[(at + 1) % N.length]!];
    const shared = sides.findIndex((q) => {
      const same = (q[0] - corner[0]) * (along[0] - corner[0]) + (q[1] - corner[1]) * (along[1] - corner[1]) > 0;
      return same && Math.abs(offLine(edge[0], edge[1], q)) < SAME && distance(q, corner) > SAME;
    });
    if (shared >= 0) return sides[1 - shared]!;
  }
  return undefined;
}
