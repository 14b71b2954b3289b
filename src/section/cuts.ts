// Takes pieces (convex outlines on the grid of 1 micrometre) and a set of them that fills a convex region; gives the straight
// lines that run across the region between whole pieces. Shared corners are rounded, so "on the line" means within ON_LINE.
import { cross, distance, type Point, type Polygon, type Segment } from '../geometry/polygon.ts';

/** A corner rounded to 1 µm off a line through two such corners is off by less than 1.5 µm; mm */
export const ON_LINE = 0.003;
/** how far off the longest edge of a line may be taken to point while its ends are searched for, per mm of that edge's length */
const AIM = 0.0015;

export interface Cut {
  readonly seam: Segment;
  /** indices of the pieces on its two sides, ascending */
  readonly left: readonly number[];
  readonly right: readonly number[];
}

/** Which side of the line all of an outline lies on: -1, 1, or 0 where it lies on both, by more than `slack` mm. */
export function sideOfLine(P: Polygon, a: Point, b: Point, slack = ON_LINE): -1 | 0 | 1 {
  const length = distance(a, b);
  let low = 0;
  let high = 0;
  for (const q of P) {
    const off = cross(a, b, q) / length;
    if (off < low) low = off;
    if (off > high) high = off;
  }
  if (low > -slack) return 1;
  return high < slack ? -1 : 0;
}

/** The ends of the straight line of corners that holds edge a-b: the farthest corners of the set that lie on it. */
function lineEnds(outlines: readonly Polygon[], set: readonly number[], a: Point, b: Point): Segment {
  const length = distance(a, b);
  const dx = (b[0] - a[0]) / length;
  const dy = (b[1] - a[1]) / length;
  let ends: [Point, Point] = [a, b];
  let [from, to] = [0, length];
  for (const i of set)
    for (const q of outlines[i]!) {
      const along = (q[0] - a[0]) * dx + (q[1] - a[1]) * dy;
      if (along >= from && along <= to) continue;
      const reach = Math.max(length - along, along) / length;
      if (Math.abs((q[1] - a[1]) * dx - (q[0] - a[0]) * dy) > ON_LINE + AIM * reach) continue;
      if (along < from) {
        from = along;
        ends = [q, ends[1]];
      } else {
        to = along;
        ends = [ends[0], q];
      }
    }
  return ends;
}

/** The cuts of any set of some pieces. Which pieces the line of an edge plainly runs through is looked at once for all sets: in a set
 *  that holds one of them the edge is passed over, without searching for the ends of its line. */
export class CutFinder {
  private readonly outlines: readonly Polygon[];
  /** by piece and edge */
  private readonly crossed: readonly (readonly (readonly number[])[])[];
  private readonly among: Int32Array;
  private asked = 0;

  constructor(outlines: readonly Polygon[]) {
    this.outlines = outlines;
    this.among = new Int32Array(outlines.length);
    const [x, y] = [0, 1].map((c) => outlines.flatMap((P) => P.map((q) => q[c]!)));
    const most = (list: readonly number[]): number =>
      list.reduce((t, v) => Math.max(t, v), -Infinity) - list.reduce((t, v) => Math.min(t, v), Infinity);
    const across = outlines.length ? Math.hypot(most(x!), most(y!)) : 0;
    this.crossed = outlines.map((P) =>
      P.map((a, e) => {
        const b = P[(e + 1) % P.length]!;
        // as far as lineEnds can turn the line anywhere in the block, and what counts as on it
        const plain = 4 * ON_LINE + (8 * AIM * across) / distance(a, b);
        return outlines.flatMap((Q, j) => (sideOfLine(Q, a, b, plain) === 0 ? [j] : []));
      }),
    );
  }

  /** All cuts of the set, each once, in the order of its pieces' edges. */
  find(set: readonly number[]): Cut[] {
    const { outlines, crossed, among } = this;
    const asked = ++this.asked;
    for (const i of set) among[i] = asked;
    const found = new Map<string, Cut>();
    // edges on one line mostly come to the same ends: those are looked at once
    const looked = new Set<string>();
    for (const i of set) {
      const P = outlines[i]!;
      for (let e = 0; e < P.length; e++) {
        if (crossed[i]![e]!.some((j) => among[j] === asked)) continue;
        const [a, b] = lineEnds(outlines, set, P[e]!, P[(e + 1) % P.length]!);
        const ends = `${a.join()} ${b.join()}`;
        if (looked.has(ends)) continue;
        looked.add(ends);
        const left: number[] = [];
        const right: number[] = [];
        for (const j of set) {
          const side = sideOfLine(outlines[j]!, a, b);
          if (side === 0) break;
          (side < 0 ? left : right).push(j);
        }
        if (left.length + right.length < set.length || !left.length || !right.length) continue;
        const [first, second] = left[0]! < right[0]! ? [left, right] : [right, left];
        const key = first.join();
        const seam: Segment = a[0] < b[0] || (a[0] === b[0] && a[1] < b[1]) ? [a, b] : [b, a];
        if (!found.has(key)) found.set(key, { seam, left: first, right: second });
      }
    }
    return [...found.values()];
  }
}

/** The cuts of one set: see CutFinder. */
export const findCuts = (outlines: readonly Polygon[], set: readonly number[]): Cut[] =>
  new CutFinder(outlines).find(set);
