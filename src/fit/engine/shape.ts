// The shape of a region: whether it can be sewn as a piece or printed as a section.

import { inFace } from './face';
import { farEdge, Mirror, needsTrim, onAxis, trimmed, unfold } from './mirror';
import {
  across,
  CORNERS,
  corners,
  extra,
  Limits,
  narrow,
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
