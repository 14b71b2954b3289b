// The shape of a region: cut by a line, and whether it can be sewn as a piece or printed as a section.

import { crossesFeature, Features, INSIDE, locked } from './features';
import { takeRegion } from './log';
import { Doubles } from './memory';
import { farEdge, Mirror, needsTrim, onAxis, trimmed, unfold } from './mirror';
import {
  across,
  CORNERS,
  corners,
  d,
  extra,
  Limits,
  narrow,
  nx,
  ny,
  ON_CUT,
  OUTER,
  onPaper,
  owner,
  Prices,
  stretches,
  Tree,
  thick,
  UNIT_WEIGHT,
  XY,
  xy,
} from './state';

/** a bound that holds by less than this factor may be off by rounding */
const SURE: f64 = 0.999999;
/** a cut that ends this near to the axis reaches it, mm */
const NEAR_AXIS: f64 = 1e-4;

const sideOf = changetype<Doubles>(memory.data(8 * (CORNERS + 1), 16));

/** The cells of the face, where edges may be shorter: a byte a cell, 1 inside; none where `at` is 0. */
export class Face {
  static at: usize = 0;
  static width: i32 = 0;
  static height: i32 = 0;
}

function inFace(x: f64, y: f64): bool {
  if (Face.at === 0) return false;
  if (Mirror.axis > 0 && x > Mirror.axis) x = 2 * Mirror.axis - x;
  const column = min(Face.width - 1, <i32>((x / Tree.width) * <f64>Face.width));
  const row = min(Face.height - 1, <i32>((y / Tree.height) * <f64>Face.height));
  return load<u8>(Face.at + <usize>(row * Face.width + column)) === 1;
}

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

/** Bounds that need no search for the narrowest width, squared: the region is at least `thick` wide and at most `across` long
 *  (its area is at most its width times its length). */
function bound(b: i32): void {
  const n = corners[b];
  const at = b * XY;
  let px = xy[at + 2 * n - 2];
  let py = xy[at + 2 * n - 1];
  let x0 = px;
  let x1 = px;
  let y0 = py;
  let y1 = py;
  let area: f64 = 0;
  for (let i = 0; i < n; i++) {
    const x = xy[at + 2 * i];
    const y = xy[at + 2 * i + 1];
    area += px * y - x * py;
    if (x < x0) x0 = x;
    else if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    else if (y > y1) y1 = y;
    px = x;
    py = y;
  }
  const square = (x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0);
  across[b] = square;
  thick[b] = (area * area) / (4 * square);
}

/** Whether a region is longer than so many times its width. */
export function isLonger(given: i32, times: f64): bool {
  const b = onAxis(given) ? unfold(given) : given;
  // length over width is at most across over thick: mostly that settles it
  if (across[b] === 0) bound(b);
  if (across[b] <= SURE * times * times * thick[b]) return false;
  if (stretches[b] === 0) findStretch(b);
  return stretches[b] > times;
}

/** Narrowest width of a region, and length over width, both along and square to it; into `narrow` and `stretches`. */
function findStretch(b: i32): void {
  const n = corners[b];
  const at = b * XY;
  let least = f64.MAX_VALUE;
  let ex: f64 = 0;
  let ey: f64 = 0;
  for (let i = 0, j = n - 1; i < n; j = i++) {
    const ax = xy[at + 2 * j];
    const ay = xy[at + 2 * j + 1];
    const dx = xy[at + 2 * i] - ax;
    const dy = xy[at + 2 * i + 1] - ay;
    const square = dx * dx + dy * dy;
    if (square < 1e-18) continue;
    let far: f64 = 0;
    for (let k = 0; k < n; k++) {
      const off = dx * (xy[at + 2 * k + 1] - ay) - dy * (xy[at + 2 * k] - ax);
      if (off > far) far = off;
    }
    const wide = (far * far) / square;
    if (wide < least) {
      least = wide;
      const length = Math.sqrt(square);
      ex = dx / length;
      ey = dy / length;
    }
  }
  let u0 = f64.MAX_VALUE;
  let u1 = -f64.MAX_VALUE;
  for (let k = 0; k < n; k++) {
    const u = ex * xy[at + 2 * k] + ey * xy[at + 2 * k + 1];
    if (u < u0) u0 = u;
    if (u > u1) u1 = u;
  }
  narrow[b] = Math.sqrt(least);
  stretches[b] = (u1 - u0) / narrow[b];
}

