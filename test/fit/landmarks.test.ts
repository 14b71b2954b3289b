import { expect, test } from 'vitest';
import { weighCells } from '../../src/fit/landmarks.ts';

const total = (weights: Uint16Array): number => weights.reduce((t, v) => t + v, 0);

test('given weights move pieces about and make no section cheaper: they sum to what even ones do', () => {
  const n = 10000;
  const even = total(weighCells(n, []));
  const given = Float32Array.from({ length: n }, (_, i) => (i < n / 3 ? 2 : 1));
  const weights = weighCells(n, [], given);
  expect(Math.abs(total(weights) - even)).toBeLessThanOrEqual(1);
  const first = weights.subarray(0, Math.ceil(n / 3));
  const rest = weights.subarray(Math.ceil(n / 3));
  expect(total(first) / first.length / (total(rest) / rest.length)).toBeCloseTo(2, 2);
});
