// What is said to be kept survives a power cut at any moment, whatever the disk had not been waited for.
import { expect, test } from 'vitest';
import { loseOutputs, losePage, loseSeries } from './lost-power-runs.ts';

test.each([
  ["a command's files", loseOutputs, 120],
  ["a page's folder", losePage, 60],
  ["a series' folder", loseSeries, 40],
] as const)('%s', async (_, lose, disks) => {
  const { operations, kept, faults } = await lose(disks);
  expect(faults).toEqual([]);
  expect(operations).toBeGreaterThan(50);
  expect(kept).toBeGreaterThanOrEqual(disks);
});