/** Whether a region can be sewn as a piece, and what its shape costs. */
export function shapeLeaf(b: i32): bool {
  if (Mirror.axis === 0) return shapeOf(b, 0);
  if (onAxis(b)) {
    const whole = unfold(b);
    if (!shapeOf(whole, 0)) return false;
    extra[b] = extra[whole];
    return true;
  }
  if (!shapeOf(b, 0)) return false;
  if (needsTrim(b)) {
    const image = trimmed(b);
    if (image >= 0) {
      if (!shapeOf(image, Mirror.trim)) return false;
      extra[b] += extra[image];
    }
  } else extra[b] *= 2;
  return true;
}

/** The same of a whole piece of a block whose left edge is at x = `edge`. */
function shapeOf(b: i32, edge: f64): bool {
  const n = corners[b];
  const at = b * XY;
  const own = b * CORNERS;
  const shortest = Limits.shortestEdge * Limits.shortestEdge;
  const shortestInFace = Limits.shortestFaceEdge * Limits.shortestFaceEdge;
  const sharp = Limits.sharpCosine;
  let dear: f64 = 0;
  // edges and corners
  let px = xy[at + 2 * n - 2];
  let py = xy[at + 2 * n - 1];
  let ux = px - xy[at + 2 * n - 4];
  let uy = py - xy[at + 2 * n - 3];
  let ul = Math.sqrt(ux * ux + uy * uy);
  let outerBefore = owner[own + n - 2] === OUTER;
  for (let i = 0; i < n; i++) {
    // the corner at (px, py) between the edge before it (u) and the edge after it (v), which starts there
    const x = xy[at + 2 * i];
    const y = xy[at + 2 * i + 1];
    const vx = x - px;
    const vy = y - py;
    const square = vx * vx + vy * vy;
    if (square < shortest && (square < shortestInFace || !inFace((x + px) / 2, (y + py) / 2))) return false;
    const vl = Math.sqrt(square);
    const outer = owner[own + (i === 0 ? n - 1 : i - 1)] === OUTER;
    if (outer && vl < Limits.shortestOuterEdge) return false;
    const both = ul * vl;
    const cosine = -(ux * vx + uy * vy);
    if (cosine > sharp * both) {
      if (cosine > Limits.leastCornerCosine * both) return false;
      dear += Prices.sharpCorner;
    }
    if (outer !== outerBefore && ux * vy - uy * vx < Limits.leastOuterSine * both) {
      // a seam that ends in the block's corner exactly may do so at any angle that its pieces' corners allow
      if (!((px < edge + ON_CUT || px > farEdge() - ON_CUT) && (py < ON_CUT || py > Tree.height - ON_CUT)))
        return false;
    }
    px = x;
    py = y;
    ux = vx;
    uy = vy;
    ul = vl;
    outerBefore = outer;
  }
  bound(b);
  stretches[b] = 0;
  if (
    SURE * thick[b] < Limits.smallest * Limits.smallest ||
    across[b] > SURE * Limits.longStretch * Limits.longStretch * thick[b]
  ) {
    findStretch(b);
    if (narrow[b] < Limits.smallest || stretches[b] > Limits.mostStretch) return false;
    if (stretches[b] > Limits.longStretch) dear += Prices.longPiece;
  }
  extra[b] = dear * UNIT_WEIGHT;
  return true;
}

export function fitsPaper(b: i32): bool {
  const known = onPaper[b];
  if (known > 0) return known === 2;
  const fits = findPaper(onAxis(b) ? unfold(b) : b);
  onPaper[b] = fits ? 2 : 1;
  return fits;
}

function findPaper(b: i32): bool {
  const n = corners[b];
  const at = b * XY;
  const w = Limits.paperWidth;
  const h = Limits.paperHeight;
  const least = min(w, h);
  if (across[b] === 0) bound(b);
  if (across[b] < SURE * least * least) return true;
  for (let i = 0, j = n - 1; i < n; j = i++) {
    const ax = xy[at + 2 * j];
    const ay = xy[at + 2 * j + 1];
    let dx = xy[at + 2 * i] - ax;
    let dy = xy[at + 2 * i + 1] - ay;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length < 1e-9) continue;
    dx /= length;
    dy /= length;
    let far: f64 = 0;
    let u0: f64 = 0;
    let u1: f64 = 0;
    for (let k = 0; k < n; k++) {
      const px = xy[at + 2 * k] - ax;
      const py = xy[at + 2 * k + 1] - ay;
      const off = dx * py - dy * px;
      const u = dx * px + dy * py;
      if (off > far) far = off;
      if (u < u0) u0 = u;
      else if (u > u1) u1 = u;
    }
    const long = u1 - u0;
    if ((long <= w && far <= h) || (long <= h && far <= w)) return true;
  }
  return false;
}
