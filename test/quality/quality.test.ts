import { describe, expect, test } from 'vitest';
import type { Partition } from '../../src/data.ts';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import type { Point } from '../../src/geometry/polygon.ts';
import { measureQuality, type Quality } from '../../src/quality/measure-quality.ts';
import type { FlatPiece, SharedEdge } from '../../src/quality/seams.ts';
import { countStairs } from '../../src/quality/stairs.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { face, gridOf } from '../fit/pictures.ts';

const SIDE = 304.8;
const LIMITS = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
const LARGE_SHEET = { ...LIMITS, paper: [400, 400] as const };
const OPTIONS = { smallest: 9.525, mostPieces: 10 };

const box = (x: number, y: number, x2: number, y2: number): Point[] => [
  [x, y],
  [x2, y],
  [x2, y2],
  [x, y2],
];

/** Two columns that meet in one join, each cut straight across once: at `left` and at `right`, mm from the top. */
function columns(left: number, right: number, middle = 152.4, fabrics = [0, 1, 1, 0]): Quality {
  const outlines = [
    box(0, 0, middle, left),
    box(0, left, middle, SIDE),
    box(middle, 0, SIDE, right),
    box(middle, right, SIDE, SIDE),
  ];
  const pieces = outlines.map((outline, i) => ({ outline, fabric: fabrics[i]! }));
  return judge({ size: [SIDE, SIDE], pieces });
}

function judge(partition: Partition): Quality {
  const shading = gridOf(48, 2, (x) => (x < 0.5 ? 0 : 1));
  const block = numberPieces(partition, { name: 'a', smallest: 9.525, fabrics: shading.fabrics }, LARGE_SHEET);
  return measureQuality(block, shading, OPTIONS);
}

const of = (quality: Quality, rule: number) => quality.rules.find((r) => r.rule === rule)!;

