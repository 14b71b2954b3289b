// A cut line against its sewing line, judged along the whole length of both from the trade's rule alone.
import { distance, type Point, type Polygon } from '../../src/geometry/polygon.ts';

/** mm: what is printed is read back to a few hundredths of a point */
const SAME = 0.03;

export function pointToSegment(q: Point, a: Point, b: Point): number {
  const l = distance(a, b) ** 2;
  const t = Math.max(0, Math.min(1, ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / l));
  return distance(q, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
}

export const toRing = (q: Point, P: Polygon): number =>
  Math.min(...P.map((a, i) => pointToSegment(q, a, P[(i + 1) % P.length]!)));

/** Points every millimetre along a ring, corners among them. */
export function walkRing(P: Polygon): { at: Point; edge: number }[] {
  return P.flatMap((a, edge) => {
    const b = P[(edge + 1) % P.length]!;
    const n = Math.max(1, Math.ceil(distance(a, b)));
    return Array.from({ length: n }, (_, k) => ({
      at: [a[0] + ((b[0] - a[0]) * k) / n, a[1] + ((b[1] - a[1]) * k) / n] as Point,
      edge,
    }));
  });
}

/** mm that a cut line may stand off at a corner: squared off at two allowances along the bisector, its ends a little further */
const FURTHEST = 3;

/** What is wrong with a cut line, looked at every millimetre of its length and of the sewing line's; one sentence each. */
export function cutLineFaults(outline: Polygon, cut: Polygon, allowance: number): string[] {
  const faults = new Set<string>();
  const say = (v: number): string => `${v.toFixed(2)} mm`;
  for (const { at, edge } of walkRing(cut)) {
    const off = toRing(at, outline);
    if (off < allowance - SAME) faults.add(`edge ${edge} of the cut line comes within ${say(off)} of the sewing line`);
    if (off > FURTHEST * allowance) faults.add(`edge ${edge} of the cut line goes ${say(off)} off the sewing line`);
  }
  for (const { at, edge } of walkRing(outline)) {
    const [a, b] = [outline[edge]!, outline[(edge + 1) % outline.length]!];
    const length = distance(a, b);
    const out: Point = [at[0] + ((b[1] - a[1]) * allowance) / length, at[1] - ((b[0] - a[0]) * allowance) / length];
    const off = toRing(out, cut);
    if (off > SAME)
      faults.add(`the allowance of edge ${edge} of the sewing line is not ${say(allowance)} but ${say(off)} off`);
  }
  return [...faults];
}
