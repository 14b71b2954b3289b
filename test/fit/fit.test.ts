import { describe, expect, test } from 'vitest';
import { anneal } from '../../src/fit/anneal.ts';
import { traceBorders } from '../../src/fit/borders.ts';
import { CellSums, UNIT_WEIGHT } from '../../src/fit/cell-sums.ts';
import { Cutting } from '../../src/fit/cutting.ts';
import { type FitOptions, fitPartition, fitPartitions } from '../../src/fit/fit-partition.ts';
import { growCuts } from '../../src/fit/grow.ts';
import type { FitLimits } from '../../src/fit/limits.ts';
import { mendJoins } from '../../src/fit/mend-joins.ts';
import { Random } from '../../src/fit/random.ts';
import { areaOf, cornerAngles, distance, insideConvex, narrowestWidth } from '../../src/geometry/polygon.ts';
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
const LIMITS: FitLimits = {
  smallest: 9.5,
  shortestEdge: 6.35,
  shortestFaceEdge: 6.35,
  shortestOuterEdge: 12,
  leastOuterSine: 0.4,
  leastCornerCosine: Math.cos(0.25),
  mostStretch: 8,
  mostPieces: 8,
  paper: [190, 230],
  allowance: 6.35,
  nearMiss: 9,
  matchWithin: 0.25,
  pointsApart: 12.7,
  sectionStretch: 5,
  sharpCosine: 0.9,
  longStretch: 5,
};
const PRICES = { section: 30, smallSection: 8, longSection: 10, sharpCorner: 6, longPiece: 6, nearMiss: 5, match: 2 };
/** a price of sections that stays what it is */
const STEADY = { sections: 6, sectionPrice: [PRICES.section, PRICES.section] as const };

function cuttingOf(seed: number, fabrics = 5) {
  const shading = noisy(96, fabrics, seed);
  const weights = new Uint16Array(96 * 96).fill(UNIT_WEIGHT);
  const sums = new CellSums(shading.labels, 96, 96, fabrics, SIZE, weights);
  const borders = traceBorders(shading.labels, 96, 96, SIZE);
  const cutting = new Cutting(sums, SIZE, LIMITS, PRICES, 60);
  return { shading, sums, borders, cutting, random: new Random(seed) };
}

describe('the sums of cells', () => {
  test.each([1, 2, 3, 5, 7, 8])('equal counting cells one by one, %i fabrics', (fabrics) => {
    const { shading, sums, borders, cutting, random } = cuttingOf(3 + fabrics, fabrics);
    if (fabrics > 1) growCuts(cutting, borders, 30, random);
    let all = 0;
    for (const v of cutting.nodes()) {
      if (!cutting.isLeaf(v)) continue;
      const P = cutting.outline(v);
      // a cell whose centre lies on a seam to within rounding may belong to either side, but to one alone (see `all`)
      const least = new Array<number>(fabrics).fill(0);
      const most = new Array<number>(fabrics).fill(0);
      for (let y = 0; y < 96; y++)
        for (let x = 0; x < 96; x++) {
          const centre = [((x + 0.5) * SIZE[0]) / 96, ((y + 0.5) * SIZE[1]) / 96] as const;
          const label = shading.labels[y * 96 + x]!;
          if (insideConvex(P, centre, -1e-6)) least[label]! += UNIT_WEIGHT;
          if (insideConvex(P, centre, 1e-6)) most[label]! += UNIT_WEIGHT;
        }
      const total = sums.measure(Float64Array.from(P.flat()), 0, P.length);
      for (let f = 0; f < fabrics; f++) {
        expect(sums.sums[f]).toBeGreaterThanOrEqual(least[f]!);
        expect(sums.sums[f]).toBeLessThanOrEqual(most[f]!);
      }
      all += total;
    }
    expect(all).toBe(96 * 96 * UNIT_WEIGHT);
  });
});

