import { expect, test } from 'vitest';
import { weighCells } from '../../src/fit/weigh-cells.ts';
import { gridOf } from './pictures.ts';

const total = (weights: Uint16Array): number => weights.reduce((t, v) => t + v, 0);
const SIDE = 128;

test('given weights move pieces about and make no section cheaper: they sum to what even ones do', () => {
  // two halves: there is no one ground, and so no outline
  const halves = gridOf(SIDE, 2, (x) => (x < 0.5 ? 0 : 1));
  const even = total(weighCells(halves, []));
  const n = SIDE * SIDE;
  const given = Float32Array.from({ length: n }, (_, i) => (i < n / 3 ? 2 : 1));
  const weights = weighCells({ ...halves, weights: given }, []);
  expect(Math.abs(total(weights) - even)).toBeLessThanOrEqual(1);
  const first = weights.subarray(0, Math.ceil(n / 3));
  const rest = weights.subarray(Math.ceil(n / 3));
  expect(total(first) / first.length / (total(rest) / rest.length)).toBeCloseTo(2, 2);
});

test("the animal's outline weighs half as much again as fur inside, and what is given counts where it is more", () => {
  // a square animal on one ground, with a patch of the ground's colour inside
  const inside = (x: number, y: number, r: number): boolean => Math.max(Math.abs(x - 0.5), Math.abs(y - 0.5)) < r;
  const animal = gridOf(SIDE, 2, (x, y) => (inside(x, y, 0.25) && !inside(x, y, 0.1) ? 1 : 0));
  const weights = weighCells(animal, []);
  const at = (w: Uint16Array, x: number, y: number): number => w[y * SIDE + x]!;
  const fur = at(weights, 40, 64);
  // the animal begins at column 32; a 64th of the block is two cells
  expect([28, 29, 30, 31, 32, 33, 34].map((x) => at(weights, x, 64) / fur)).toEqual([1, 1, 1.5, 1.5, 1.5, 1.5, 1]);
  // the patch inside has no outline of the animal's
  expect([50, 51, 52, 53].map((x) => at(weights, x, 64) / fur)).toEqual([1, 1, 1, 1]);
  const given = new Float32Array(SIDE * SIDE).fill(1).fill(5, 0, 20);
  expect(at(weighCells({ ...animal, weights: given }, []), 3, 0)).toBeGreaterThan(1.5 * fur);
});
