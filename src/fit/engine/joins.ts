// Joins: seam ends that lie across from one another on a cut whose two sides are both cut further. Those on both sides at one
// place must be matched; those that nearly meet are misses.

import { calmIsPriced, sameCost, samePrice } from './calm';
import { Log, madeRegions, oldNodes, oldRegions, save } from './log';
import { Doubles, Ints } from './memory';
import { lift, mostTimes } from './price';
import {
  CORNERS,
  corners,
  d,
  edgeOn,
  joinCost,
  Limits,
  left,
  NODES,
  nx,
  ny,
  owner,
  Prices,
  region,
  right,
  UNIT_WEIGHT,
  XY,
  xy,
} from './state';

const MOST_ENDS: i32 = 512;
const MOST_POINTS: i32 = 64;

const dirty = changetype<Ints>(memory.data(4 * NODES, 16));
const noted = changetype<Ints>(memory.data(4 * NODES, 16));
const leftEnds = changetype<Doubles>(memory.data(8 * MOST_ENDS, 16));
const rightEnds = changetype<Doubles>(memory.data(8 * MOST_ENDS, 16));
const leftCuts = changetype<Ints>(memory.data(4 * MOST_ENDS, 16));
const rightCuts = changetype<Ints>(memory.data(4 * MOST_ENDS, 16));
const points = changetype<Doubles>(memory.data(8 * MOST_POINTS, 16));

class Count {
  static stamp: i32 = 0;
  static dirty: i32 = 0;
  static ends: i32 = 0;
}

function nothingPriced(): bool {
  return Prices.nearMiss === 0 && Prices.match === 0 && !calmIsPriced();
}

/** The joins that a change touches, to be settled. Returns what they cost before it: the most that settling can still save. */
export function noteJoins(): f64 {
  if (nothingPriced()) return 0;
  Count.dirty = 0;
  Count.stamp++;
  // a cut that is gone is not looked at
  for (let i = 0; i < Log.oldNodeCount; i++) noted[oldNodes[i]] = Count.stamp;
  let before: f64 = 0;
  for (let i = 0; i < Log.madeRegionCount; i++) before += note(madeRegions[i]);
  for (let i = 0; i < Log.oldRegionCount; i++) before += note(oldRegions[i]);
  return before;
}

/** The cuts along region b are to be looked at; what their joins cost. */
function note(b: i32): f64 {
  const at = b * CORNERS;
  let before: f64 = 0;
  for (let i = 0; i < corners[b]; i++) {
    const v = owner[at + i];
    if (v < 0 || noted[v] === Count.stamp || left[v] < 0) continue;
    noted[v] = Count.stamp;
    dirty[Count.dirty++] = v;
    before += mostTimes() * (joinCost[v] + sameCost[v]);
  }
  return before;
}

/** What the joins cost that were noted: the last step of a change. */
export function settleNoted(): void {
  if (nothingPriced()) return;
  for (let i = 0; i < Count.dirty; i++) {
    const v = dirty[i];
    const price = joinPrice(v);
    const same = samePrice(v);
    if (price === joinCost[v] && same === sameCost[v]) continue;
    save(v);
    joinCost[v] = price;
    sameCost[v] = same;
    lift(v);
  }
}

/** The last step of a change that can be sewn: what its joins cost. */
export function settle(): void {
  noteJoins();
  settleNoted();
}

export function joinPrice(v: i32): f64 {
  if (Prices.nearMiss === 0 && Prices.match === 0) return 0;
  const l = left[v];
  const r = right[v];
  if (left[l] < 0 || left[r] < 0) return 0;
  Count.ends = 0;
  gatherEnds(l, v, leftEnds, leftCuts);
  const nl = Count.ends;
  if (nl === 0) return 0;
  Count.ends = 0;
  gatherEnds(r, v, rightEnds, rightCuts);
  const nr = Count.ends;
  let n = 0;
  let price: f64 = 0;
  for (let i = 0; i < nl; i++)
    for (let j = 0; j < nr; j++) {
      const apart = Math.abs(leftEnds[i] - rightEnds[j]);
      if (apart <= Limits.matchWithin) {
        price += Prices.match;
        // points to match that crowd are no better than near misses
        for (let k = 0; k < n; k++)
          if (Math.abs(points[k] - leftEnds[i]) < Limits.pointsApart) price += Prices.nearMiss;
        if (n < MOST_POINTS) points[n++] = leftEnds[i];
      } else if (apart < Limits.nearMiss) {
        const share = apart / Limits.nearMiss;
        price += Prices.nearMiss * (1 + 2 * min(share, 1 - share));
      }
    }
  return price * UNIT_WEIGHT;
}

/** A pair of cuts that nearly meet across the cut of v, each with the place of its end along it. */
export class Miss {
  static leftCut: i32 = 0;
  static leftEnd: f64 = 0;
  static rightCut: i32 = 0;
  static rightEnd: f64 = 0;
}

/** Counts the pairs that nearly meet across the cut of v; the one at `which` is put into Miss. */
export function missesOn(v: i32, which: i32): i32 {
  const l = left[v];
  const r = right[v];
  if (l < 0 || left[l] < 0 || left[r] < 0) return 0;
  Count.ends = 0;
  gatherEnds(l, v, leftEnds, leftCuts);
  const nl = Count.ends;
  Count.ends = 0;
  gatherEnds(r, v, rightEnds, rightCuts);
  let found = 0;
  for (let i = 0; i < nl; i++)
    for (let j = 0; j < Count.ends; j++) {
      const apart = Math.abs(leftEnds[i] - rightEnds[j]);
      if (apart <= Limits.matchWithin || apart >= Limits.nearMiss) continue;
      if (found++ !== which) continue;
      Miss.leftCut = leftCuts[i];
      Miss.leftEnd = leftEnds[i];
      Miss.rightCut = rightCuts[j];
      Miss.rightEnd = rightEnds[j];
    }
  return found;
}

/** Positions along the cut of v where a cut of the subtree at u ends on it, and which cuts they are. */
function gatherEnds(u: i32, v: i32, into: Doubles, cuts: Ints): void {
  const l = left[u];
  if (l < 0) return;
  const r = right[u];
  const a = edgeOn(region[l], v);
  const b = edgeOn(region[r], v);
  if (a >= 0 && b >= 0 && Count.ends < MOST_ENDS) {
    // both children lie along v: the end is where their edges on it meet
    const c = region[l];
    const p = c * XY + 2 * a;
    const q = c * XY + 2 * (a + 1 === corners[c] ? 0 : a + 1);
    // of the two corners of l's edge on v the one that lies on u's cut
    const offP = Math.abs(nx[u] * xy[p] + ny[u] * xy[p + 1] - d[u]);
    const offQ = Math.abs(nx[u] * xy[q] + ny[u] * xy[q + 1] - d[u]);
    const at = offP < offQ ? p : q;
    cuts[Count.ends] = u;
    into[Count.ends++] = nx[v] * xy[at + 1] - ny[v] * xy[at];
  }
  if (a >= 0) gatherEnds(l, v, into, cuts);
  if (b >= 0) gatherEnds(r, v, into, cuts);
}