describe('the cutting tree', () => {
  test('the cost kept up to date equals the cost from scratch, after thousands of tries taken back or kept', () => {
    for (const seed of [1, 2, 3]) {
      const { cutting, borders, random } = cuttingOf(seed);
      growCuts(cutting, borders, 40, random);
      for (let round = 0; round < 4; round++) {
        anneal(cutting, borders, random, { pieces: 40, moves: 3000, hot: 30, cold: 2, ...STEADY });
        const kept = cutting.total;
        cutting.reprice();
        expect(cutting.total).toBeCloseTo(kept, 3);
      }
    }
  });

  test('a change taken back leaves everything as it was', () => {
    const { cutting, borders, random } = cuttingOf(9);
    growCuts(cutting, borders, 30, random);
    const look = (): string => JSON.stringify(cutting.nodes().map((v) => [v, cutting.outline(v), cutting.pieces[v]]));
    const before = look();
    const total = cutting.total;
    for (const v of cutting.nodes().filter((u) => cutting.isLeaf(u))) {
      cutting.begin();
      cutting.deleteLeaf(v);
      cutting.settle();
      cutting.takeBack();
      expect(look()).toBe(before);
      expect(cutting.total).toBe(total);
    }
  });

  test('cold annealing never raises the cost', () => {
    // as tree alternating optimisation promises of a pass: Carreira-Perpiñán & Tavallali, NeurIPS 2018
    const { cutting, borders, random } = cuttingOf(4);
    growCuts(cutting, borders, 40, random);
    let before = cutting.total;
    const pieces = cutting.pieces[cutting.root]!;
    for (let round = 0; round < 5; round++) {
      anneal(cutting, borders, random, { pieces, moves: 1500, hot: 1e-9, cold: 1e-9, ...STEADY });
      if (cutting.pieces[cutting.root] !== pieces) break;
      expect(cutting.total).toBeLessThanOrEqual(before + 1e-6);
      before = cutting.total;
    }
  });
});

describe('joins', () => {
  test('are mended: fewer seam ends that nearly meet, at no higher cost', () => {
    const { cutting, borders, random } = cuttingOf(5);
    growCuts(cutting, borders, 40, random);
    anneal(cutting, borders, random, { pieces: 40, moves: 4000, hot: 30, cold: 1, ...STEADY });
    const misses = (): number => cutting.nodes().reduce((n, v) => n + cutting.missesOn(v).length / 4, 0);
    cutting.prices = { ...cutting.prices, nearMiss: 25, match: 2 };
    cutting.reprice();
    const [before, missed] = [cutting.total, misses()];
    mendJoins(cutting, 25, 2);
    expect(cutting.total).toBeLessThan(before);
    expect(misses()).toBeLessThan(missed / 2);
    const kept = cutting.total;
    cutting.reprice();
    expect(cutting.total).toBeCloseTo(kept, 3);
  });
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
      expect(Math.min(...cornerAngles(outline))).toBeGreaterThan(14.9);
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

  test('of several numbers of pieces begins with the one alone and grows, each showing more of the picture', () => {
    const shading = noisy(96, 4, 5);
    const counts = [15, 25, 40];
    const fits = fitPartitions(shading, options(), counts);
    expect(fits[0]).toEqual(fitPartition(shading, options({ pieces: 15 })));
    fits.forEach((fit, i) => {
      expect(fit.pieces.length).toBeLessThanOrEqual(counts[i]!);
      expect(fit.pieces.reduce((n, p) => n + areaOf(p.outline), 0)).toBeCloseTo(SIZE[0] * SIZE[1], 0);
      if (i > 0) expect(fit.misplaced).toBeLessThan(fits[i - 1]!.misplaced);
    });
    // nearly as good as alone: a seed does as much to so short a run
    const alone = fitPartition(shading, options({ pieces: 40 }));
    expect(fits[2]!.misplaced).toBeLessThan(1.2 * alone.misplaced);
  });

  test('one per cent of specks makes no piece under the smallest width', () => {
    const pieces = fitPartition(noisy(192, 4, 5), options()).pieces;
    for (const p of pieces) expect(narrowestWidth(p.outline)).toBeGreaterThanOrEqual(9.525);
  });

  test('an impossible width is refused in a sentence', () => {
    expect(() => fitPartition(face(192), options({ smallest: 200 }))).toThrow(/choose a larger size/);
  });
});
