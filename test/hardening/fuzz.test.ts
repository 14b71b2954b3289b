import { expect, test } from 'vitest';
import { FUZZ_KINDS, fuzzOnce } from './fuzz.ts';

const TIMES = 2000;

test(`${TIMES} damaged block files, settings, requests, lists of fabrics and drawings: a sentence, or something sound`, () => {
  const all = Array.from({ length: TIMES }, (_, seed) => ({ seed, ...fuzzOnce(seed) }));
  expect(all.filter((f) => f.fate === 'fault')).toEqual([]);
  for (const kind of FUZZ_KINDS) {
    const of = all.filter((f) => f.kind === kind);
    // some of each: else the damage is too small or too great to tell anything
    expect(of.some((f) => f.fate === 'taken') && of.some((f) => f.fate === 'refused'), kind).toBe(true);
  }
});
