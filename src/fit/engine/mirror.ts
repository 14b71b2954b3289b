// The mirrored fit: only the left half of a block that is the same on both sides of an upright axis is cut. The half's right edge
// is the axis. A cut that reaches it is level, so that with its mirror image it is one straight seam; a piece on it is one piece
// with its mirror image, any other piece stands twice, and so does any cut that is not level.
// The axis may lie right of the block's middle: what lies left of `trim` then has no mirror image within the block.
import {
  AXIS,
  across,
  CORNERS,
  corners,
  ON_CUT,
  OUTER,
  onPaper,
  owner,
  REGIONS,
  stretches,
  Tree,
  XY,
  xy,
} from './state';

/** regions that are only looked at, with room for twice the corners */
export const UNFOLDED: i32 = REGIONS;
export const TRIMMED: i32 = REGIONS + 2;

export class Mirror {
  /** the half's width, mm; 0 where the whole block is cut */
  static axis: f64 = 0;
  /** mm */
  static trim: f64 = 0;
  /** cells a mm across */
  static scale: f64 = 0;
}

export function onAxis(b: i32): bool {
  if (Mirror.axis === 0) return false;
  const n = corners[b];
  for (let i = 0; i < n; i++) if (owner[b * CORNERS + i] === AXIS) return true;
  return false;
}

/** The whole of what a region on the axis is one half of, in UNFOLDED, without what lies outside the block: the region to look at. */
export function unfold(b: i32): i32 {
  const n = corners[b];
  const to = UNFOLDED;
  let e = 0;
  while (owner[b * CORNERS + e] !== AXIS) e++;
  // the axis edge's own corners are flat in the whole: the others, then their mirror images backwards
  let m = 0;
  for (let k = 2; k < n; k++) {
    const i = (e + k) % n;
    put(to, m++, xy[b * XY + 2 * i], xy[b * XY + 2 * i + 1], owner[b * CORNERS + i]);
  }
  for (let k = n - 1; k >= 2; k--) {
    const i = (e + k) % n;
    // from a mirrored corner on runs the edge that comes before the corner
    put(to, m++, 2 * Mirror.axis - xy[b * XY + 2 * i], xy[b * XY + 2 * i + 1], owner[b * CORNERS + ((e + k - 1) % n)]);
  }
  fresh(to, m);
  return Mirror.trim > 0 ? cutAt(to, 2 * Mirror.axis - Mirror.trim, 1) : to;
}

/** Whether a region that is not on the axis reaches what has no mirror image. */
export function needsTrim(b: i32): bool {
  if (Mirror.trim === 0) return false;
  for (let i = 0; i < corners[b]; i++) if (xy[b * XY + 2 * i] < Mirror.trim - ON_CUT) return true;
  return false;
}

/** What of a region has a mirror image within the block, in TRIMMED; -1 where nothing has. */
export function trimmed(b: i32): i32 {
  const t = cutAt(b, Mirror.trim, -1);
  return corners[t] < 3 ? -1 : t;
}

/** The part of region b left (side 1) or right (-1) of x, in TRIMMED; the new edge is the block's. */
function cutAt(b: i32, x: f64, side: f64): i32 {
  const n = corners[b];
  // a region in one of the two wide places keeps its corners one after the other all the same
  const at = b * XY;
  const own = b * CORNERS;
  let m = 0;
  for (let i = 0; i < n; i++) {
    const j = i + 1 === n ? 0 : i + 1;
    const f = side * (xy[at + 2 * i] - x);
    const g = side * (xy[at + 2 * j] - x);
    if (f < -ON_CUT) put(TRIMMED, m++, xy[at + 2 * i], xy[at + 2 * i + 1], owner[own + i]);
    else if (f <= ON_CUT) put(TRIMMED, m++, xy[at + 2 * i], xy[at + 2 * i + 1], g < -ON_CUT ? owner[own + i] : OUTER);
    if ((f < -ON_CUT && g > ON_CUT) || (f > ON_CUT && g < -ON_CUT)) {
      const y = xy[at + 2 * i + 1] + (f / (f - g)) * (xy[at + 2 * j + 1] - xy[at + 2 * i + 1]);
      put(TRIMMED, m++, x, y, f < 0 ? OUTER : owner[own + i]);
    }
  }
  fresh(TRIMMED, m);
  return TRIMMED;
}

function put(b: i32, i: i32, x: f64, y: f64, by: i32): void {
  xy[b * XY + 2 * i] = x;
  xy[b * XY + 2 * i + 1] = y;
  owner[b * CORNERS + i] = by;
}

function fresh(b: i32, n: i32): void {
  corners[b] = n;
  stretches[b] = 0;
  across[b] = 0;
  onPaper[b] = 0;
}

/** x of the block's right edge in the plane of the half. */
export function farEdge(): f64 {
  return Mirror.axis > 0 ? 2 * Mirror.axis - Mirror.trim : Tree.width;
}

/** A cut as it may be: nx·x + ny·y = d. */
export class Straight {
  static nx: f64 = 0;
  static ny: f64 = 0;
  static d: f64 = 0;
}

/** A line that would reach the axis within region b is laid level, through the middle of its chord; any other stays. Into
 *  Straight. Without this, most moves of such cuts are refused. */
export function straighten(b: i32, ax: f64, ay: f64, ad: f64): void {
  Straight.nx = ax;
  Straight.ny = ay;
  Straight.d = ad;
  if (Mirror.axis === 0 || ax === 0 || Math.abs(ay) < 1e-9) return;
  const n = corners[b];
  const at = b * XY;
  for (let i = 0; i < n; i++) {
    if (owner[b * CORNERS + i] !== AXIS) continue;
    const j = i + 1 === n ? 0 : i + 1;
    const y = (ad - ax * Mirror.axis) / ay;
    if (y < min(xy[at + 2 * i + 1], xy[at + 2 * j + 1]) - 1e-3) return;
    if (y > max(xy[at + 2 * i + 1], xy[at + 2 * j + 1]) + 1e-3) return;
    let other = y;
    for (let k = 0; k < n; k++) {
      if (k === i) continue;
      const l = k + 1 === n ? 0 : k + 1;
      const f = ax * xy[at + 2 * k] + ay * xy[at + 2 * k + 1] - ad;
      const g = ax * xy[at + 2 * l] + ay * xy[at + 2 * l + 1] - ad;
      if ((f < 0 && g >= 0) || (f >= 0 && g < 0)) {
        other = xy[at + 2 * k + 1] + (f / (f - g)) * (xy[at + 2 * l + 1] - xy[at + 2 * k + 1]);
        break;
      }
    }
    Straight.nx = 0;
    Straight.ny = ay < 0 ? -1 : 1;
    Straight.d = Straight.ny * 0.5 * (y + other);
    return;
  }
}
