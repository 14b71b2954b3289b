// Parts of a face that stay shapes of their own: convex outlines whose edges are cuts of the tree from the start. Such a cut is
// locked: it is never moved, and a change that would take it away is refused whole; no other cut may cross a feature.
import { addCut, deleteLeaf } from './edits';
import { settle } from './joins';
import { accept, begin, takeBack } from './log';
import { Bytes, Doubles, Ints } from './memory';
import { corners, d, leafAt, NODES, nx, ny, parent, right, XY, xy } from './state';

const MOST: i32 = 32;
const MOST_CORNERS: i32 = 8;
/** a cut may reach this far into a feature, mm: rounding */
const TOUCH: f64 = 0.02;

/** FREE: may be moved; EDGE: along a feature's edge; INSIDE: within an eye, beside its pupil */
export const FREE: i32 = 0;
export const EDGE: i32 = 1;
export const INSIDE: i32 = 2;
export const locked = changetype<Bytes>(memory.data(NODES + 1, 16));
/** of a locked cut: from where to where along it the feature's edge runs */
export const edgeFrom = changetype<Doubles>(memory.data(8 * NODES, 16));
export const edgeTo = changetype<Doubles>(memory.data(8 * NODES, 16));

const cornerCount = changetype<Ints>(memory.data(4 * MOST, 16));
const outline = changetype<Doubles>(memory.data(16 * MOST * MOST_CORNERS, 16));
const centre = changetype<Doubles>(memory.data(16 * MOST, 16));
const radius = changetype<Doubles>(memory.data(8 * MOST, 16));

export class Features {
  static count: i32 = 0;
  /** the change would take a locked cut away */
  static refused: bool = false;
  /** a cut inside an eye is being made */
  static inside: bool = false;
}

/** Begins another feature; false where there are too many. */
export function addFeature(): bool {
  if (Features.count === MOST) return false;
  cornerCount[Features.count++] = 0;
  return true;
}

/** A corner more of the feature begun last, mm. */
export function addFeatureCorner(x: f64, y: f64): void {
  const f = Features.count - 1;
  const n = cornerCount[f] + 1;
  const at = 2 * f * MOST_CORNERS;
  outline[at + 2 * n - 2] = x;
  outline[at + 2 * n - 1] = y;
  cornerCount[f] = n;
  let cx: f64 = 0;
  let cy: f64 = 0;
  for (let i = 0; i < n; i++) {
    cx += outline[at + 2 * i] / <f64>n;
    cy += outline[at + 2 * i + 1] / <f64>n;
  }
  let far: f64 = 0;
  for (let i = 0; i < n; i++) far = max(far, Math.hypot(outline[at + 2 * i] - cx, outline[at + 2 * i + 1] - cy));
  centre[2 * f] = cx;
  centre[2 * f + 1] = cy;
  radius[f] = far;
}

/** Whether a line crosses a feature that lies in region b. */
export function crossesFeature(b: i32, ax: f64, ay: f64, ad: f64): bool {
  for (let f = 0; f < Features.count; f++) {
    const cx = centre[2 * f];
    const cy = centre[2 * f + 1];
    if (Math.abs(ax * cx + ay * cy - ad) > radius[f]) continue;
    const at = 2 * f * MOST_CORNERS;
    let least: f64 = 0;
    let most: f64 = 0;
    for (let i = 0; i < cornerCount[f]; i++) {
      const s = ax * outline[at + 2 * i] + ay * outline[at + 2 * i + 1] - ad;
      if (s < least) least = s;
      if (s > most) most = s;
    }
    if (least < -TOUCH && most > TOUCH && holds(b, cx, cy)) return true;
  }
  return false;
}

function holds(b: i32, x: f64, y: f64): bool {
  const n = corners[b];
  const at = b * XY;
  let px = xy[at + 2 * n - 2];
  let py = xy[at + 2 * n - 1];
  for (let i = 0; i < n; i++) {
    const qx = xy[at + 2 * i];
    const qy = xy[at + 2 * i + 1];
    if ((qx - px) * (y - py) - (qy - py) * (x - px) < 0) return false;
    px = qx;
    py = qy;
  }
  return true;
}

/** Cuts the piece at (x, y) by a line, `how` as in `locked`, between two points of which a feature's edge runs along it. The piece that
 *  came off + 1, or 0 where that cannot be sewn. */
export function seedCut(x: f64, y: f64, ax: f64, ay: f64, ad: f64, how: i32, from: f64, to: f64): i32 {
  const v = leafAt(x, y);
  Features.inside = how === INSIDE;
  begin();
  const made = addCut(v, ax, ay, ad, true);
  Features.inside = false;
  const p = parent[v];
  // a cut that reaches a mirrored block's axis is laid level: then it is no edge of this feature
  if (!made || (how !== FREE && Math.abs(nx[p] * ax + ny[p] * ay - 1) + Math.abs(d[p] - ad) > 1e-6)) {
    takeBack();
    return 0;
  }
  settle();
  accept();
  locked[p] = how;
  edgeFrom[p] = from;
  edgeTo[p] = to;
  return right[p] + 1;
}

/** Takes the last such cut back: `piece` is what came off. */
export function unseed(piece: i32): bool {
  locked[parent[piece]] = FREE;
  begin();
  if (!deleteLeaf(piece)) {
    takeBack();
    return false;
  }
  settle();
  accept();
  return true;
}
