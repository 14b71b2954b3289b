// What seams cost that part two pieces of one fabric: those of the ground, which is to be cut in as few pieces as it can be, and
// along the edges of features, which would run into what lies beside them.
import { Sums } from './cell-sums';
import { EDGE, edgeFrom, edgeTo, locked } from './features';
import { Doubles, Ints } from './memory';
import { corners, edgeOn, fabric, left, NODES, nx, ny, Prices, region, right, UNIT_WEIGHT, XY, xy } from './state';

/** of an inner node: what its own seam costs so, and what all in its subtree do */
export const sameCost = changetype<Doubles>(memory.data(8 * NODES, 16));
export const calm = changetype<Doubles>(memory.data(8 * NODES, 16));

const MOST: i32 = 512;
const from = changetype<Doubles>(memory.data(8 * MOST, 16));
const to = changetype<Doubles>(memory.data(8 * MOST, 16));
const what = changetype<Ints>(memory.data(4 * MOST, 16));

class Along {
  static count: i32 = 0;
}

/** The ground's fabric; -1 where there is none. */
export class Ground {
  static fabric: i32 = -1;
}

export function calmIsPriced(): bool {
  return Prices.ground > 0 || Prices.bleed > 0;
}

/** What the seam along the cut of v costs. */
export function samePrice(v: i32): f64 {
  const bleeds = Prices.bleed > 0 && locked[v] === EDGE;
  if (!bleeds && (Prices.ground === 0 || Ground.fabric < 0)) return 0;
  Along.count = 0;
  gather(left[v], v, bleeds);
  const n = Along.count;
  if (n === 0) return 0;
  gather(right[v], v, bleeds);
  let price: f64 = 0;
  for (let i = 0; i < n; i++)
    for (let j = n; j < Along.count; j++) {
      if (what[i] !== what[j]) continue;
      const start = max(from[i], from[j]);
      const end = min(to[i], to[j]);
      if (end <= start) continue;
      if (what[i] === Ground.fabric) price += (end - start) * Prices.ground;
      if (bleeds) price += max(0, min(end, edgeTo[v]) - max(start, edgeFrom[v])) * Prices.bleed;
    }
  return price * UNIT_WEIGHT * Sums.scaleX;
}

/** The pieces of the subtree at u that lie along the cut of v: from where to where, and of which fabric. */
function gather(u: i32, v: i32, all: bool): void {
  const b = region[u];
  const e = edgeOn(b, v);
  if (e < 0) return;
  if (left[u] >= 0) {
    gather(left[u], v, all);
    gather(right[u], v, all);
    return;
  }
  if (Along.count >= MOST || (!all && fabric[b] !== Ground.fabric)) return;
  const p = b * XY + 2 * e;
  const q = b * XY + 2 * (e + 1 === corners[b] ? 0 : e + 1);
  const s = nx[v] * xy[p + 1] - ny[v] * xy[p];
  const t = nx[v] * xy[q + 1] - ny[v] * xy[q];
  from[Along.count] = min(s, t);
  to[Along.count] = max(s, t);
  what[Along.count++] = fabric[b];
}
