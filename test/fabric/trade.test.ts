// Published worked examples of quilt arithmetic, each with its source. All lengths in inches here.
import { describe, expect, test } from 'vitest';
import { halfSquare, onPointTriangles, planBacking, planBinding, quarterSquare } from '../../src/fabric/quilt.ts';
import { stripsFor, sumUp, toMetres, toYards, withSafety } from '../../src/fabric/yardage.ts';
import { inches } from '../../src/units.ts';

const yards = (length: number): number => toYards(inches(length), 1 / 8);

describe('strips', () => {
  test('four strips of 2 1/2 in: 3/8 yd', () => {
    // anniescatalog.com
    expect(yards(4 * 2.5)).toBe(3 / 8);
  });
  test('63 squares of 9 1/2 in from 42 in: 4 a strip, 16 strips, 152 in, 4 1/4 yd', () => {
    // quiltingboard.com post 6228687
    const s = stripsFor(63, inches(9.5), inches(42));
    expect(s).toEqual({ perStrip: 4, strips: 16 });
    expect(s.strips * 9.5).toBe(152);
    expect(yards(152)).toBe(4.25);
  });
  test('100 squares of 3 1/2 in from 44 in: 12 a strip, 9 strips, exactly 7/8 yd and no bump', () => {
    // harriger.com/inch2yard.htm
    const s = stripsFor(100, inches(3.5), inches(44));
    expect(s).toEqual({ perStrip: 12, strips: 9 });
    expect(yards(s.strips * 3.5)).toBe(7 / 8);
  });
  test('safety: the larger of 10 % and one more strip, and 1 in; never under 1/4 yd, then eighths; metric 25 cm, then 10 cm', () => {
    // House rule.
    const o = { safety: 0.1, squaring: inches(1) };
    expect(withSafety(inches(10), inches(2.5), o)).toBeCloseTo(inches(13.5));
    expect(withSafety(inches(100), inches(2.5), o)).toBeCloseTo(inches(111));
    expect(withSafety(inches(10), inches(2.5), { ...o, safety: 0 })).toBe(inches(10));
    expect([0, 5, 9, 9.1, 13.5, 13.6].map((l) => toYards(inches(l)))).toEqual([0, 0.25, 0.25, 0.375, 0.375, 0.5]);
    expect([0, 40, 250, 251, 300, 301, 1000].map((l) => toMetres(l))).toEqual([0, 0.25, 0.25, 0.3, 0.3, 0.4, 1]);
  });
  test('a shopping line reads as people say it', () => {
    expect(sumUp(['1 fat eighth', '1 fat quarter', '1 fat eighth', '2 fat quarters'])).toBe(
      '2 fat eighths and 3 fat quarters',
    );
    expect(sumUp(['3/8 yd', '3/8 yd', '1 scrap of 9 x 11 in'])).toBe('2 times 3/8 yd and 1 scrap of 9 x 11 in');
    expect(sumUp([])).toBe('nothing');
  });
});

describe('binding of 2 1/2 in strips', () => {
  // Published worked examples differ in overage and divisor: blog.missouriquiltco.com "how to figure yardage", castillejacotton
  // 2013/06, monicacurryquiltdesign.com 2019/06, alwaysinstitchesohio 2009/08. None counts what the joins cost.
  test.each([
    { size: [66, 58], overage: 20, usable: 40, strips: 7, length: 17.5, yards: 1 / 2 },
    { size: [50, 60], overage: 0, usable: 38, strips: 6, length: 15, yards: 1 / 2 },
    { size: [54, 60], overage: 10, usable: 42, strips: 6, length: 15, yards: 1 / 2 },
    { size: [40, 50], overage: 0, usable: 40, strips: 5, length: 12.5, yards: 3 / 8 },
  ])('$size', ({ size, overage, usable, strips, length, yards: y }) => {
    const b = planBinding(inches(size[0]!), inches(size[1]!), {
      overage: inches(overage),
      usable: inches(usable),
      perJoin: 0,
    });
    expect(b.count).toBe(strips);
    expect(b.cloth).toBeCloseTo(inches(length));
    expect(toYards(b.cloth)).toBe(y);
  });
  test('with the joins counted: n x 40 - (n - 1) x 2.5 >= perimeter + 10', () => {
    // House rule.
    for (const [w, h] of [
      [66, 58],
      [40, 50],
      [20, 20],
      [97, 101],
      [12, 12],
    ] as const) {
      const { count } = planBinding(inches(w), inches(h));
      const reach = (n: number): number => n * 40 - (n - 1) * 2.5;
      expect(reach(count)).toBeGreaterThanOrEqual(2 * (w + h) + 10);
      expect(reach(count - 1)).toBeLessThan(2 * (w + h) + 10);
    }
  });
});

