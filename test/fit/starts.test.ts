import { describe, expect, test } from 'vitest';
import { type FitOptions, fitPartition, fitPartitions } from '../../src/fit/fit-partition.ts';
import { bestOf, scoreOf, startsOf } from '../../src/fit/starts.ts';
import { gridOf } from './pictures.ts';

const options: FitOptions = {
  ...{ size: [304.8, 304.8], smallest: 9.525, pieces: 12, seed: 1, effort: 'full' },
  sections: { mostPieces: 10, paper: [187.35, 231.3], allowance: 6.35 },
};
/** A leaning shape on a ground. */
const shading = gridOf(48, 3, (x, y) => {
  if (Math.hypot(x - 0.4, y - 0.45) < 0.1) return 2;
  return Math.abs(x - 0.5 + 0.4 * (y - 0.5)) < 0.2 && Math.abs(y - 0.5) < 0.3 ? 1 : 0;
});

describe('starts', () => {
  test('are three where there is time, within half as many moves again, and one where there is little', () => {
    for (const effort of ['full', 'long'] as const)
      for (const mirrored of [false, true]) {
        const starts = startsOf(effort, 7, mirrored);
        expect(starts.length).toBe(3);
        expect(starts[0]!.seed).toBe(7);
        expect(new Set(starts.map((s) => s.seed)).size).toBe(3);
        expect(starts.reduce((n, s) => n + s.moves, 0)).toBeLessThanOrEqual(1.5);
      }
    for (const effort of ['glance', 'quick'] as const)
      expect(startsOf(effort, 7, false)).toEqual([{ seed: 7, moves: 1, calm: 1 }]);
  });

  test('are scored alike, and the best is the one that comes back', () => {
    const found = fitPartition(shading, options);
    expect(found.scores.length).toBe(3);
    const kept = found.scores.filter((s) => s.kept);
    expect(kept.length).toBe(1);
    for (const s of found.scores) expect(s.score).toBeGreaterThanOrEqual(kept[0]!.score);
    expect(kept[0]!.pieces).toBe(found.pieces.length);
    expect(kept[0]!.sections).toBe(found.sections);
    expect(kept[0]!.misplaced).toBe(found.misplaced);
    // what shows wrong is in the score, and sections are
    expect(kept[0]!.score).toBeGreaterThan(100 * found.misplaced);
    expect(fitPartitions(shading, options, [12, 20])[0]).toEqual(found);
  });

  test('a score is in per cent of the block', () => {
    // 50 of 1000 cells that weigh 2 on average, at 2 a cell; one feature does not show
    expect(scoreOf(50 * 2 * 2, 1000, 2, 2, 0)).toBeCloseTo(5, 9);
    expect(scoreOf(50 * 2 * 2, 1000, 2, 2, 1)).toBeGreaterThan(5);
    expect(bestOf([3, 2, 4, 2])).toBe(1);
  });
});
