import { describe, expect, test } from 'vitest';
import { traceBorders } from '../../src/fit/borders.ts';
import { Cutting, UNIT_WEIGHT } from '../../src/fit/cutting.ts';
import type { FitLimits } from '../../src/fit/limits.ts';
import { pieceOfCells } from '../../src/geometry/cells.ts';
import { insideConvex } from '../../src/geometry/polygon.ts';
import { noisy } from './pictures.ts';

const SIZE = [304.8, 304.8] as const;
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
const PRICES = {
  section: 30,
  smallSection: 8,
  longSection: 10,
  sharpCorner: 6,
  longPiece: 6,
  nearMiss: 5,
  match: 2,
  offPaper: 20,
  ground: 0,
  bleed: 0,
};
/** a price of sections that stays what it is */
const STEADY = { sections: 6, sectionPrice: [PRICES.section, PRICES.section] as const };

function cuttingOf(seed: number, fabrics = 5) {
  const { labels } = noisy(96, fabrics, seed);
  const cutting = new Cutting({
    ...{ labels, width: 96, height: 96, fabrics, size: SIZE, limits: LIMITS, prices: PRICES, seed },
    weights: new Uint16Array(96 * 96).fill(UNIT_WEIGHT),
    borders: traceBorders(labels, 96, 96, SIZE),
  });
  return { labels, cutting };
}

describe('the sums of cells', () => {
  test.each([1, 2, 3, 5, 7, 8])('equal counting cells one by one, %i fabrics', (fabrics) => {
    const { labels, cutting } = cuttingOf(3 + fabrics, fabrics);
    if (fabrics > 1) cutting.grow(30);
    const pieces = cutting.pieces();
    let all = 0;
    for (const { node, outline } of pieces) {
      // a cell whose centre lies on a seam to within rounding may belong to either side, but to one alone (see `all`)
      const least = new Array<number>(fabrics).fill(0);
      const most = new Array<number>(fabrics).fill(0);
      for (let y = 0; y < 96; y++)
        for (let x = 0; x < 96; x++) {
          const centre = [((x + 0.5) * SIZE[0]) / 96, ((y + 0.5) * SIZE[1]) / 96] as const;
          const label = labels[y * 96 + x]!;
          if (insideConvex(outline, centre, -1e-6)) least[label]! += UNIT_WEIGHT;
          if (insideConvex(outline, centre, 1e-6)) most[label]! += UNIT_WEIGHT;
        }
      for (let f = 0; f < fabrics; f++) {
        const weight = cutting.weighPiece(node, f);
        expect(weight).toBeGreaterThanOrEqual(least[f]!);
        expect(weight).toBeLessThanOrEqual(most[f]!);
        all += weight;
      }
    }
    expect(all).toBe(96 * 96 * UNIT_WEIGHT);
    // the plain way that the finished pieces are judged by gives every cell to one piece that holds its centre
    pieceOfCells(
      pieces.map((p) => p.outline),
      96,
      96,
      SIZE,
    ).forEach((piece, i) => {
      const centre = [(((i % 96) + 0.5) * SIZE[0]) / 96, ((Math.floor(i / 96) + 0.5) * SIZE[1]) / 96] as const;
      if (!insideConvex(pieces[piece]?.outline ?? [], centre, 1e-6)) expect.fail(`cell ${i} is in piece ${piece}`);
    });
  });
});

