// Compact dark spots of every size, among which the eyes are: strong where the picture curves upward all round
// (the Hessian's eigenvalues, Lindeberg 1998), against how lively their surroundings are anyway.
import type { Look } from './look.ts';

export interface Spot {
  /** pixels of the look */
  readonly x: number;
  readonly y: number;
  /** its size: the Gaussian under which it is strongest, pixels */
  readonly sigma: number;
  readonly strength: number;
  /** a bright one on dark */
  readonly glint?: boolean;
}

const SCALES = 10;
const FIRST_SIGMA = 1.7;
const LAST_SIGMA = 19;
const MOST_SPOTS = 60;
/** A black dog's eye is as dark as its fur and shows by the light in it alone: so many small bright spots on dark are taken too, and count
 *  for so much of their strength. */
const MOST_GLINTS = 16;
const LARGEST_GLINT = 4;
const DARK = 0.35;
const GLINT_WORTH = 0.5;
/** the eye's size over its glint's */
const GLINT_EYE = 2.5;
const WEAKEST = 0.004;
/** The smaller curvature counts whole, the larger by this share. */
const OTHER_CURVATURE = 0.3;
/** Share of likelihood of being the subject's under which a place is not looked at, a little blurred. */
const LIKELY = 0.35;

/** Three running means across and down: a Gaussian to within 3 % (Wells 1986), in a time that does not grow with sigma. */
export function blurGrey(image: Float32Array, w: number, h: number, sigma: number): Float32Array {
  const ideal = Math.sqrt((12 * sigma * sigma) / 3 + 1);
  let lower = Math.floor(ideal);
  if (lower % 2 === 0) lower--;
  const lowerTimes = Math.round((12 * sigma * sigma - 3 * lower * lower - 12 * lower - 9) / (-4 * lower - 4));
  const now = Float32Array.from(image);
  const next = new Float32Array(image.length);
  for (let pass = 0; pass < 3; pass++) {
    const r = ((pass < lowerTimes ? lower : lower + 2) - 1) / 2;
    runMean(now, next, w, h, 1, w, r);
    runMean(next, now, h, w, w, 1, r);
  }
  return now;
}

/** Running mean of radius r along lines of `length` (step `step`), `lines` of them (step `across`); the rim goes on. */
function runMean(
  from: Float32Array,
  to: Float32Array,
  length: number,
  lines: number,
  step: number,
  across: number,
  r: number,
): void {
  const n = 2 * r + 1;
  for (let line = 0; line < lines; line++) {
    const base = line * across;
    const first = from[base]!;
    const last = from[base + (length - 1) * step]!;
    let sum = r * first;
    for (let k = 0; k < r; k++) sum += from[base + Math.min(length - 1, k) * step]!;
    for (let k = 0; k < length; k++) {
      sum += k + r < length ? from[base + (k + r) * step]! : last;
      to[base + k * step] = sum / n;
      sum -= k - r >= 0 ? from[base + (k - r) * step]! : first;
    }
  }
}

/** The strongest spots that may be the subject's, the strongest first. */
export function findSpots({ grey, mask, side: n }: Look): Spot[] {
  const near = blurGrey(mask, n, n, 4);
  const squares = grey.map((v) => v * v);
  const found: Spot[] = [];
  const glints: Spot[] = [];
  for (let s = 0; s < SCALES; s++) {
    const sigma = FIRST_SIGMA * (LAST_SIGMA / FIRST_SIGMA) ** (s / (SCALES - 1));
    const blurred = blurGrey(grey, n, n, sigma);
    const mean = blurGrey(grey, n, n, 3 * sigma);
    const square = blurGrey(squares, n, n, 3 * sigma);
    const strength = new Float32Array(n * n);
    const bright = sigma <= LARGEST_GLINT ? new Float32Array(n * n) : undefined;
    for (let y = 1; y < n - 1; y++)
      for (let x = 1, i = y * n + 1; x < n - 1; x++, i++) {
        if (near[i]! < LIKELY) continue;
        const xx = blurred[i - 1]! - 2 * blurred[i]! + blurred[i + 1]!;
        const yy = blurred[i - n]! - 2 * blurred[i]! + blurred[i + n]!;
        const sign = xx + yy > 0 ? 1 : -1;
        if (sign < 0 && (!bright || mean[i]! > DARK)) continue;
        const xy = (blurred[i - n - 1]! - blurred[i - n + 1]! - blurred[i + n - 1]! + blurred[i + n + 1]!) / 4;
        const apart = Math.sqrt(((xx - yy) / 2) ** 2 + xy * xy);
        const least = (sign * (xx + yy)) / 2 - apart;
        if (least <= 0) continue;
        const sd = Math.sqrt(Math.max(0, square[i]! - mean[i]! * mean[i]!));
        const curved = least + OTHER_CURVATURE * (least + 2 * apart);
        (sign > 0 ? strength : bright!)[i] = (sigma * sigma * curved) / Math.sqrt(sd + 0.04);
      }
    addPeaks(strength, n, sigma, found);
    if (bright) addPeaks(bright, n, sigma, glints, true);
  }
  return [...keepBest(found, MOST_SPOTS), ...keepBest(glints, MOST_GLINTS)];
}

/** Where it is larger than all about it. */
function addPeaks(strength: Float32Array, n: number, sigma: number, found: Spot[], glint = false): void {
  for (let y = 2; y < n - 2; y++)
    for (let x = 2, i = y * n + 2; x < n - 2; x++, i++) {
      const v = strength[i]!;
      if (
        v > WEAKEST &&
        v >= strength[i - 1]! &&
        v > strength[i + 1]! &&
        v >= strength[i - n]! &&
        v > strength[i + n]! &&
        v >= strength[i - n - 1]! &&
        v >= strength[i - n + 1]! &&
        v > strength[i + n - 1]! &&
        v > strength[i + n + 1]!
      )
        found.push({
          ...{ x: x + 0.5, y: y + 0.5, sigma: glint ? GLINT_EYE * sigma : sigma },
          ...{ strength: glint ? GLINT_WORTH * v : v, ...(glint && { glint }) },
        });
    }
}

/** The strongest, of those that lie on each other the strongest only. */
function keepBest(found: Spot[], most: number): Spot[] {
  found.sort((a, b) => b.strength - a.strength || a.y - b.y || a.x - b.x);
  const kept: Spot[] = [];
  for (const spot of found) {
    if (kept.length >= most) break;
    if (kept.every((o) => Math.hypot(o.x - spot.x, o.y - spot.y) > 0.9 * Math.max(o.sigma, spot.sigma)))
      kept.push(spot);
  }
  return kept;
}
