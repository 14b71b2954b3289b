import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { plainShades } from '../../scripts/bench/plain-shades.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Shading } from '../../src/data.ts';
import { traceBorders } from '../../src/fit/borders.ts';
import { Cutting, UNIT_WEIGHT } from '../../src/fit/cutting.ts';
import { type FitOptions, fitPartition } from '../../src/fit/fit-partition.ts';
import { limitsOf, PRICES } from '../../src/fit/limits.ts';
import { findAxis, fold, NEARLY, symmetrise, turnShading, unfold } from '../../src/fit/mirror.ts';
import { areaOf, cornerAngles, narrowestWidth } from '../../src/geometry/polygon.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { mm } from '../../src/units.ts';
import { face, gridOf, noisy } from './pictures.ts';

const SIZE = [304.8, 304.8] as const;
const SECTIONS = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
const options = (more: Partial<FitOptions> = {}): FitOptions => ({
  ...{ size: SIZE, smallest: 9.525, pieces: 40, sections: SECTIONS, seed: 1, effort: 'quick' },
  ...more,
});
const FIXTURES = join(import.meta.dirname, '..', '..', 'fixtures');
const shadingOf = async (file: string): Promise<Shading> =>
  plainShades(await readPicture(readFileSync(join(FIXTURES, file)), file.split('/')[1]!, { aspect: 1 }), 5);

/** A face whose axis is not the block's middle, with a nose that is not on it where `crooked`. */
const shifted = (axis: number, crooked = 0): Shading =>
  gridOf(192, 3, (x, y) => {
    const [u, v] = [Math.abs(x - axis), y - 0.5];
    if (Math.hypot(u - 0.12, v + 0.08) < 0.05) return 2;
    if (Math.hypot(x - axis - crooked, v - 0.1) < 0.05) return 2;
    return Math.hypot(u, v) < 0.35 ? 1 : 0;
  });

type Piece = { readonly outline: readonly (readonly [number, number])[]; readonly fabric: number };

/** Pieces of which no other one is the mirror image about x, to within rounding. */
const alone = (pieces: readonly Piece[], others: readonly Piece[], x: number): Piece[] =>
  pieces.filter(
    (a) =>
      !others.some(
        (b) =>
          b.fabric === a.fabric &&
          b.outline.length === a.outline.length &&
          a.outline.every((p) => b.outline.some((q) => Math.hypot(2 * x - p[0] - q[0], p[1] - q[1]) < 0.005)),
      ),
  );

describe('the axis', () => {
  test.each([0.42, 0.5, 0.55])('of a face at %f of the width is found to within half a cell', (at) => {
    const found = findAxis(shifted(at));
    expect(Math.abs(found.at / 2 / 192 - at)).toBeLessThanOrEqual(0.5 / 192);
    expect(found.agreement).toBeGreaterThan(0.98);
  });

  // fixtures, looked at: symmetric about an upright axis, and not
  test.each([
    ['flat/noto-fox.svg', true],
    ['flat/noto-owl.svg', true],
    ['flat/fluent-emoji-flat-butterfly.svg', true],
    ['lines/lucide-cat.png', true],
    ['flat/noto-cat.svg', false],
    ['flat/streamline-emojis-dog-face.svg', false],
    ['lines/lucide-squirrel.png', false],
    ['photos/cat-chelsea-face.jpg', false],
  ])('%s is symmetric: %s', async (file, symmetric) => {
    expect(findAxis(await shadingOf(file)).agreement >= NEARLY).toBe(symmetric);
  });

  test('what differs from its mirror image is made the same, what does not stays', () => {
    const shading = shifted(0.5, 0.01);
    const made = symmetrise(shading, 192, false);
    let changed = 0;
    made.labels.forEach((label, i) => {
      const j = i - (i % 192) + 191 - (i % 192);
      expect(label).toBe(made.labels[j]);
      if (shading.labels[i] === shading.labels[j]) expect(label).toBe(shading.labels[i]);
      else changed++;
    });
    expect(changed).toBeGreaterThan(50);
  });
});