// The figures are house rules for a 12 in block.
describe('whether a block is a good one', () => {
  test("the animal's silhouette and the block's have 92 % of what they cover in common where the pieces are few", () => {
    // an animal of 16 x 16 cells of 48 on one ground, shown as one that ends at column `past`
    const cell = SIDE / 48;
    const grid = gridOf(48, 2, (x, y) => (Math.max(Math.abs(x - 0.5), Math.abs(y - 0.5)) < 1 / 6 ? 1 : 0));
    const shown = (past: number) => {
      const [a, b, c] = [16 * cell, past * cell, 32 * cell];
      const outlines = [
        ...[box(0, 0, SIDE, a), box(0, c, SIDE, SIDE)],
        ...[box(0, a, a, c), box(b, a, SIDE, c), box(a, a, b, c)],
      ];
      const pieces = outlines.map((outline, i) => ({ outline, fabric: i === 4 ? 1 : 0 }));
      const facts = { name: 'a', smallest: 9.525, fabrics: grid.fabrics };
      return measureQuality(numberPieces({ size: [SIDE, SIDE], pieces }, facts, LARGE_SHEET), grid, OPTIONS);
    };
    expect(of(shown(32), 1)).toMatchObject({ holds: true, figures: { overlap: 1, wanted: 0.92 } });
    expect(of(shown(31), 1)).toMatchObject({ holds: true, figures: { overlap: 15 / 16 } });
    expect(of(shown(34), 1)).toMatchObject({ holds: false, figures: { overlap: 16 / 18 } });
    expect(of(shown(30), 1)).toMatchObject({ holds: false, figures: { overlap: 14 / 16 } });
    expect(shown(30).poor).toBe(true);
    // two halves are no animal on a ground
    expect(of(columns(100, 140), 1)).toBeUndefined();
  });

  test('seam ends across a join meet within 0.25 mm, or lie 3/8 in apart', () => {
    expect(of(columns(100, 103), 5)).toMatchObject({ holds: false, figures: { misses: 1 } });
    expect(columns(100, 103).poor).toBe(true);
    expect(of(columns(100, 109.6), 5).holds).toBe(true);
    expect(columns(100, 109.6).pointsToMatch).toBe(0);
    expect(of(columns(100, 100.1), 5).holds).toBe(true);
    expect(columns(100, 100.1).pointsToMatch).toBe(1);
  });

  test('a seam ends 3/4 in from the corner of the block or more', () => {
    expect(of(columns(100, 140, 19.1), 10).holds).toBe(true);
    expect(of(columns(100, 140, 18), 10)).toMatchObject({ holds: false, figures: { shortEdges: 2 } });
  });

  test('a piece over eight times as long as wide is a sliver, and so is one under the smallest width', () => {
    expect(of(columns(100, 140), 4).holds).toBe(true);
    expect(of(columns(290, 140, 20), 4)).toMatchObject({ holds: false, figures: { over8: 1, narrow: 0 } });
    expect(of(columns(100, 140, 9), 4).figures).toMatchObject({ narrow: 2, shortEdges: 4 });
  });

  test('joins lie on a change of fabric, and few seams part pieces of one fabric', () => {
    const good = columns(100, 130);
    const joined = (304.8 - 30) / 304.8;
    expect(of(good, 9).figures.onChange).toBeCloseTo(joined, 3);
    expect(of(good, 7).figures.sameFabric).toBeCloseTo(30 / (304.8 * 2), 3);
    const bad = columns(100, 130, 152.4, [0, 1, 0, 1]);
    expect(of(bad, 9)).toMatchObject({ holds: false });
    expect(of(bad, 9).figures.onChange).toBeCloseTo(1 - joined, 3);
    expect(of(bad, 7).holds).toBe(false);
  });

  test('sections of one or two pieces are few', () => {
    expect(of(columns(100, 130), 11)).toMatchObject({ holds: false, figures: { small: 1, single: 0, most: 2 } });
  });

  test('three short seams along one straight edge of the picture are stairs, two are not', () => {
    const points: Point[] = [
      [0, 0],
      [15, 0.8],
      [30, -0.6],
      [45, 0],
    ];
    const piece = (fabric: number): FlatPiece => ({ outline: [], fabric, section: 0, number: 1, area: 1 });
    const pieces = [0, 0, 0, 1].map(piece);
    const edge = (i: number): SharedEdge => ({ pieces: [i, 3], ends: [points[i]!, points[i + 1]!], length: 15 });
    expect(countStairs(pieces, [0, 1, 2].map(edge), 1, 1.6)).toBe(1);
    expect(countStairs(pieces, [0, 1].map(edge), 1, 1.6)).toBe(0);
    // bent by more than a cell: no straight edge
    points[1] = [15, 6];
    expect(countStairs(pieces, [0, 1, 2].map(edge), 1, 1.6)).toBe(0);
  });

  test('a fitted face keeps its eyes, and what the fit refuses is not found', () => {
    const shading = face(192);
    const fitted = fitPartition(shading, {
      ...{ size: [SIDE, SIDE], smallest: 9.525, pieces: 40, sections: LIMITS, seed: 1, effort: 'quick' },
    });
    const block = numberPieces(fitted, { name: 'face', smallest: 9.525, fabrics: shading.fabrics }, LIMITS);
    const quality = measureQuality(block, shading, OPTIONS);
    expect(of(quality, 2).figures).toMatchObject({ landmarks: 3, lost: 0 });
    expect(of(quality, 4).figures).toMatchObject({ narrow: 0, over8: 0, shortEdges: 0 });
    expect(of(quality, 10).holds).toBe(true);
    expect(of(quality, 11).figures.most).toBeLessThanOrEqual(10);
  });
});

test('where features are named only they are asked about, and a join along an edge is not one through it', () => {
  const shading = gridOf(96, 2, (x, y) => (Math.hypot(x - 0.25, y - 0.25) < 0.03 ? 1 : 0));
  const pieces = [
    { outline: box(0, 0, 152.4, SIDE), fabric: 0 },
    { outline: box(152.4, 0, SIDE, SIDE), fabric: 1 },
  ];
  const limits = { ...LARGE_SHEET, mostPieces: 1 };
  const block = numberPieces(
    { size: [SIDE, SIDE], pieces },
    { name: 'a', smallest: 9.525, fabrics: shading.fabrics },
    limits,
  );
  const ruleOf = (rule: number, outline?: Point[]) => {
    const features = outline && [{ kind: 'eye' as const, outline, fabric: 1 }];
    return measureQuality(block, { ...shading, ...(features && { features }) }, OPTIONS).rules.find(
      (r) => r.rule === rule,
    )!;
  };
  expect(ruleOf(2).figures.landmarks).toBe(1);
  expect(ruleOf(3, box(0.46, 0.4, 0.54, 0.5)).figures).toEqual({ crossed: 1, near: 0 });
  expect(ruleOf(3, box(0.5, 0.4, 0.58, 0.5)).figures).toEqual({ crossed: 0, near: 1 });
  expect(ruleOf(3, box(0.6, 0.4, 0.68, 0.5)).figures).toEqual({ crossed: 0, near: 0 });
});
