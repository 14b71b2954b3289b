// Takes bare pieces that fill a rectangle; gives the tree of straight joins with the fewest sections. One set of pieces can
// often be cut in several ways (strips can be parted in any order); the ways are compared, and each set is solved once.

import { areaOf, centroid, convexHull, distance, offLine, type Polygon, type Segment } from '../geometry/polygon.ts';
import { fitsSheet } from '../geometry/sheet-fit.ts';
import { UserError } from '../problems/problem.ts';
import type { SectionLimits } from '../tree/sections.ts';
import { type Cut, CutFinder, ON_LINE } from './cuts.ts';
import { isPeelable } from './sewing-order.ts';

export type SectionTree =
  | { readonly pieces: readonly number[]; readonly outline: Polygon }
  | { readonly seam: Segment; readonly left: SectionTree; readonly right: SectionTree };

export interface SectionsFound {
  readonly tree: SectionTree;
  readonly sections: number;
  /** false where there were too many ways to look at them all */
  readonly exact: boolean;
}

/** sets of pieces looked at before only the most even cut of each further one is followed */
const MOST_SETS = 4000;
/** the same in pairs of a piece and a piece of its set, which is what looking for cuts takes: reached by some hundred pieces alone */
const MOST_PAIRS = 20e6;

/** The outline of pieces that fill a convex region: their hull, without corners that rounding alone makes. */
export const outlineOf = (outlines: readonly Polygon[], set: readonly number[]): Polygon =>
  dropFlatCorners(convexHull(set.flatMap((i) => outlines[i]!)));

/** A convex outline without corners that lie on a straight edge: those that rounding makes, or a seam across it. */
export function dropFlatCorners(outline: Polygon): Polygon {
  let P = outline;
  for (;;) {
    const n = P.length;
    const flat = P.findIndex((q, i) => {
      const a = P[(i + n - 1) % n]!;
      const b = P[(i + 1) % n]!;
      return distance(a, b) > 0 && Math.abs(offLine(a, b, q)) < ON_LINE;
    });
    if (flat < 0 || n <= 3) return P;
    P = P.filter((_, i) => i !== flat);
  }
}

/** Throws UserError where some set of the pieces has no straight line across it: such a design cannot be sewn. `most` sets of
 *  pieces are looked at in every way. */
export function findFewestSections(
  outlines: readonly Polygon[],
  limits: SectionLimits,
  most = MOST_SETS,
): SectionsFound {
  interface Best {
    readonly tree: SectionTree;
    readonly sections: number;
    /** to choose between trees of as many sections: small sections, points to match and length of joins, in mm of join */
    readonly burden: number;
  }
  const finder = new CutFinder(outlines);
  const memo = new Map<string, Best>();
  let exact = true;
  let pairs = 0;
  const solve = (set: readonly number[]): Best => {
    const key = set.join();
    const known = memo.get(key);
    if (known) return known;
    const outline = set.length === 1 || set.length <= limits.mostPieces ? outlineOf(outlines, set) : undefined;
    let best: Best | undefined;
    if (
      outline &&
      (set.length === 1 ||
        (fitsSheet(outline, limits.paper, limits.allowance) && isPeelable(set.map((i) => outlines[i]!))))
    )
      best = { tree: { pieces: set, outline }, sections: 1, burden: set.length <= 2 ? 150 : 0 };
    else {
      pairs += set.length ** 2;
      let cuts = finder.find(set);
      if (cuts.length === 0) throw unsewable(outlines, set);
      if ((memo.size > most || pairs > MOST_PAIRS) && cuts.length > 1) {
        exact = false;
        cuts = [...cuts].sort((a, b) => evenness(b) - evenness(a)).slice(0, 1);
      }
      for (const cut of cuts) {
        if (best && pairs > MOST_PAIRS) {
          exact = false;
          break;
        }
        const left = solve(cut.left);
        const right = solve(cut.right);
        const sections = left.sections + right.sections;
        if (best && sections > best.sections) continue;
        const burden = left.burden + right.burden + distance(...cut.seam) + MATCH * pointsToMatch(outlines, cut);
        if (!best || sections < best.sections || (sections === best.sections && burden < best.burden - 1e-6))
          best = { tree: { seam: cut.seam, left: left.tree, right: right.tree }, sections, burden };
      }
    }
    memo.set(key, best!);
    return best!;
  };
  const { tree, sections } = solve(outlines.map((_, i) => i));
  return { tree, sections, exact };
}

/** mm: seam ends nearer than this across a join are meant to meet */
const MEETING = 0.25;
/** mm of join that a point to match costs: three minutes of pinning against half a minute a foot of sewing (house rule) */
const MATCH = 150;

/** Seam ends of both sides that meet on the line of a cut, its own ends left out. */
function pointsToMatch(outlines: readonly Polygon[], { seam: [a, b], left, right }: Cut): number {
  const length = distance(a, b);
  const ends = (set: readonly number[]): number[] => {
    const along = set.flatMap((i) =>
      outlines[i]!.filter((q) => Math.abs(offLine(a, b, q)) < 2 * ON_LINE).map(
        (q) => ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length,
      ),
    );
    const inner = along.filter((t) => t > MEETING && t < length - MEETING).sort((s, t) => s - t);
    return inner.filter((t, i) => i === 0 || t - inner[i - 1]! > ON_LINE);
  };
  const across = ends(right);
  return ends(left).filter((t) => across.some((u) => Math.abs(t - u) < MEETING)).length;
}

const evenness = (cut: { left: readonly number[]; right: readonly number[] }): number =>
  Math.min(cut.left.length, cut.right.length);

function unsewable(outlines: readonly Polygon[], set: readonly number[]): UserError {
  const middle = centroid(outlineOf(outlines, set));
  const area = set.reduce((t, i) => t + areaOf(outlines[i]!), 0);
  const at = [Math.round(middle[0]), Math.round(middle[1])] as const;
  return new UserError('no-line-across', { pieces: set.length, at, areaCm2: Math.round(area / 100) });
}
