import { describe, expect, it } from 'vitest';
import { blurGrey, findSpots } from '../../src/figure/find-spots.ts';
import { lookAt, toLook, toPicture } from '../../src/figure/look.ts';
import { measurePart } from '../../src/figure/measure-part.ts';
import { pairOf, pairSpots } from '../../src/figure/pairs.ts';
import { buildPyramid, cutPatch, mirrorLikeness } from '../../src/figure/patch.ts';

const SIDE = 240;

/** A grey square with dark discs: x, y, radius. */
function discs(list: readonly (readonly [number, number, number])[]): Float32Array {
  const grey = new Float32Array(SIDE * SIDE).fill(0.7);
  for (let i = 0; i < grey.length; i++)
    for (const [x, y, r] of list)
      if (Math.hypot((i % SIDE) + 0.5 - x, Math.floor(i / SIDE) + 0.5 - y) < r) grey[i] = 0.1;
  return grey;
}

const looking = (grey: Float32Array) => ({
  side: SIDE,
  grey,
  mask: new Float32Array(SIDE * SIDE).fill(1),
  from: [0, 0, SIDE] as const,
});

describe('dark spots', () => {
  it.each([2.2, 5, 11])('are blurred as a Gaussian of sigma %d blurs, by its variance', (sigma) => {
    const dot = new Float32Array(SIDE * SIDE);
    dot[120 * SIDE + 120] = 1;
    const out = blurGrey(dot, SIDE, SIDE, sigma);
    let [sum, variance] = [0, 0];
    for (let i = 0; i < out.length; i++) {
      sum += out[i]!;
      variance += out[i]! * ((i % SIDE) - 120) ** 2;
    }
    expect(sum).toBeCloseTo(1, 3);
    expect(Math.sqrt(variance)).toBeGreaterThan(0.93 * sigma);
    expect(Math.sqrt(variance)).toBeLessThan(1.07 * sigma);
  });

  // a disc of radius r is strongest under a Gaussian of r / sqrt 2 (Lindeberg, Feature detection with automatic scale selection, 1998)
  it.each([6, 10, 16])('of radius %d are found where they are, at their size', (r) => {
    const spots = findSpots(looking(discs([[90.5, 140.5, r]])));
    expect(Math.hypot(spots[0]!.x - 90.5, spots[0]!.y - 140.5)).toBeLessThan(1.5);
    expect(spots[0]!.sigma).toBeGreaterThan((0.6 * r) / Math.SQRT2);
    expect(spots[0]!.sigma).toBeLessThan((1.4 * r) / Math.SQRT2);
  });

  it('are not looked for where the subject is not', () => {
    const look = looking(
      discs([
        [60, 60, 8],
        [180, 60, 8],
      ]),
    );
    for (let i = 0; i < look.mask.length; i++) look.mask[i] = i % SIDE < 120 ? 1 : 0;
    const spots = findSpots(look);
    expect(spots.some((s) => s.x < 120)).toBe(true);
    expect(spots.every((s) => s.x < 130)).toBe(true);
  });

  it('make pairs that are level, alike and apart, the left one first', () => {
    const spot = (x: number, y: number, sigma: number) => ({ x, y, sigma, strength: 1 });
    const [a, b] = [spot(150, 100, 5), spot(90, 104, 6)];
    expect(pairSpots([a, b], SIDE)[0]).toMatchObject({ left: b, right: a });
    expect(pairSpots([a, spot(90, 250, 6)], SIDE)).toEqual([]);
    expect(pairSpots([a, spot(90, 104, 24)], SIDE)).toEqual([]);
    expect(pairOf(a, b).d).toBeCloseTo(Math.hypot(60, 4), 9);
  });
});

describe('a patch', () => {
  it('turned to a pair shows it level: two discs on a slant are alike when mirrored', () => {
    const [c, s] = [Math.cos(0.4), Math.sin(0.4)];
    const look = looking(
      discs([
        [120 - 40 * c, 120 - 40 * s, 9],
        [120 + 40 * c, 120 + 40 * s, 9],
      ]),
    );
    const pyramid = buildPyramid(look);
    expect(mirrorLikeness(cutPatch(pyramid, 120, 120, c, s, 130, 48), 48)).toBeGreaterThan(0.95);
    expect(mirrorLikeness(cutPatch(pyramid, 150, 120, c, s, 130, 48), 48)).toBeLessThan(0.5);
  });
});

describe('the look', () => {
  const picture = { width: 100, height: 60, rgb: new Uint8Array(3 * 6000).fill(90), pixels: [200, 120] as const };
  it('leads back to the picture', () => {
    const look = lookAt(picture, undefined, 64);
    const [x, y] = toLook(look, 31, 77);
    expect(toPicture(look, x, y)[0]).toBeCloseTo(31, 6);
    expect(toPicture(look, x, y)[1]).toBeCloseTo(77, 6);
  });
  it('is laid about the subject', () => {
    const likely = new Float32Array(32 * 32);
    for (let i = 0; i < likely.length; i++) likely[i] = i % 32 >= 16 && i < 16 * 32 ? 1 : 0;
    const look = lookAt(picture, { part: [0, 0, 200, 120], likely, side: 32 }, 64);
    // the right upper quarter: 100 x 60 pixels about (150, 30)
    expect(look.from[0] + look.from[2] / 2).toBeCloseTo(150, 1);
    expect(look.from[1] + look.from[2] / 2).toBeCloseTo(30, 1);
    expect(look.from[2]).toBeCloseTo(112, 1);
  });
});

describe('a part of a face', () => {
  const [W, H] = [300, 200];
  /** An ellipse of half axes a and b, turned, on fur. */
  function ellipse(a: number, b: number, turn: number, inner?: readonly [number, number, number]) {
    const rgb = new Uint8Array(3 * W * H);
    for (let i = 0; i < W * H; i++) {
      const [dx, dy] = [(i % W) + 0.5 - 150, Math.floor(i / W) + 0.5 - 100];
      const u = (dx * Math.cos(turn) + dy * Math.sin(turn)) / a;
      const v = (dy * Math.cos(turn) - dx * Math.sin(turn)) / b;
      const r = Math.hypot(u, v);
      rgb.set(r > 1 ? [170, 130, 100] : inner && r > 0.45 ? inner : [20, 16, 14], 3 * i);
    }
    return { width: W, height: H, rgb, pixels: [W, H] as const };
  }

  it.each([0, 0.35])('is as wide and high as it was drawn, turned by %d', (turn) => {
    const found = measurePart(ellipse(20, 13, turn), 152, 99, 45, turn)!;
    expect(found.w).toBeGreaterThan(36);
    expect(found.w).toBeLessThan(44);
    expect(found.h).toBeGreaterThan(23);
    expect(found.h).toBeLessThan(30);
    expect(Math.hypot(found.x - 150, found.y - 100)).toBeLessThan(1.5);
    expect(found.iris).toBeUndefined();
  });

  it('shows its iris where it has one', () => {
    const found = measurePart(ellipse(20, 18, 0, [190, 180, 70]), 150, 100, 45, 0)!;
    expect(found.iris).toMatch(/^#[ab]/);
    expect(Number.parseInt(found.dark.slice(1, 3), 16)).toBeLessThan(60);
  });

  it('is not there on even fur', () => {
    const rgb = new Uint8Array(3 * W * H).fill(120);
    expect(measurePart({ width: W, height: H, rgb, pixels: [W, H] }, 150, 100, 45, 0)).toBeUndefined();
  });
});