describe('a mirrored block', () => {
  test.each([0.42, 0.5, 0.55])('about %f of the width is the same on both sides, and can be sewn', (at) => {
    const shading = shifted(at);
    const fitted = fitPartition(shading, options());
    const axis = fitted.mirrored!.axis * SIZE[0];
    expect(fitted.mirrored!.axis).toBeCloseTo(at, 2);
    expect(fitted.misplaced).toBeLessThan(0.03);
    expect(fitted.pieces.length).toBeLessThanOrEqual(40);
    expect(fitted.pieces.reduce((t, p) => t + areaOf(p.outline), 0)).toBeCloseTo(SIZE[0] * SIZE[1], 0);
    for (const { outline } of fitted.pieces) {
      expect(narrowestWidth(outline)).toBeGreaterThanOrEqual(9.525);
      expect(Math.min(...cornerAngles(outline))).toBeGreaterThan(14.9);
    }
    // of an axis beside the middle the pieces at the outer edges are cut off
    const inner = fitted.pieces.filter((p) => p.outline.every(([x]) => x > 1 && x < SIZE[0] - 1));
    expect(inner.length).toBeGreaterThan(5);
    expect(alone(inner, fitted.pieces, axis)).toEqual([]);
    const block = numberPieces(fitted, { name: 'face', smallest: 9.525, fabrics: shading.fabrics }, SECTIONS);
    expect(checkBlock(block, { smallest: mm(9.525), most: 10 }).faults).toEqual([]);
    expect(block.sections.length).toBeLessThanOrEqual(fitted.sections + 1);
  });

  test('of a picture turned over is the block turned over', () => {
    const [one, other] = [shifted(0.42), turnShading(shifted(0.42))].map((s) => fitPartition(s, options()));
    expect(one!.pieces.length).toBe(other!.pieces.length);
    expect(alone(one!.pieces, other!.pieces, SIZE[0] / 2)).toEqual([]);
  });

  test('is made where it is asked for, where the shading names an axis, and not where it is not wanted', () => {
    const crooked = noisy(96, 4, 5);
    const mirroredOf = (shading: Shading, mirror?: 'auto' | 'yes' | 'no') =>
      fitPartition(shading, options({ effort: 'glance', pieces: 20, ...(mirror && { mirror }) })).mirrored;
    expect(mirroredOf(crooked)).toBeUndefined();
    expect(mirroredOf(crooked, 'yes')).toBeDefined();
    expect(mirroredOf({ ...crooked, axis: 0.48 })!.axis).toBeCloseTo(0.48, 2);
    expect(mirroredOf({ ...crooked, axis: 0.48 }, 'no')).toBeUndefined();
    expect(mirroredOf(face(96))).toBeDefined();
    expect(mirroredOf(face(96), 'no')).toBeUndefined();
  });
});

test('the cost kept up to date equals the cost from scratch, in a half too', () => {
  for (const [at, seed] of [
    [192, 1],
    [205, 2],
  ] as const) {
    const shading = symmetrise(noisy(192, 4, seed), at, true);
    const weights = new Uint16Array(192 * 192).fill(UNIT_WEIGHT);
    const { labels, weights: folded, width, half } = fold(shading.labels, weights, 192, 192, at, SIZE[0]);
    const cutting = new Cutting({
      ...{ labels, weights: folded, width, height: 192, fabrics: 4, size: [half.axis, SIZE[1]], seed, mirror: half },
      ...{ limits: limitsOf(options()), prices: { ...PRICES, nearMiss: 5, match: 2 } },
      borders: traceBorders(labels, width, 192, [(width * SIZE[0]) / 192, SIZE[1]]),
    });
    cutting.grow(40);
    for (let round = 0; round < 4; round++) {
      const plan = { pieces: 40, moves: 3000, hot: 30, cold: 2, sections: 6, sectionPrice: [40, 40] as const };
      cutting.anneal(plan);
      const kept = cutting.total;
      cutting.reprice();
      expect(cutting.total).toBeCloseTo(kept, 3);
      // a piece whose mirror image lies outside the block is counted with it
      const whole = unfold(cutting.pieces(), half, SIZE[0]);
      if (half.trim === 0) expect(whole.length).toBe(cutting.pieceCount);
      expect(whole.reduce((t, p) => t + areaOf(p.outline), 0)).toBeCloseTo(SIZE[0] * SIZE[1], 3);
    }
  }
});
