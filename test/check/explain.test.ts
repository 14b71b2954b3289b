// Why pieces cannot be sewn, where, and the smallest repair.
import { describe, expect, test } from 'vitest';
import { canBeSewn } from '../../src/check/can-be-sewn.ts';
import { explainPieces } from '../../src/check/explain-pieces.ts';
import { repairPieces } from '../../src/check/repair-pieces.ts';
import type { Outline } from '../../src/check/sewing-orders.ts';
import { floorplans, outlinesOf } from './floorplans.ts';
import { randomBlock } from './random-block.ts';

type P = [number, number];
const area = (o: Outline): number =>
  Math.abs(o.reduce((t, p, i) => t + p[0] * o[(i + 1) % o.length]![1] - o[(i + 1) % o.length]![0] * p[1], 0)) / 2;
/** Turned by quarters and mirrored, so that nothing hangs on the order of corners. */
const ways: ((p: P, w: number, h: number) => P)[] = [
  ([x, y]) => [x, y],
  ([x, y], w) => [w - x, y],
  ([x, y], w, h) => [w - x, h - y],
  ([x, y], _, h) => [x, h - y],
];

describe('every way of dividing a rectangle into five or six rooms that cannot be sewn', () => {
  const bad = [5, 6]
    .flatMap((n) => floorplans(n).map(outlinesOf))
    .filter((p) => !canBeSewn(p.outlines, p.size).sewable);
  test('is a pinwheel, and one seam carried on through one piece mends it', () => {
    // 2 of 92 and 28 of 422: OEIS A001181 less A006318.
    expect(bad).toHaveLength(2 + 28);
    for (const p of bad) {
      const faults = explainPieces(p.outlines, p.size);
      expect(faults.map((f) => f.kind)).toEqual(['pinwheel']);
      expect(faults[0]!.text).toMatch(/^Four seams stop each other/);
      const repair = repairPieces(p.outlines, p.size)!;
      expect(repair.seams).toHaveLength(1);
      expect(repair.outlines).toHaveLength(p.outlines.length + 1);
      expect(canBeSewn(repair.outlines, p.size).sewable).toBe(true);
      p.outlines.forEach((o, i) => {
        const parts = repair.outlines.filter((_, k) => repair.from[k] === i);
        expect(parts.reduce((t, q) => t + area(q), 0)).toBeCloseTo(area(o), 3);
      });
    }
  });
});

describe.each(ways.map((way, i) => [i, way] as const))('way round %i', (_, way) => {
  const turned = (list: P[][]): P[][] => list.map((o) => o.map((p) => way(p, 100, 100)));

  test('a Y seam', () => {
    const y = turned([
      [
        [0, 0],
        [50, 0],
        [50, 50],
        [0, 70],
      ],
      [
        [50, 0],
        [100, 0],
        [100, 70],
        [50, 50],
      ],
      [
        [0, 70],
        [50, 50],
        [100, 70],
        [100, 100],
        [0, 100],
      ],
    ]);
    const faults = explainPieces(y, [100, 100]);
    expect(faults.map((f) => [f.kind, f.at])).toEqual([['y seam', way([50, 50], 100, 100)]]);
    expect(repairPieces(y, [100, 100])!.outlines).toHaveLength(4);
  });

  test('a piece that turns inward', () => {
    const corner = turned([
      [
        [0, 0],
        [100, 0],
        [100, 50],
        [50, 50],
        [50, 100],
        [0, 100],
      ],
      [
        [50, 50],
        [100, 50],
        [100, 100],
        [50, 100],
      ],
    ]);
    const faults = explainPieces(corner, [100, 100]);
    expect(faults.map((f) => [f.kind, f.at])).toEqual([['not convex', way([50, 50], 100, 100)]]);
    const repair = repairPieces(corner, [100, 100])!;
    expect(repair.from).toEqual([0, 0, 1]);
    expect(canBeSewn(repair.outlines, [100, 100]).sewable).toBe(true);
  });

  test('a hole and an overlap', () => {
    const gap = turned([
      [
        [0, 0],
        [50, 0],
        [50, 100],
        [0, 100],
      ],
      [
        [51, 0],
        [100, 0],
        [100, 100],
        [51, 100],
      ],
    ]);
    expect(explainPieces(gap, [100, 100]).map((f) => f.kind)).toEqual(['gap']);
    const over = turned([
      [
        [0, 0],
        [52, 0],
        [52, 100],
        [0, 100],
      ],
      [
        [51, 0],
        [100, 0],
        [100, 100],
        [51, 100],
      ],
    ]);
    expect(explainPieces(over, [100, 100]).map((f) => f.kind)).toEqual(['overlap']);
    expect(repairPieces(gap, [100, 100])).toBeUndefined();
  });
});

