// Pairs of spots that may be two eyes, and what can be measured of such a pair.
import type { Spot } from './find-spots.ts';
import { type Look, sample } from './look.ts';
import { cutPatch, mirrorLikeness, type Pyramid, writeGradients, writeLight } from './patch.ts';

/** Two spots, the left one (as seen) first; places in pixels of the look. */
export interface Pair {
  readonly left: Spot;
  readonly right: Spot;
  /** the point midway */
  readonly x: number;
  readonly y: number;
  /** how far apart they lie */
  readonly d: number;
  /** the unit vector from left to right */
  readonly ux: number;
  readonly uy: number;
}

const LEAST_APART = 0.045;
const MOST_APART = 0.55;
const MOST_TILT = (62 * Math.PI) / 180;
/** natural logarithm of the larger size over the smaller */
const MOST_UNLIKE = 1.4;
const MOST_WIDE = 0.45;

export function pairOf(a: Spot, b: Spot): Pair {
  const [left, right] = a.x <= b.x ? [a, b] : [b, a];
  const d = Math.hypot(right.x - left.x, right.y - left.y);
  return {
    ...{ left, right, d, x: (left.x + right.x) / 2, y: (left.y + right.y) / 2 },
    ...{ ux: (right.x - left.x) / d, uy: (right.y - left.y) / d },
  };
}

/** All pairs whose distance, tilt and sizes may be a face's. */
export function pairSpots(spots: readonly Spot[], side: number): Pair[] {
  const pairs: Pair[] = [];
  spots.forEach((a, i) => {
    for (const b of spots.slice(i + 1)) {
      const d = Math.hypot(a.x - b.x, a.y - b.y);
      if (d < LEAST_APART * side || d > MOST_APART * side) continue;
      if (Math.abs(Math.log(a.sigma / b.sigma)) > MOST_UNLIKE || Math.max(a.sigma, b.sigma) / d > MOST_WIDE) continue;
      const pair = pairOf(a, b);
      if (Math.abs(Math.asin(pair.uy)) <= MOST_TILT) pairs.push(pair);
    }
  });
  return pairs;
}

/** A point `u` distances to the right of the middle between the eyes and `v` below it, in pixels of the look. */
export const below = (p: Pair, u: number, v: number): [number, number] => [
  p.x + p.d * (u * p.ux - v * p.uy),
  p.y + p.d * (u * p.uy + v * p.ux),
];

const FACE_PIXELS = 48;
const FACE_WIDE = 2.5;
const FACE_DOWN = 0.35;
const FACE_CELLS = 8;
const FACE_BINS = 9;
const FACE_LIGHT = 16;
const LIGHT_SHARE = 0.35;
export const FACE_LENGTH = FACE_CELLS ** 2 * FACE_BINS + FACE_LIGHT ** 2;

/** The face that the pair would belong to, 48 x 48. */
export function facePatch(pyramid: Pyramid, p: Pair): Float32Array {
  const [x, y] = below(p, 0, FACE_DOWN);
  return cutPatch(pyramid, x, y, p.ux, p.uy, FACE_WIDE * p.d, FACE_PIXELS);
}

export function describeFace(patch: Float32Array): Float32Array {
  const out = new Float32Array(FACE_LENGTH);
  writeGradients(patch, FACE_PIXELS, FACE_CELLS, FACE_BINS, false, out, 0);
  writeLight(patch, FACE_PIXELS, FACE_LIGHT, LIGHT_SHARE, out, FACE_CELLS ** 2 * FACE_BINS);
  return out;
}

const PART_PIXELS = 24;
const PART_CELLS = 6;
const PART_BINS = 12;
const PART_LIGHT = 8;
export const PART_LENGTH = PART_CELLS ** 2 * PART_BINS + PART_LIGHT ** 2;
/** width of the patches about an eye and about a nose, over the distance of the eyes */
export const EYE_WIDE = 0.75;
export const NOSE_WIDE = 0.8;

