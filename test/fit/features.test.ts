import { describe, expect, test } from 'vitest';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Feature, Shading } from '../../src/data.ts';
import { paintShapes } from '../../src/fit/feature-cells.ts';
import { mirrorShapes, shapesOf, wishes } from '../../src/fit/features.ts';
import { type FitOptions, fitPartition } from '../../src/fit/fit-partition.ts';
import { areaOf, boundsOf, centroid, narrowestWidth, type Point, type Polygon } from '../../src/geometry/polygon.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { mm } from '../../src/units.ts';
import { gridOf } from './pictures.ts';

const SIDE = 304.8;
const SECTIONS = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
const options = (more: Partial<FitOptions> = {}): FitOptions => ({
  ...{ size: [SIDE, SIDE], smallest: 9.525, pieces: 60, sections: SECTIONS, seed: 1, effort: 'quick' },
  ...more,
});

/** Corners of a regular outline, the first edge level; a share of the block. */
const regular = (x: number, y: number, w: number, h: number, n: number): Point[] =>
  Array.from({ length: n }, (_, i): Point => {
    const a = ((2 * i + 1 - n) * Math.PI) / n - Math.PI / 2;
    return [x + (w / 2) * Math.sin(-a) * -1, y + (h / 2) * -Math.cos(a + Math.PI)];
  });
const box = (x: number, y: number, w: number, h: number, below = 1): Point[] => [
  [x - w / 2, y - h / 2],
  [x + w / 2, y - h / 2],
  [x + (below * w) / 2, y + h / 2],
  [x - (below * w) / 2, y + h / 2],
];

/** A head on a ground, one ear drooping where it is not even, with these features painted. */
function head(features: readonly Feature[], even: boolean): Shading {
  const plain = gridOf(192, 5, (x, y) => {
    if (!even && Math.hypot(x - 0.8, y - 0.3) < 0.12) return 2;
    return Math.hypot(x - 0.5, y - 0.5) < 0.38 ? 1 : 0;
  });
  const labels = plain.labels.slice();
  const { shapes } = shapesOf({ ...plain, features }, [SIDE, SIDE], 9.525);
  return { ...plain, features, labels: paintShapes({ ...plain, labels }, [SIDE, SIDE], [], shapes).labels };
}
const eye = (x: number, more: Partial<Feature> = {}): Feature => ({
  ...{ kind: 'eye', outline: box(x, 0.42, 0.09, 0.07, 0.8), fabric: 4, pair: 1 },
  ...more,
});
const nose: Feature = { kind: 'nose', outline: box(0.5, 0.62, 0.12, 0.08, 0.6), fabric: 4 };

/** The piece over a place, and whether a join or a seam of another runs through it: its area says so. */
const pieceAt = (fit: ReturnType<typeof fitPartition>, [x, y]: Point) =>
  fit.pieces.find(({ outline }) => {
    const { minX, maxX, minY, maxY } = boundsOf(outline);
    if (x < minX || x > maxX || y < minY || y > maxY) return false;
    return outline.every((a, i) => {
      const b = outline[(i + 1) % outline.length]!;
      return (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) >= 0;
    });
  })!;

