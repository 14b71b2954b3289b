import { describe, expect, test } from 'vitest';
import type { Fabric } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import type { Polygon } from '../../src/geometry/polygon.ts';
import { findFewestSections } from '../../src/section/fewest-sections.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { bestOrder } from '../../src/section/sewing-order.ts';
import { noisy } from '../fit/pictures.ts';

const LIMITS = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
const rectangle = (x: number, y: number, w: number, h: number): Polygon => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];
const plain = (outlines: readonly Polygon[], lightness: (i: number) => number = () => 50) =>
  outlines.map((outline, i) => ({ outline, fabric: i, lightness: lightness(i), width: 25 }));

describe('sections from bare pieces', () => {
  test('strips are one section, a 2 x 2 grid takes two', () => {
    const strips = [0, 1, 2, 3, 4].map((i) => rectangle(i * 30, 0, 30, 150));
    expect(findFewestSections(strips, LIMITS).sections).toBe(1);
    const grid = [
      rectangle(0, 0, 50, 50),
      rectangle(50, 0, 50, 50),
      rectangle(0, 50, 50, 50),
      rectangle(50, 50, 50, 50),
    ];
    expect(findFewestSections(grid, LIMITS).sections).toBe(2);
  });

  test('the best of several trees is found: C | AB | C | DE | C is two sections, not three', () => {
    // three strips with two halved ones between: whether it takes 2 or 3 depends on where it is parted first
    const pieces = [
      rectangle(0, 0, 30, 100),
      rectangle(30, 0, 30, 50),
      rectangle(30, 50, 30, 50),
      rectangle(60, 0, 30, 100),
      rectangle(90, 0, 30, 50),
      rectangle(90, 50, 30, 50),
      rectangle(120, 0, 30, 100),
    ];
    expect(findFewestSections(pieces, LIMITS).sections).toBe(2);
  });

  test('a pinwheel is refused with its place', () => {
    const pinwheel = [
      rectangle(0, 0, 60, 30),
      rectangle(60, 0, 30, 60),
      rectangle(30, 60, 60, 30),
      rectangle(0, 30, 30, 60),
      rectangle(30, 30, 30, 30),
    ];
    expect(() => findFewestSections(pinwheel, LIMITS)).toThrow(/5 pieces around 45, 45 mm/);
  });

  test('the order avoids a dark allowance under light fabric', () => {
    const strips = [0, 1, 2, 3].map((i) => rectangle(i * 30, 0, 30, 100));
    // light to dark: the light one first, each darker one after it
    const sewn = bestOrder(plain(strips, (i) => 95 - 30 * i))!;
    expect(sewn.order).toEqual([0, 1, 2, 3]);
    expect(sewn.shadow).toBe(0);
  });

  test.each([1, 2, 3, 4])(
    'every fitted block passes the independent check, in no more sections than the fit had; join 1 is A + B (%i)',
    (seed) => {
      const shading = noisy(128, 4, seed);
      const size = [304.8, 304.8] as const;
      const partition = fitPartition(shading, {
        size,
        smallest: 12.7,
        pieces: 60,
        sections: LIMITS,
        seed,
        effort: 'quick',
      });
      const facts = { name: 'pepper', smallest: 12.7, fabrics: shading.fabrics as Fabric[] };
      const block = numberPieces(partition, facts, LIMITS);
      expect(checkBlock(block, { most: LIMITS.mostPieces }).faults).toEqual([]);
      expect(block.sections.length).toBeLessThanOrEqual(partition.sections);
      expect(block.joins[0]).toMatchObject({ left: ['A'], right: ['B'] });
      expect(block.sections.map((s) => s.id)).not.toContain('I');
    },
  );
});
