import { fc, it as prop } from '@fast-check/vitest';
import polygonClipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import type { Shading } from '../../src/data.ts';
import { type Point, signedArea } from '../../src/geometry/polygon.ts';
import { simplifyByDistance } from '../../src/geometry/simplify-line.ts';
import { traceOutlines } from '../../src/outline/trace-outlines.ts';

const fabric = (i: number) => ({ id: `f${i + 1}`, code: `f${i}`, name: `${i}`, colour: '#000000', hatch: i });

function grid(...rows: string[]): Shading {
  const labels = Uint8Array.from(rows.join(''), (c) => c.charCodeAt(0) - 65);
  const k = Math.max(...labels) + 1;
  return {
    width: rows[0]!.length,
    height: rows.length,
    labels,
    fabrics: Array.from({ length: k }, (_, i) => fabric(i)),
    grown: [],
    lost: [],
    notes: [],
  };
}

type Ring = [number, number][];
const micrometres = (rings: readonly (readonly Point[])[]): Ring[] =>
  rings.map((ring) => ring.map(([x, y]): [number, number] => [Math.round(x * 1000), Math.round(y * 1000)]));
const areaOfShape = (shape: readonly (readonly Ring[])[]): number =>
  shape.flat().reduce((t, ring) => t + Math.abs(signedArea(ring)) * (shape.some((p) => p[0] === ring) ? 1 : -1), 0);

/** No gap and no overlap: on whole micrometres the union of all regions has the block's area, and so has their sum. */
function expectCover(shading: Shading, size: [number, number], tolerance?: number): void {
  const { regions } = traceOutlines(shading, size, tolerance === undefined ? {} : { tolerance });
  const polygons = regions.map((r) => micrometres(r.rings));
  const block = size[0] * size[1] * 1e6;
  const sum = polygons.reduce((t, rings) => t + rings.reduce((u, ring) => u + signedArea(ring), 0), 0);
  expect(sum).toBe(block);
  for (const rings of polygons) {
    expect(signedArea(rings[0]!)).toBeGreaterThan(0);
    for (const hole of rings.slice(1)) expect(signedArea(hole)).toBeLessThan(0);
  }
  const [first, ...rest] = polygons;
  const union = polygonClipping.union([first!], ...rest.map((p): [Ring[]] => [p]));
  expect(areaOfShape(union as Ring[][])).toBe(block);
}

describe('traceOutlines', () => {
  it('gives one rectangle for one fabric', () => {
    const { regions } = traceOutlines(grid('AA', 'AA'), [10, 20]);
    expect(regions).toHaveLength(1);
    expect([...regions[0]!.rings[0]!].sort()).toEqual([
      [0, 0],
      [0, 20],
      [10, 0],
      [10, 20],
    ]);
  });

  it('keeps a straight border straight, and corners of large squares', () => {
    const rows = Array.from({ length: 12 }, (_, y) => (y >= 3 && y < 9 ? 'AAABBBBBBAAA' : 'AAAAAAAAAAAA'));
    const { regions } = traceOutlines(grid(...rows), [12, 12]);
    expect(regions.map((r) => r.rings.map((ring) => ring.length))).toEqual([[4, 4], [4]]);
    expect(signedArea(regions[1]!.rings[0]!)).toBe(36);
  });

  it('draws a slope of cells as one straight line (check values, section 6: no steps)', () => {
    const n = 40;
    const rows = Array.from({ length: n }, (_, y) =>
      Array.from({ length: n }, (_, x) => (y > 8 + x * Math.tan(Math.PI / 6) ? 'B' : 'A')).join(''),
    );
    const { regions } = traceOutlines(grid(...rows), [40, 40]);
    // the block's corners, the two ends of the border, and at most a bend where it meets the edge
    expect(regions.length).toBe(2);
    expect(regions[1]!.rings[0]!.length).toBeLessThanOrEqual(6);
    expectCover(grid(...rows), [40, 40]);
  });

  it('keeps regions that touch themselves or one another at a corner apart', () => {
    expectCover(grid('ABA', 'BAB', 'ABA'), [30, 30]);
    expectCover(grid('AAAA', 'ABAA', 'AABA', 'AAAA'), [40, 40]);
    expectCover(grid('AAAAA', 'ABBBA', 'ABABA', 'ABBAA', 'AAAAA'), [50, 50]);
  });

  const shadings = fc
    .record({
      w: fc.integer({ min: 2, max: 14 }),
      h: fc.integer({ min: 2, max: 14 }),
      k: fc.integer({ min: 1, max: 4 }),
    })
    .chain(({ w, h, k }) =>
      fc.array(fc.integer({ min: 0, max: k - 1 }), { minLength: w * h, maxLength: w * h }).map((labels) => ({
        width: w,
        height: h,
        labels: Uint8Array.from(labels),
        fabrics: Array.from({ length: k }, (_, i) => fabric(i)),
        grown: [],
        lost: [],
        notes: [],
      })),
    );

  prop.prop([shadings, fc.double({ min: 0, max: 30, noNaN: true })], { numRuns: 150, seed: 4 })(
    'leaves no gap and no overlap, however coarse',
    (shading, tolerance) => expectCover(shading, [96, 120], tolerance),
  );
});

describe('simplifying a line', () => {
  // Source: documentation of the Rust crate `geo` (trait Simplify)
  it('Douglas-Peucker drops the fourth point', () => {
    const line: Point[] = [
      [0, 0],
      [5, 4],
      [11, 5.5],
      [17.3, 3.2],
      [27.8, 0.1],
    ];
    expect(simplifyByDistance(line, 1)).toEqual([line[0], line[1], line[2], line[4]]);
  });
});