/** What an eye or a nose is known by: `mirror` as if it were the other eye. */
export function describePart(
  pyramid: Pyramid,
  x: number,
  y: number,
  p: Pair,
  wide: number,
  mirror: boolean,
): Float32Array {
  const patch = cutPatch(pyramid, x, y, p.ux, p.uy, wide * p.d, PART_PIXELS);
  const n = PART_PIXELS;
  if (mirror) for (let r = 0; r < n; r++) patch.subarray(r * n, r * n + n).reverse();
  const out = new Float32Array(PART_LENGTH);
  writeGradients(patch, n, PART_CELLS, PART_BINS, true, out, 0);
  writeLight(patch, n, PART_LIGHT, LIGHT_SHARE, out, PART_CELLS ** 2 * PART_BINS);
  return out;
}

/** How alike the two eyes are when one is mirrored, -1..1. */
function eyesAlike(pyramid: Pyramid, p: Pair): number {
  const n = PART_PIXELS;
  const a = cutPatch(pyramid, p.left.x, p.left.y, p.ux, p.uy, EYE_WIDE * p.d, n);
  const b = cutPatch(pyramid, p.right.x, p.right.y, p.ux, p.uy, EYE_WIDE * p.d, n);
  const mean = (q: Float32Array): number => q.reduce((t, v) => t + v, 0) / q.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [both, aa, bb] = [0, 1e-6, 1e-6];
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++) {
      const va = a[y * n + x]! - ma;
      const vb = b[y * n + n - 1 - x]! - mb;
      both += va * vb;
      aa += va * va;
      bb += vb * vb;
    }
  return both / Math.sqrt(aa * bb);
}

/** A disc in which a cascade sees a face, shares of the upright picture (r of its width). */
export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** How well the pair lies where the eyes of the best of the faces found otherwise would be, 0..1. */
function inDisc(look: Look, p: Pair, faces: readonly Disc[], pixels: readonly [number, number]): number {
  return faces.reduce((best, f) => {
    const k = look.side / look.from[2];
    const [x, y, r] = [(f.x * pixels[0] - look.from[0]) * k, (f.y * pixels[1] - look.from[1]) * k, f.r * pixels[0] * k];
    const off = Math.hypot(p.x - x, p.y - (y - 0.15 * r)) / r;
    const size = Math.abs(Math.log(p.d / (0.85 * r)));
    return Math.max(best, Math.exp(-((off / 0.35) ** 2) - (size / 0.4) ** 2));
  }, 0);
}

/** What is measured of a pair beside the face template's score: how level, alike, strong, large it is and how it lies in the subject. */
export function measurePair(
  look: Look,
  pyramid: Pyramid,
  patch: Float32Array,
  p: Pair,
  strongest: number,
  faces: readonly Disc[],
  pixels: readonly [number, number],
): number[] {
  const { mask, side } = look;
  const at = ([x, y]: [number, number]): number =>
    x < 0 || y < 0 || x >= side || y >= side ? 0 : sample(mask, side, side, x - 0.5, y - 0.5);
  let face = 0;
  for (let v = -0.6; v <= 1.2; v += 0.3) for (let u = -0.8; u <= 0.8; u += 0.4) face += at(below(p, u, v));
  const size = Math.log(p.d / side);
  const wide = Math.log(Math.sqrt(p.left.sigma * p.right.sigma) / p.d);
  const [weak, strong] = [p.left.strength, p.right.strength].sort((a, b) => a - b) as [number, number];
  const down = p.y / side;
  return [
    mirrorLikeness(patch, FACE_PIXELS),
    mirrorLikeness(patch, FACE_PIXELS, 0.2, 0.55),
    eyesAlike(pyramid, p),
    size,
    size * size,
    Math.abs(Math.asin(p.uy)),
    Math.log(weak / strongest),
    Math.log(strong / strongest),
    Math.abs(Math.log(p.left.sigma / p.right.sigma)),
    wide,
    wide * wide,
    Math.min(at([p.left.x, p.left.y]), at([p.right.x, p.right.y])),
    face / 35,
    at(below(p, 0, -0.7)),
    down,
    down * down,
    inDisc(look, p, faces, pixels),
  ];
}
