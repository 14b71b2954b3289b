// A region, which is a piece or a section: copied, split by a line, compared.

import { inFace } from './face';
import { crossesFeature, Features, INSIDE, locked } from './features';
import { takeRegion } from './log';
import { Doubles } from './memory';
import { Mirror } from './mirror';
import { CORNERS, corners, d, Limits, nx, ny, ON_CUT, owner, XY, xy } from './state';

/** a cut that ends this near to the axis reaches it, mm */
const NEAR_AXIS: f64 = 1e-4;

const sideOf = changetype<Doubles>(memory.data(8 * (CORNERS + 1), 16));

export function copyRegion(from: i32): i32 {
  const to = takeRegion();
  const n = corners[from];
  corners[to] = n;
  memory.copy(changetype<usize>(xy) + 8 * <usize>(to * XY), changetype<usize>(xy) + 8 * <usize>(from * XY), 16 * n);
  memory.copy(
    changetype<usize>(owner) + 4 * <usize>(to * CORNERS),
    changetype<usize>(owner) + 4 * <usize>(from * CORNERS),
    4 * n,
  );
  return to;
}

/** Splits region b by the line of cut `by` into L (smaller side) and R; the new edges belong to it. False where it does not
 *  cross b, crosses a feature in it, or the seam is too short. */
export function split(b: i32, by: i32, L: i32, R: i32): bool {
  const ax = nx[by];
  const ay = ny[by];
  const ad = d[by];
  if (Features.count > 0 && !Features.inside && locked[by] !== INSIDE && crossesFeature(b, ax, ay, ad)) return false;
  const n = corners[b];
  const at = b * XY;
  const own = b * CORNERS;
  for (let i = 0; i < n; i++) {
    const f = ax * xy[at + 2 * i] + ay * xy[at + 2 * i + 1] - ad;
    sideOf[i] = f > ON_CUT ? f : f < -ON_CUT ? f : 0;
  }
  sideOf[n] = sideOf[0];
  let nl = 0;
  let nr = 0;
  let ends = 0;
  let ex: f64 = 0;
  let ey: f64 = 0;
  let fx: f64 = 0;
  let fy: f64 = 0;
  let seam: f64 = 0;
  const level = Mirror.axis > 0 && ax === 0;
  let folded: f64 = 1;
  const atL = L * XY;
  const atR = R * XY;
  const ownL = L * CORNERS;
  const ownR = R * CORNERS;
  for (let i = 0; i < n; i++) {
    const f = sideOf[i];
    const g = sideOf[i + 1];
    const x = xy[at + 2 * i];
    const y = xy[at + 2 * i + 1];
    const o = owner[own + i];
    if (nl >= CORNERS - 1 || nr >= CORNERS - 1) return false;
    if (f <= 0) {
      xy[atL + 2 * nl] = x;
      xy[atL + 2 * nl + 1] = y;
      owner[ownL + nl++] = f === 0 && g >= 0 ? by : o;
    }
    if (f >= 0) {
      xy[atR + 2 * nr] = x;
      xy[atR + 2 * nr + 1] = y;
      owner[ownR + nr++] = f === 0 && g <= 0 ? by : o;
    }
    let cx = x;
    let cy = y;
    if (f === 0) {
      if (g === 0) return false;
    } else if ((f < 0 && g > 0) || (f > 0 && g < 0)) {
      const j = i + 1 === n ? 0 : i + 1;
      const t = f / (f - g);
      cx = x + t * (xy[at + 2 * j] - x);
      cy = y + t * (xy[at + 2 * j + 1] - y);
      xy[atL + 2 * nl] = cx;
      xy[atL + 2 * nl + 1] = cy;
      owner[ownL + nl++] = f < 0 ? by : o;
      xy[atR + 2 * nr] = cx;
      xy[atR + 2 * nr + 1] = cy;
      owner[ownR + nr++] = f > 0 ? by : o;
    } else continue;
    if (Mirror.axis > 0 && cx > Mirror.axis - NEAR_AXIS) {
      if (!level) return false;
      folded = 2;
    }
    if (ends++) seam = (cx - ex) * (cx - ex) + (cy - ey) * (cy - ey);
    fx = ex;
    fy = ey;
    ex = cx;
    ey = cy;
  }
  if (ends !== 2 || nl < 3 || nr < 3) return false;
  corners[L] = nl;
  corners[R] = nr;
  seam *= folded * folded;
  if (seam >= Limits.shortestEdge * Limits.shortestEdge) return true;
  return seam >= Limits.shortestFaceEdge * Limits.shortestFaceEdge && inFace((fx + ex) / 2, (fy + ey) / 2);
}

/** Whether two regions are one and the same. */
export function same(a: i32, b: i32): bool {
  const n = corners[a];
  if (n !== corners[b]) return false;
  for (let i = 0; i < 2 * n; i++) if (Math.abs(xy[a * XY + i] - xy[b * XY + i]) > 1e-9) return false;
  for (let i = 0; i < n; i++) if (owner[a * CORNERS + i] !== owner[b * CORNERS + i]) return false;
  return true;
}