test('a pinwheel among many pieces is found at its own place', () => {
  // A good block shrunk into each corner of a pinwheel's five rooms.
  const rooms: [number, number, number, number][] = [
    [0, 0, 200, 100],
    [200, 0, 100, 200],
    [100, 200, 200, 100],
    [0, 100, 100, 200],
    [100, 100, 100, 100],
  ];
  const outlines = rooms.flatMap(([x, y, w, h], i) => {
    const b = randomBlock(i, { pieces: 40, smallest: 6 });
    const grid = (v: number): number => Math.round(v * 1000) / 1000;
    return b.sections.flatMap((s) =>
      s.pieces.map((p): P[] =>
        p.outline.map((q) => [grid(x + (q[0] / b.size[0]) * w), grid(y + (q[1] / b.size[1]) * h)]),
      ),
    );
  });
  const faults = explainPieces(outlines, [300, 300]);
  expect(faults.map((f) => f.kind)).toEqual(['pinwheel']);
  expect(faults[0]!.at.map(Math.round)).toEqual([150, 150]);
});

test('good blocks need no explanation and no repair', () => {
  for (let i = 0; i < 20; i++) {
    const b = randomBlock(i, { pieces: 40 });
    const outlines = b.sections.flatMap((s) => s.pieces.map((p) => p.outline));
    expect(explainPieces(outlines, b.size)).toEqual([]);
    expect(repairPieces(outlines, b.size)!.seams).toEqual([]);
  }
});

test('blocks from which a piece of a seam was rubbed out are mended', () => {
  let mended = 0;
  for (let i = 0; i < 30; i++) {
    const b = randomBlock(i, { pieces: 16, smallest: 10, square: 1 });
    const all = b.sections.flatMap((s) => s.pieces.map((p) => p.outline));
    // Two rectangles that share an edge's end and make an L become one piece.
    const merged = joinToL(all);
    if (!merged) continue;
    expect(explainPieces(merged, b.size).map((f) => f.kind)).toContain('not convex');
    const repair = repairPieces(merged, b.size);
    expect(repair && canBeSewn(repair.outlines, b.size).sewable).toBe(true);
    mended++;
  }
  expect(mended).toBeGreaterThan(5);
});

/** The first two upright rectangles side by side, level below and not above, made one L. */
function joinToL(all: readonly P[][]): P[][] | undefined {
  const box = (o: P[]): [number, number, number, number] | undefined => {
    const [xs, ys] = [[...new Set(o.map((p) => p[0]))], [...new Set(o.map((p) => p[1]))]];
    return o.length === 4 && xs.length === 2 && ys.length === 2
      ? [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
      : undefined;
  };
  for (const a of all)
    for (const b of all) {
      const [p, q] = [box(a), box(b)];
      if (!p || !q || p[2] !== q[0] || p[3] !== q[3] || q[1] <= p[1] + 5) continue;
      const l: P[] = [
        [p[0], p[1]],
        [p[2], p[1]],
        [p[2], q[1]],
        [q[2], q[1]],
        [q[2], q[3]],
        [p[0], p[3]],
      ];
      return [...all.filter((o) => o !== a && o !== b), l];
    }
  return undefined;
}
