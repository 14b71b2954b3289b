// Looking at the tree without changing it.
import { impurity } from './cell-sums';
import { spareRegion } from './log';
import { Doubles } from './memory';
import { Straight, straighten } from './mirror';
import { knowRest, weighLeaf } from './price';
import { split } from './region';
import { shapeLeaf } from './shape';
import { corners, cost, d, edgeOn, left, nx, ny, PROBED, packed0, packed1, region, XY, xy } from './state';

export const IMPOSSIBLE: f64 = -f64.MAX_VALUE;

export class Probe {
  /** Gini impurity of the two sides of the last probe, weight */
  static gini: f64 = 0;
}

/** What cutting leaf v by a line would gain, in cost and, in Probe, in impurity; IMPOSSIBLE where it cannot be sewn. Only outside
 *  a change. */
export function probe(v: i32, ax: f64, ay: f64, ad: f64): f64 {
  const L = spareRegion(0);
  const R = spareRegion(1);
  const b = region[v];
  straighten(b, ax, ay, ad);
  nx[PROBED] = Straight.nx;
  ny[PROBED] = Straight.ny;
  d[PROBED] = Straight.d;
  if (!split(b, PROBED, L, R) || !shapeLeaf(L) || !shapeLeaf(R)) return IMPOSSIBLE;
  weighLeaf(L);
  Probe.gini = impurity();
  knowRest(R, packed0[b], packed1[b], L);
  weighLeaf(R);
  Probe.gini += impurity();
  return cost[b] - cost[L] - cost[R];
}

/** Whether a place in leaf v is at least `clear` away from all its edges. */
export function roomAt(v: i32, x: f64, y: f64, clear: f64): bool {
  const b = region[v];
  const n = corners[b];
  const at = b * XY;
  let px = xy[at + 2 * n - 2];
  let py = xy[at + 2 * n - 1];
  for (let i = 0; i < n; i++) {
    const qx = xy[at + 2 * i];
    const qy = xy[at + 2 * i + 1];
    const dx = qx - px;
    const dy = qy - py;
    const off = dx * (y - py) - dy * (x - px);
    if (off < 0 || off * off < clear * clear * (dx * dx + dy * dy)) return false;
    px = qx;
    py = qy;
  }
  return true;
}

/** The two ends of v's cut, x, y, x, y. */
export const ends = changetype<Doubles>(memory.data(8 * 4, 16));

export function findEnds(v: i32): void {
  const b = region[left[v]];
  const e = edgeOn(b, v);
  const f = e + 1 === corners[b] ? 0 : e + 1;
  ends[0] = xy[b * XY + 2 * e];
  ends[1] = xy[b * XY + 2 * e + 1];
  ends[2] = xy[b * XY + 2 * f];
  ends[3] = xy[b * XY + 2 * f + 1];
}
