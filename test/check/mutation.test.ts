// No good block is refused, and no slightly wrong one passes.
import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { FAULT_KINDS } from '../../src/check/fault.ts';
import { sewingOrders } from '../../src/check/sewing-orders.ts';
import { inches, mm } from '../../src/units.ts';
import { HARMLESS } from './harmless.ts';
import { MUTANTS } from './mutants.ts';
import { randomBlock, randomNumbers } from './random-block.ts';

const options = (i: number) => ({ pieces: 4 + ((i * 7) % 77), most: 2 + (i % 12), square: (i % 5) / 4 });
const good = Array.from({ length: 400 }, (_, i) => randomBlock(i, options(i)));
const small = good.filter((b) => b.sections.reduce((t, s) => t + s.pieces.length, 0) <= 22);

test('none of 400 good blocks is refused', () => {
  const refused = good.filter((b) => checkBlock(b).faults.length);
  expect(refused.map((b) => [b.name, checkBlock(b).faults[0]])).toEqual([]);
});

test('good blocks whose corners lie a few micrometres from each other are not refused', () => {
  // Found among 30,000 random blocks: near coincidences where one edge has room for both corners and the edge across has not.
  const close = [11, 479, 490, 556, 593, 3322, 4853, 5946, 15907, 18627, 20524, 25596].map((i) =>
    randomBlock(i, options(i)),
  );
  expect(close.filter((b) => checkBlock(b).faults.length)).toEqual([]);
});

test('good blocks turned, mirrored and with their corners the other way round are still good', () => {
  for (const b of good.slice(0, 40)) {
    const map = (to: (p: [number, number]) => [number, number]): Block => ({
      ...structuredClone(b),
      size: b.size.map((_, i) => Math.abs(to(b.size)[i]! - to([0, 0])[i]!)) as [number, number],
      sections: b.sections.map((s) => ({
        ...s,
        outline: s.outline.map(to).reverse(),
        pieces: s.pieces.map((p) => ({
          ...p,
          outline: p.outline.map(to).reverse(),
          seam: p.seam && [to(p.seam[1]), to(p.seam[0])],
        })),
      })),
      joins: b.joins.map((j) => ({ ...j, seam: [to(j.seam[0]), to(j.seam[1])] })),
    });
    const turned = map(([x, y]) => [y, b.size[0] - x]);
    const mirrored = map(([x, y]) => [b.size[0] - x, y]);
    expect([checkBlock(turned).faults, checkBlock(mirrored).faults]).toEqual([[], []]);
  }
});

describe('every slightly wrong block is caught', () => {
  test.each(Object.keys(MUTANTS))('%s', (name) => {
    const missed: string[] = [];
    let made = 0;
    small.forEach((b, i) => {
      const random = randomNumbers(1000 + i);
      const wrong = MUTANTS[name]!(b, random);
      if (!wrong) return;
      made++;
      const { faults } = checkBlock(wrong);
      if (!faults.length) missed.push(b.name);
      for (const f of faults) {
        expect(FAULT_KINDS).toContain(f.kind);
        expect(f.text).toMatch(/^[A-Z0-9].*\.$/);
        expect(f.at.every(Number.isFinite)).toBe(true);
      }
    });
    expect(missed).toEqual([]);
    expect(made).toBeGreaterThan(60);
  });
});

test('there are 40 kinds of wrong change or more, and 16 of harmless change or more', () => {
  expect(Object.keys(MUTANTS).length).toBeGreaterThanOrEqual(40);
  expect(Object.keys(HARMLESS).length).toBeGreaterThanOrEqual(16);
});

describe('what changes nothing that is sewn is accepted', () => {
  test.each(Object.keys(HARMLESS))('%s', (name) => {
    const refused = small.flatMap((b, i) => {
      const { faults } = checkBlock(HARMLESS[name]!(b, randomNumbers(2000 + i)));
      return faults.length ? [[b.name, faults[0]]] : [];
    });
    expect(refused).toEqual([]);
    expect(small.length).toBeGreaterThan(60);
  });
});

describe('limits that are asked for', () => {
  const block = randomBlock(5, { pieces: 40, most: 9, smallest: 8 });
  const kinds = (o: Parameters<typeof checkBlock>[1]): string[] => [
    ...new Set(checkBlock(block, o).faults.map((f) => f.kind)),
  ];
  const most = Math.max(...block.sections.map((s) => s.pieces.length));
  const narrow = 25;

  test('the narrowest width', () => {
    expect(kinds({ smallest: mm(8) })).toEqual([]);
    expect(kinds({ smallest: mm(narrow) })).toEqual(['too narrow']);
    const wide = { ...block, smallest: narrow };
    expect(checkBlock(wide).faults.length).toBe(checkBlock(block, { smallest: mm(narrow) }).faults.length);
    expect(checkBlock(wide, { smallest: mm(0) }).faults).toEqual([]);
  });
  test('pieces a section', () => {
    expect(kinds({ most })).toEqual([]);
    expect(kinds({ most: most - 1 })).toEqual(['too many pieces']);
  });
  test('the sheet, with allowance and turned any way', () => {
    const strip: Block = randomBlock(1, { pieces: 2, most: 2, square: 1 });
    const [w, h] = strip.size;
    const add = 2 * 6.35;
    expect(checkBlock(strip, { paper: [mm(h + add), mm(w + add)] }).faults).toEqual([]);
    expect(checkBlock(strip, { paper: [mm(h + add - 0.1), mm(w + add)] }).faults.map((f) => f.kind)).toEqual([
      'too large',
    ]);
    expect(checkBlock(strip, { paper: [mm(w), mm(h)], allowance: mm(0) }).faults).toEqual([]);
  });
  test('the shortest seam', () => {
    const seams = [...block.sections.flatMap((s) => s.pieces.map((p) => p.seam)), ...block.joins.map((j) => j.seam)];
    const lengths = seams.flatMap((s) => (s ? [Math.hypot(s[1][0] - s[0][0], s[1][1] - s[0][1])] : []));
    const limit = inches(2);
    const short = lengths.filter((l) => l < limit - 0.1).length;
    expect(checkBlock(block, { shortestSeam: limit }).faults.filter((f) => f.kind === 'short seam')).toHaveLength(
      short,
    );
    expect(short).toBeGreaterThan(0);
  });
});

test('every order that a section has been given is one of its sewing orders', () => {
  const sections = good.slice(0, 100).flatMap((b) => b.sections);
  expect(sections.filter((s) => sewingOrders(s.pieces.map((p) => p.outline)) < 1)).toEqual([]);
});

test('a block that no numbers describe is refused with a sentence, not an exception', () => {
  const b = randomBlock(3);
  expect(checkBlock({ ...b, size: [Number.NaN, 5] }).faults[0]!.kind).toBe('size');
  expect(checkBlock({ ...b, size: [1e9, 5] }).faults[0]!.kind).toBe('size');
  const far = structuredClone(b);
  far.sections[0]!.outline[0]![0] = 1e12;
  expect(checkBlock(far).faults[0]!.kind).toBe('outside');
});