describe('the cutting tree', () => {
  test('the cost kept up to date equals the cost from scratch, after thousands of tries taken back or kept', () => {
    for (const seed of [1, 2, 3]) {
      const { cutting } = cuttingOf(seed);
      cutting.grow(40);
      for (let round = 0; round < 4; round++) {
        cutting.anneal({ pieces: 40, moves: 3000, hot: 30, cold: 2, ...STEADY });
        const kept = cutting.total;
        cutting.reprice();
        expect(cutting.total).toBeCloseTo(kept, 3);
      }
    }
  });

  test('the cost of the pieces is what they show wrong, counted cell by cell', () => {
    const { labels, cutting } = cuttingOf(6);
    cutting.setPrices({
      ...{
        section: 0,
        smallSection: 0,
        longSection: 0,
        sharpCorner: 0,
        longPiece: 0,
        nearMiss: 0,
        match: 0,
        offPaper: 0,
        ground: 0,
        bleed: 0,
      },
    });
    cutting.reprice();
    const expectCounted = (): void => {
      const pieces = cutting.pieces();
      const wrong = pieceOfCells(
        pieces.map((p) => p.outline),
        96,
        96,
        SIZE,
      ).reduce((n, piece, cell) => n + (pieces[piece]!.fabric === labels[cell] ? 0 : 1), 0);
      expect(wrong).toBeGreaterThan(0);
      expect(cutting.total).toBe(wrong * UNIT_WEIGHT);
    };
    cutting.grow(20);
    expectCounted();
    // impurity has a share in it only while a run is warm, and the pieces that it began without come in the end
    const plan = { pieces: 40, firstShare: 0.5, impurity: 0.5, moves: 6000, hot: 30, cold: 1 };
    cutting.anneal({ ...plan, sections: 6, sectionPrice: [0, 0] });
    expectCounted();
    expect(cutting.pieceCount).toBeGreaterThan(20);
    expect(cutting.pieceCount).toBeLessThanOrEqual(40);
  });

  test('a change taken back leaves everything as it was', () => {
    const { cutting } = cuttingOf(9);
    cutting.grow(30);
    const before = JSON.stringify(cutting.pieces());
    const total = cutting.total;
    let sewable = 0;
    for (const { node } of cutting.pieces()) {
      if (cutting.tryWithout(node)) sewable++;
      expect(JSON.stringify(cutting.pieces())).toBe(before);
      expect(cutting.total).toBe(total);
    }
    expect(sewable).toBeGreaterThan(15);
    cutting.reprice();
    expect(cutting.total).toBeCloseTo(total, 6);
  });

  test('cold annealing never raises the cost', () => {
    // as tree alternating optimisation promises of a pass: Carreira-Perpiñán & Tavallali, NeurIPS 2018
    const { cutting } = cuttingOf(4);
    cutting.grow(40);
    let before = cutting.total;
    const pieces = cutting.pieceCount;
    for (let round = 0; round < 5; round++) {
      cutting.anneal({ pieces, moves: 1500, hot: 1e-9, cold: 1e-9, ...STEADY });
      if (cutting.pieceCount !== pieces) break;
      expect(cutting.total).toBeLessThanOrEqual(before + 1e-6);
      before = cutting.total;
    }
  });
});

describe('joins', () => {
  test('are mended: fewer seam ends that nearly meet, at no higher cost', () => {
    const { cutting } = cuttingOf(5);
    // a run that joins cost nothing leaves many
    cutting.setPrices({ ...PRICES, nearMiss: 0, match: 0 });
    cutting.reprice();
    cutting.grow(40);
    cutting.anneal({ pieces: 40, moves: 4000, hot: 30, cold: 1, ...STEADY });
    cutting.setPrices({ ...PRICES, nearMiss: 25, match: 2 });
    cutting.reprice();
    const [before, missed] = [cutting.total, cutting.misses()];
    expect(missed).toBeGreaterThan(3);
    cutting.mendJoins();
    expect(cutting.total).toBeLessThan(before);
    expect(cutting.misses()).toBeLessThan(missed / 2);
    const kept = cutting.total;
    cutting.reprice();
    expect(cutting.total).toBeCloseTo(kept, 3);
  });
});

test('seams within one fabric cost what they are long: of the ground, and beside a feature', () => {
  const square = [
    [120, 120],
    [160, 120],
    [160, 170],
    [120, 170],
  ] as const;
  const cutting = new Cutting({
    ...{ labels: new Uint8Array(96 * 96), width: 96, height: 96, fabrics: 1, size: SIZE, limits: LIMITS, seed: 1 },
    ...{
      prices: { ...PRICES, longPiece: 0, sharpCorner: 0 },
      ground: 0,
      borders: traceBorders(new Uint8Array(96 * 96), 96, 96, SIZE),
    },
    weights: new Uint16Array(96 * 96).fill(UNIT_WEIGHT),
  });
  cutting.protect(square);
  // two lines from edge to edge, two between them
  const lines = [
    { nx: 0, ny: 1, d: 120, edge: [0, 0, -160, -120] },
    { nx: 0, ny: 1, d: 170, edge: [0, 2, -160, -120] },
    { nx: 1, ny: 0, d: 120, edge: [0, 3, 120, 170] },
    { nx: 1, ny: 0, d: 160, edge: [0, 1, 120, 170] },
  ];
  for (const line of lines) expect(cutting.seed([140, 140], line)).toBeGreaterThanOrEqual(0);
  const totalAt = (ground: number, bleed: number): number => {
    cutting.setPrices({ ...PRICES, longPiece: 0, sharpCorner: 0, ground, bleed });
    cutting.reprice();
    return cutting.total;
  };
  const plain = totalAt(0, 0);
  const cells = 96 / SIZE[0];
  expect(totalAt(1, 0) - plain).toBeCloseTo((2 * SIZE[0] + 2 * 50) * cells * UNIT_WEIGHT, 6);
  expect(totalAt(0, 1) - plain).toBeCloseTo(2 * (40 + 50) * cells * UNIT_WEIGHT, 6);
  // what lies along a feature stays
  for (const { node } of cutting.pieces()) expect(cutting.tryWithout(node)).toBe(false);
});
