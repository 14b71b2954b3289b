// A disk that is full, read-only or broken at any moment: one sentence, the page goes on, and it shows what is kept.
import { expect, test } from 'vitest';
import { type Failure, failEverywhere } from './failing-disk.ts';

test.each<[Failure, number]>([
  ['ENOSPC', 12],
  ['EROFS', 31],
])('%s', async (code, step) => {
  const { failures, told, faults } = await failEverywhere([code], step);
  expect(faults).toEqual([]);
  expect(told).toBeGreaterThan(0);
  expect(failures).toBeGreaterThan(1);
});
