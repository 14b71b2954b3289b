import { describe, expect, test } from 'vitest';
import { type FitOptions, fitPartition, fitPartitions } from '../../src/fit/fit-partition.ts';
import { areaOf, cornerAngles, distance, narrowestWidth } from '../../src/geometry/polygon.ts';
import { least } from '../extremes.ts';
import { face, noisy } from './pictures.ts';

const SIZE = [304.8, 304.8] as const;
const SECTIONS = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
const options = (more: Partial<FitOptions> = {}): FitOptions => ({
  size: SIZE,
  smallest: 9.525,
  pieces: 40,
  sections: SECTIONS,
  seed: 1,
  effort: 'quick',
  ...more,
});

describe('the partition', () => {
  const MARKS = [
    [0.38, 0.42],
    [0.62, 0.42],
    [0.5, 0.6],
  ] as const;
  const fitted = fitPartition(face(192), options());

  test('covers the block, and every piece can be sewn', () => {
    const n = fitted.pieces.length;
    expect(n).toBeLessThanOrEqual(40);
    expect(n).toBeGreaterThan(20);
    expect(fitted.pieces.reduce((t, p) => t + areaOf(p.outline), 0)).toBeCloseTo(SIZE[0] * SIZE[1], 0);
    for (const { outline } of fitted.pieces) {
      expect(narrowestWidth(outline)).toBeGreaterThanOrEqual(9.525);
      expect(least(cornerAngles(outline))).toBeGreaterThan(14.9);
      outline.forEach((a, i) => {
        const b = outline[(i + 1) % outline.length]!;
        // 3/8 in, and 1/4 in within 1 1/2 in of the eyes and the nose, which are up to .06 of the block in radius
        const inFace = MARKS.some(
          ([x, y]) =>
            distance([x * 304.8, y * 304.8], [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]) < 38.1 + 0.06 * 304.8 + 3,
        );
        expect(distance(a, b)).toBeGreaterThanOrEqual(inFace ? 6.35 : 9.525);
        for (const v of a) expect(Math.round(v * 1000)).toBeCloseTo(v * 1000, 6);
      });
    }
  });

  test('keeps both eyes and the nose of a plain face', () => {
    expect(fitted.lost).toEqual([]);
    expect(fitted.misplaced).toBeLessThan(0.04);
  });

  test('is the same on every run, and another for another seed', () => {
    expect(fitPartition(face(192), options())).toEqual(fitted);
    expect(fitPartition(face(192), options({ seed: 2 })).pieces).not.toEqual(fitted.pieces);
  });

  test.each([96, 192])(
    'of several numbers of pieces begins with the one alone and grows, none showing less: %i cells',
    (grid) => {
      const shading = noisy(grid, 4, 5);
      const counts = [15, 25, 40];
      const fits = fitPartitions(shading, options(), counts);
      expect(fits[0]).toEqual(fitPartition(shading, options({ pieces: 15 })));
      fits.forEach((fit, i) => {
        expect(fit.pieces.length).toBeLessThanOrEqual(counts[i]!);
        expect(fit.pieces.reduce((n, p) => n + areaOf(p.outline), 0)).toBeCloseTo(SIZE[0] * SIZE[1], 0);
        if (i > 0) expect(fit.misplaced).toBeLessThanOrEqual(fits[i - 1]!.misplaced);
      });
      // nearly as good as alone: a seed does as much to so short a run; on the coarse grid a cell is dear, and the fewer pieces stand
      if (grid < 192) return expect(fits[2]).toBe(fits[1]);
      const alone = fitPartition(shading, options({ pieces: 40 }));
      expect(fits[2]!.misplaced).toBeLessThan(1.2 * alone.misplaced);
    },
  );

  test('one per cent of specks makes no piece under the smallest width', () => {
    const pieces = fitPartition(noisy(192, 4, 5), options()).pieces;
    for (const p of pieces) expect(narrowestWidth(p.outline)).toBeGreaterThanOrEqual(9.525);
  });

  test('an impossible width is refused in a sentence', () => {
    expect(() => fitPartition(face(192), options({ smallest: 200 }))).toThrow(/choose a larger size/);
  });
});
