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

/** mm of seam, weighted by the L* gap over 25, along which piece p would lie light over dark when it is sewn onto `others`. */
function shadowOver(pieces: readonly SewnPiece[], p: number, others: readonly number[], seam: Segment): number {
  let shadow = 0;
  for (const o of others) {
    const gap = pieces[p]!.lightness - pieces[o]!.lightness - SHADOW_GAP;
    if (gap > 0) shadow += (sharedLength(pieces[o]!.outline, seam) * gap) / SHADOW_GAP;
  }
  return shadow;
}

/** What makes one order better than another, the first outweighing all after it: shadow to the millimetre, how much too narrow
 *  the first piece is, how often the fabric changes, how often a seam must be pressed before the next is sewn. */
const PRICE = { shadow: 1e7, narrow: 1e3, change: 20, press: 1 };

/** The best order, or undefined where the pieces cannot be sewn as one section. Exact: every set of pieces that can be left
 *  over is looked at once for each piece that may have been sewn last; n is bounded by the section's limit. */
export function bestOrder(pieces: readonly SewnPiece[]): Order | undefined {
  const n = pieces.length;
  if (n > 16) throw new Error(`a section of ${n} pieces is over what can be put in order`);
  interface Best {
    readonly price: number;
    readonly shadow: number;
    readonly before: number;
    readonly seam: Segment | undefined;
  }
  const memo = new Map<number, ReadonlyMap<number, Best>>();
  /** for each piece that can be sewn last of the set, the best way to come there */
  const solve = (set: number): ReadonlyMap<number, Best> => {
    const known = memo.get(set);
    if (known) return known;
    const inSet: number[] = [];
    for (let i = 0; i < n; i++) if (set & (1 << i)) inSet.push(i);
    const found = new Map<number, Best>();
    if (inSet.length === 1) {
      const only = pieces[inSet[0]!]!;
      const narrow = Math.round(Math.max(0, FIRST_PIECE_WIDTH - only.width) * 10);
      found.set(inSet[0]!, { price: PRICE.narrow * narrow, shadow: 0, before: -1, seam: undefined });
    } else
      for (const p of inSet) {
        const others = inSet.filter((i) => i !== p);
        const seam = leavingSeam(pieces, p, others);
        if (!seam) continue;
        const shadow = shadowOver(pieces, p, others, seam);
        let best: Best | undefined;
        for (const [last, rest] of solve(set & ~(1 << p))) {
          let price = rest.price + PRICE.shadow * Math.round(shadow);
          if (pieces[last]!.fabric !== pieces[p]!.fabric) price += PRICE.change;
          // a seam that does not touch the one before can be sewn on the same trip to the iron
          if (sharedLength(pieces[last]!.outline, seam) > 0) price += PRICE.press;
          if (!best || price < best.price) best = { price, shadow: rest.shadow + shadow, before: last, seam };
        }
        if (best) found.set(p, best);
      }
    memo.set(set, found);
    return found;
  };
  let set = 2 ** n - 1;
  let last = -1;
  let top: Best | undefined;
  for (const [p, best] of solve(set)) if (!top || best.price < top.price) [top, last] = [best, p];
  if (!top) return undefined;
  const order: number[] = [];
  const seams: (Segment | undefined)[] = [];
  while (last >= 0) {
    const step = solve(set).get(last)!;
    order.unshift(last);
    seams.unshift(step.seam);
    set &= ~(1 << last);
    last = step.before;
  }
  return { order, seams, shadow: top.shadow };
}

/** The seams of pieces sewn in the order in which they are given, or undefined where that order cannot be sewn. */
export function seamsInOrder(outlines: readonly Polygon[]): (Segment | undefined)[] | undefined {
  const pieces = outlines.map((outline) => ({ outline, fabric: 0, lightness: 0, width: 0 }));
  const seams: (Segment | undefined)[] = [undefined];
  for (let p = 1; p < pieces.length; p++) {
    const seam = leavingSeam(
      pieces,
      p,
      Array.from({ length: p }, (_, i) => i),
    );
    if (!seam) return undefined;
    seams.push(seam);
  }
  return seams;
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