describe('features', () => {
  test.each([
    ['the whole block', false, 'no'],
    ['a mirrored block', true, 'auto'],
  ] as const)('are pieces of their own as they were drawn: %s', (_, even, mirror) => {
    for (const seed of [1, 2]) {
      const features = [eye(0.34), eye(0.66), nose];
      const shading = head(features, even);
      const fit = fitPartition(shading, options({ mirror, seed }));
      expect(fit.mirrored !== undefined).toBe(even);
      expect(fit.features).toEqual([0, 1, 2].map((feature) => ({ feature, kept: 'shape' })));
      for (const { outline, fabric } of features) {
        const drawn = outline.map(([x, y]): Point => [x * SIDE, y * SIDE]);
        const piece = pieceAt(fit, centroid(drawn));
        expect(piece.fabric).toBe(fabric);
        expect(piece.outline.length).toBe(4);
        for (const [x, y] of drawn)
          expect(Math.min(...piece.outline.map((p) => Math.hypot(p[0] - x, p[1] - y)))).toBeLessThan(0.05);
      }
      const block = numberPieces(fit, { name: 'head', smallest: 9.525, fabrics: shading.fabrics }, SECTIONS);
      expect(checkBlock(block, { smallest: mm(9.525), most: 10 }).faults).toEqual([]);
      expect(fit.pieces.length).toBeLessThanOrEqual(60);
      expect(fit.misplaced).toBeLessThan(0.05);
    }
  });

  test('a pupil is a strip through its eye where there is room, else the eye is one piece', () => {
    const withPupils = (wide: number): Feature[] =>
      [0.3, 0.7].flatMap((x, i): Feature[] => [
        eye(x, { outline: box(x, 0.42, wide, 0.08), fabric: 2 }),
        { kind: 'pupil', outline: box(x, 0.42, wide / 3, 0.08), fabric: 4, pair: 2, within: 2 * i },
      ]);
    const large = fitPartition(head(withPupils(0.13), true), options());
    expect(large.features!.map((f) => f.kept)).toEqual(['shape', 'shape', 'shape', 'shape']);
    for (const x of [0.3, 0.7]) {
      const [iris, pupil, rest] = [-0.045, 0, 0.045].map((o) => pieceAt(large, [(x + o) * SIDE, 0.42 * SIDE]));
      expect([iris!.fabric, pupil!.fabric, rest!.fabric]).toEqual([2, 4, 2]);
      expect(areaOf(iris!.outline) + areaOf(pupil!.outline) + areaOf(rest!.outline)).toBeCloseTo(
        0.13 * 0.08 * SIDE ** 2,
        0,
      );
    }
    const small = fitPartition(head(withPupils(0.08), true), options());
    expect(small.features!.map((f) => f.kept)).toEqual(['shape', 'merged', 'shape', 'merged']);
    expect(areaOf(pieceAt(small, [0.3 * SIDE, 0.42 * SIDE]).outline)).toBeCloseTo(0.08 * 0.08 * SIDE ** 2, 0);
  });

  test('what is too small to be cut is a mark', () => {
    const fit = fitPartition(
      head([eye(0.34, { outline: box(0.34, 0.42, 0.04, 0.02) })], true),
      options({ effort: 'glance' }),
    );
    expect(fit.features).toEqual([{ feature: 0, kept: 'mark' }]);
  });

  test('where not all can be cut, the least is given up, and the rest is kept', () => {
    // the mouth lies across the nose: no cuts can make both
    const mouth: Feature = { kind: 'mouth', outline: box(0.5, 0.64, 0.3, 0.04), fabric: 3 };
    const fit = fitPartition(head([eye(0.34), eye(0.66), nose, mouth], true), options());
    expect(fit.features!.slice(0, 3).map((f) => f.kept)).toEqual(['shape', 'shape', 'shape']);
    expect(['weighed', 'lost']).toContain(fit.features![3]!.kept);
  });
});

