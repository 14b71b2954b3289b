// The sewing check against published counts.
import { describe, expect, test } from 'vitest';
import { canBeSewn } from '../../src/check/can-be-sewn.ts';
import { type Outline, sewingOrders } from '../../src/check/sewing-orders.ts';
import { floorplans, outlinesOf } from './floorplans.ts';

// OEIS A001181 (Baxter numbers: all ways), OEIS A006318 (large Schröder numbers: by cuts all the way across; the
// correspondence is Ackerman, Barequet & Pinter 2006), and as one section a(n) = 4 a(n-1) - 2 a(n-2) (computed).
const COUNTS: [n: number, all: number, cuts: number, oneSection: number][] = [
  [1, 1, 1, 1],
  [2, 2, 2, 2],
  [3, 6, 6, 6],
  [4, 22, 22, 20],
  [5, 92, 90, 68],
  [6, 422, 394, 232],
  [7, 2074, 1806, 792],
];

describe('ways of dividing a rectangle', () => {
  test.each(COUNTS)('into %i rooms: %i, by straight cuts %i, as one section %i', (n, all, cuts, oneSection) => {
    const plans = floorplans(n).map(outlinesOf);
    expect(plans).toHaveLength(all);
    expect(plans.filter((p) => canBeSewn(p.outlines, p.size).sewable)).toHaveLength(cuts);
    expect(plans.filter((p) => sewingOrders(p.outlines) > 0)).toHaveLength(oneSection);
  });

  test('the two of five rooms that are refused are the pinwheels', () => {
    const refused = floorplans(5)
      .map(outlinesOf)
      .map((p) => canBeSewn(p.outlines, p.size))
      .filter((v) => !v.sewable);
    expect(refused.map((v) => v.locked.map((l) => [...l.pieces].sort()))).toEqual([
      [[0, 1, 2, 3, 4]],
      [[0, 1, 2, 3, 4]],
    ]);
    expect(refused.every((v) => !v.dented.length && !v.misfits.length)).toBe(true);
  });
});

const box = (x: number, y: number, w: number, h: number): Outline => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];

/** Rounds of one strip a side about a square, each as long as what is there. Sides: r, b, l, t. */
function rounds(sides: string): Outline[] {
  let [x0, y0, x1, y1] = [0, 0, 10, 10];
  const pieces = [box(0, 0, 10, 10)];
  for (const side of sides) {
    if (side === 'r') pieces.push(box(x1, y0, 10, y1 - y0));
    if (side === 'l') pieces.push(box(x0 - 10, y0, 10, y1 - y0));
    if (side === 'b') pieces.push(box(x0, y1, x1 - x0, 10));
    if (side === 't') pieces.push(box(x0, y0 - 10, x1 - x0, 10));
    if (side === 'r') x1 += 10;
    if (side === 'l') x0 -= 10;
    if (side === 'b') y1 += 10;
    if (side === 't') y0 -= 10;
  }
  return pieces;
}

// Computed from the definition of Leake, Bernstein, Davis & Agrawala, ACM TOG 40(4), 2021 (pluck off in reverse).
describe('sewing orders of one section', () => {
  test.each([1, 2, 3, 5, 8, 14])('%i strips side by side: 2^(n-1)', (n) => {
    const strips = Array.from({ length: n }, (_, i) => box(7 * i, 0, 7, 50));
    expect(sewingOrders(strips)).toBe(2 ** (n - 1));
  });

  test.each([2, 3, 6, 9, 13])('spiral log cabin of %i pieces: 2', (n) => {
    expect(sewingOrders(rounds('rblt'.repeat(4).slice(0, n - 1)))).toBe(2);
  });

  test.each([1, 2, 3])('courthouse steps of 4 x %i + 1 pieces: 2^(2k+1)', (k) => {
    expect(sewingOrders(rounds('lrtb'.repeat(k)))).toBe(2 ** (2 * k + 1));
  });

  test('a pinwheel has none, and neither has a grid of two by two', () => {
    const pinwheel = [
      box(0, 0, 20, 10),
      box(20, 0, 10, 20),
      box(10, 20, 20, 10),
      box(0, 10, 10, 20),
      box(10, 10, 10, 10),
    ];
    expect(sewingOrders(pinwheel)).toBe(0);
    expect(canBeSewn(pinwheel, [30, 30]).sewable).toBe(false);
    const grid = [box(0, 0, 10, 10), box(10, 0, 10, 10), box(0, 10, 10, 10), box(10, 10, 10, 10)];
    expect(sewingOrders(grid)).toBe(0);
    expect(canBeSewn(grid, [20, 20]).sewable).toBe(true);
  });

  test('pieces that are no section at all have no order', () => {
    expect(sewingOrders([box(0, 0, 10, 10), box(20, 0, 10, 10)])).toBe(0);
    expect(sewingOrders([box(0, 0, 10, 10), box(10, 0, 10, 20)])).toBe(0);
  });
});
