// The figures that the README gives are those that were counted, and no fault was.
import { expect, test } from 'vitest';
import { HARMLESS } from '../check/harmless.ts';
import { MUTANTS } from '../check/mutants.ts';
import { readFigures, readTable, rowsOf, tableOf } from './figures.ts';
import { HOSTILE } from './hostile-inputs.ts';

test("the README's table is that of the last `npm run hardening`", async () => {
  const figures = await readFigures();
  expect(await readTable()).toBe(tableOf(figures));
  const all = rowsOf(figures)
    .map((row) => row.join(': '))
    .join('\n');
  expect(rowsOf(figures).length).toBeGreaterThan(10);
  for (const [, count] of all.matchAll(/(\d+) faults/g)) expect(count).toBe('0');
  for (const [, some, of] of all.matchAll(/: ([\d,]+) of ([\d,]+)/g)) expect(some).toBe(of);
  // counted for what is tried now
  for (const known of [
    `${Object.keys(MUTANTS).length} kinds`,
    `${Object.keys(HARMLESS).length} kinds`,
    `of ${HOSTILE.length} answered`,
  ])
    expect(all).toContain(known);
});