describe('shapes to be cut', () => {
  const size = [SIDE, SIDE] as const;

  test('of a mirrored block are the left of each pair, between the two, and level halves of what is on the axis', () => {
    const features = [eye(0.34), eye(0.68), { ...nose, outline: box(0.51, 0.62, 0.12, 0.08, 0.6) }];
    const { shapes } = shapesOf({ ...head([], true), features }, size, 9.525);
    const [left, half, ...rest] = mirrorShapes(shapes, SIDE / 2, 9.525);
    expect(rest).toEqual([]);
    // the right eye's mirror image is at .32
    expect(centroid(left!.outline)[0]).toBeCloseTo(0.33 * SIDE, 3);
    expect(areaOf(left!.outline)).toBeCloseTo(areaOf(shapes[0]!.outline), 3);
    expect(half!.onAxis).toBe(true);
    expect(2 * areaOf(half!.outline)).toBeCloseTo(areaOf(shapes[2]!.outline), 1);
    expect(half!.outline.filter(([x]) => x === SIDE / 2).length).toBe(2);
  });

  test.each([
    [12, false],
    [12, true],
    [20, false],
  ])('leave a block of %i pieces at no more than these, mirrored: %s', (pieces, even) => {
    const shading = head([eye(0.34), eye(0.66), nose], even);
    const fit = fitPartition(shading, options({ pieces, mirror: even ? 'auto' : 'no' }));
    expect(fit.pieces.length).toBeLessThanOrEqual(pieces);
    // what became of each is said
    expect(fit.features).toHaveLength(3);
  });

  test('get simpler step by step: four corners, no pupil, then without the least', () => {
    const features: Feature[] = [
      eye(0.3, { outline: regular(0.3, 0.42, 0.16, 0.1, 6), fabric: 2 }),
      { kind: 'pupil', outline: box(0.3, 0.42, 0.04, 0.08), fabric: 4, within: 0 },
      nose,
    ];
    const { shapes } = shapesOf({ ...head([], true), features }, size, 9.525);
    const steps = [...wishes(shapes, () => 4)].map(({ held, weighed }) => [
      held.map((s) => `${s.kind} ${s.outline.length}${s.pupil ? ' pupil' : ''}`),
      weighed.map((s) => s.kind),
    ]);
    expect(steps).toEqual([
      [['eye 6 pupil', 'nose 4'], []],
      [['eye 4 pupil', 'nose 4'], []],
      [['eye 4', 'nose 4'], []],
      [['eye 4'], ['nose']],
      [['nose 4'], ['eye']],
      [[], ['nose', 'eye']],
    ]);
    const area = areaOf(shapes[0]!.outline);
    for (const { held } of wishes(shapes, () => 4))
      for (const s of held) if (s.kind === 'eye') expect(areaOf(s.outline)).toBeCloseTo(area, 3);
  });

  test('of eyes without a pupil are narrower above before they are boxes, as large and in the same place', () => {
    const features: Feature[] = [eye(0.3, { outline: regular(0.3, 0.42, 0.1, 0.08, 6), fabric: 2 })];
    const { shapes } = shapesOf({ ...head([], true), features }, size, 9.525);
    const [drawn, lidded, square] = [...wishes(shapes, () => 4)].map(({ held }) => held[0]?.outline);
    const width = (P: Polygon, at: number): number => {
      const xs = P.filter(([, y]) => Math.abs(y - at) < 0.01).map(([x]) => x);
      return Math.max(...xs) - Math.min(...xs);
    };
    const [above, below] = [0, 1].map((s) => {
      const ys = lidded!.map(([, y]) => y);
      return width(lidded!, s ? Math.max(...ys) : Math.min(...ys));
    });
    expect(above! / below!).toBeCloseTo(0.68, 3);
    expect(areaOf(lidded!)).toBeCloseTo(areaOf(drawn!), 3);
    expect(Math.hypot(...centroid(lidded!).map((v, i) => v - centroid(drawn!)[i]!))).toBeLessThan(2);
    expect(square).toHaveLength(4);
    // of a head that is laid on its side
    const tilted = shapes.map((s) => {
      const [cx, cy] = centroid(s.outline);
      const turned = s.outline.map(
        ([x, y]): Point => [cx + (x - cx - y + cy) / Math.SQRT2, cy + (x - cx + y - cy) / Math.SQRT2],
      );
      return { ...s, outline: turned };
    });
    const [, four] = [...wishes(tilted, () => 4)].map(({ held }) => held[0]?.outline);
    const level = four!.filter((q, i) => Math.abs(q[1] - four![(i + 1) % 4]![1]) < 0.5);
    expect(level).toHaveLength(0);
    expect(narrowestWidth(square!)).toBeGreaterThan(0.9 * narrowestWidth(drawn!));
  });
});
