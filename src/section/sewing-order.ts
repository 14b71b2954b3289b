// Takes the pieces of one section; gives the best order to sew them in. The piece sewn last lies wholly on one side of a
// straight line and all earlier ones on the other; which of the possible orders is best is for the trade to say: no dark
// allowance under light fabric, a first piece wide enough to hold, the same fabric in a row.
import { distance, type Point, type Polygon, type Segment } from '../geometry/polygon.ts';
import { ON_LINE, sideOfLine } from './cuts.ts';

/** L* gap over which a dark allowance shows through a light fabric (common practice) */
const SHADOW_GAP = 25;
/** a first piece narrower than this is hard to lay and pin (common practice), mm */
export const FIRST_PIECE_WIDTH = 19.05;

export interface SewnPiece {
  readonly outline: Polygon;
  readonly fabric: number;
  /** L* of its fabric */
  readonly lightness: number;
  /** finished width, mm */
  readonly width: number;
}

export interface Order {
  /** indices into the pieces, first sewn first */
  readonly order: readonly number[];
  /** the seam of each, undefined for the first */
  readonly seams: readonly (Segment | undefined)[];
  /** mm of seam, weighted by the L* gap over 25, where a dark allowance lies under light fabric */
  readonly shadow: number;
}

/** The seam along which piece p leaves the others of the set: an edge of it with all of them on the other side. */
function leavingSeam(pieces: readonly SewnPiece[], p: number, others: readonly number[]): Segment | undefined {
  const P = pieces[p]!.outline;
  const own = sideSign(P);
  for (let e = 0; e < P.length; e++) {
    const a = P[e]!;
    const b = P[(e + 1) % P.length]!;
    if (distance(a, b) > 20 * ON_LINE && others.every((o) => sideOfLine(pieces[o]!.outline, a, b) === -own))
      return [a, b];
  }
  return undefined;
}

function sideSign(P: Polygon): 1 | -1 {
  let sum = 0;
  for (let i = 0, j = P.length - 1; i < P.length; j = i++) sum += P[j]![0] * P[i]![1] - P[i]![0] * P[j]![1];
  return sum > 0 ? 1 : -1;
}

/** mm of edge that an outline shares with a seam */
function sharedLength(P: Polygon, [a, b]: Segment): number {
  const length = distance(a, b);
  const on = (q: Point): number | undefined => {
    const along = ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length;
    const off = ((q[1] - a[1]) * (b[0] - a[0]) - (q[0] - a[0]) * (b[1] - a[1])) / length;
    return Math.abs(off) <= 2 * ON_LINE ? along : undefined;
  };
  const along = P.map(on).filter((v) => v !== undefined);
  if (along.length < 2) return 0;
  return Math.max(0, Math.min(length, Math.max(...along)) - Math.max(0, Math.min(...along)));
}

/** The best order, or undefined where the pieces cannot be sewn as one section. Exact: every set of pieces that can be left
 *  over is looked at once, at most 2^n of them; n is bounded by the section's limit. */
export function bestOrder(pieces: readonly SewnPiece[]): Order | undefined {
  const n = pieces.length;
  if (n > 16) throw new Error(`a section of ${n} pieces is over what can be put in order`);
  interface Best {
    price: number;
    shadow: number;
    last: number;
    seam: Segment | undefined;
  }
  const memo = new Map<number, Best | undefined>();
  const solve = (set: number): Best | undefined => {
    if (memo.has(set)) return memo.get(set);
    const inSet: number[] = [];
    for (let i = 0; i < n; i++) if (set & (1 << i)) inSet.push(i);
    let best: Best | undefined;
    if (inSet.length === 1) {
      const only = pieces[inSet[0]!]!;
      const narrow = Math.max(0, FIRST_PIECE_WIDTH - only.width);
      best = { price: narrow * 2, shadow: 0, last: inSet[0]!, seam: undefined };
    } else
      for (const p of inSet) {
        const others = inSet.filter((i) => i !== p);
        const seam = leavingSeam(pieces, p, others);
        if (!seam) continue;
        const rest = solve(set & ~(1 << p));
        if (!rest) continue;
        let shadow = 0;
        for (const o of others) {
          const gap = pieces[p]!.lightness - pieces[o]!.lightness - SHADOW_GAP;
          if (gap > 0) shadow += (sharedLength(pieces[o]!.outline, seam) * gap) / SHADOW_GAP;
        }
        const change = pieces[rest.last]!.fabric === pieces[p]!.fabric ? 0 : 0.5;
        const price = rest.price + 10 * shadow + change;
        if (!best || price < best.price - 1e-9) best = { price, shadow: rest.shadow + shadow, last: p, seam };
      }
    memo.set(set, best);
    return best;
  };
  let set = 2 ** n - 1;
  const top = solve(set);
  if (!top) return undefined;
  const order: number[] = [];
  const seams: (Segment | undefined)[] = [];
  while (set) {
    const step = solve(set)!;
    order.unshift(step.last);
    seams.unshift(step.seam);
    set &= ~(1 << step.last);
  }
  return { order, seams, shadow: top.shadow };
}

/** Whether the pieces can be sewn as one section. If a piece can be taken off now it can be taken off later, so taking any
 *  one off at each step decides it. O(n² corners). */
export function isPeelable(outlines: readonly Polygon[]): boolean {
  const pieces = outlines.map((outline) => ({ outline, fabric: 0, lightness: 0, width: 0 }));
  let left = pieces.map((_, i) => i);
  while (left.length > 1) {
    const p = left.find(
      (i) =>
        leavingSeam(
          pieces,
          i,
          left.filter((o) => o !== i),
        ) !== undefined,
    );
    if (p === undefined) return false;
    left = left.filter((i) => i !== p);
  }
  return true;
}