describe('backing', () => {
  test('80 x 56 in, seam across, 40 usable: 112 in, 3 1/8 yd', () => {
    // quiltingboard.com; sizes with their overhang, seams not counted. "Crosswise seam" there: two lengths of 56 in side by side.
    const b = planBacking(inches(80), inches(56), { overhang: 0, perSeam: 0 });
    expect([b.count, b.seams]).toEqual([2, 'up']);
    expect(b.cloth).toBeCloseTo(inches(112));
    expect(toYards(b.cloth)).toBe(3.125);
  });
  test('59 x 75 in: 2 x 85 = 170 in, 4 3/4 yd', () => {
    // quiltingboard.com; 5 in a side.
    const b = planBacking(inches(59), inches(75), { overhang: inches(5), seams: 'up' });
    expect(b.cloth).toBeCloseTo(inches(170));
    expect(toYards(b.cloth)).toBe(4.75);
  });
  test('72 x 90 in by panels: 188 in, 5 1/4 yd', () => {
    // bellaonline.com art180154; 2 in a side.
    const b = planBacking(inches(72), inches(90), { overhang: inches(2), seams: 'up' });
    expect(b.cloth).toBeCloseTo(inches(188));
    expect(toYards(b.cloth)).toBe(5.25);
  });
  test('trap: square inches are not yards; 50 x 70 is not 111 yards', () => {
    expect(((50 + 4) * (70 + 4)) / 36).toBe(111);
    const b = planBacking(inches(50), inches(70));
    // 58 x 78 in: two widths across, or two up; the shorter pair is 2 x 58.
    expect([b.count, b.seams]).toEqual([2, 'across']);
    expect(toYards(b.cloth)).toBe(3.25);
  });
  test('trap: half an inch lost in a seam asks for a third width', () => {
    // Two widths of 40 in are 79 1/2 in once sewn.
    const at = (width: number): number => planBacking(inches(width), inches(200), { overhang: 0, seams: 'up' }).count;
    expect([at(40), at(40.1), at(79.5), at(79.6), at(119)]).toEqual([1, 2, 2, 3, 3]);
  });
});

describe('triangles', () => {
  test('on point, 12 in: 18 1/4 and 9 3/8 in', () => {
    // christaquilts.com/quilty-math
    const t = onPointTriangles(inches(12));
    expect(t.side).toBeCloseTo(inches(18.25), 2);
    expect(t.corner).toBeCloseTo(inches(9.375), 2);
  });
  test('half-square and quarter-square, 3 in: 3 7/8 and 4 1/4 in', () => {
    // north-hampshire-quilters.org.uk
    expect(halfSquare(inches(3))).toBeCloseTo(inches(3.875));
    expect(quarterSquare(inches(3))).toBeCloseTo(inches(4.25));
  });
});

test('values that no quilt has are refused', () => {
  expect(() => planBinding(-1, 10)).toThrow(/width of the quilt/);
  expect(() => planBinding(100, 100, { overage: -5 })).toThrow(/overage/);
  expect(() => planBinding(100, 100, { usable: 50, perJoin: 60 })).toThrow(/join/);
  expect(() => planBacking(100, Number.NaN)).toThrow(/height/);
  expect(() => planBacking(100, 100, { perSeam: 2000 })).toThrow(/seam/);
});
