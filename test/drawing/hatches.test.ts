import { describe, expect, test } from 'vitest';
import { type Item, type PathItem, rectanglePoints } from '../../src/drawing/drawing.ts';
import { drawHatch, HATCH_COUNT } from '../../src/drawing/hatches.ts';
import { drawPixels } from '../../src/drawing/png.ts';
import { insideConvex, type Point, type Polygon } from '../../src/geometry/polygon.ts';

const all = Array.from({ length: HATCH_COUNT }, (_, i) => i);
/** The smallest piece that carries a hatch: 1/2 in (trade rule). */
const SMALLEST: Polygon = rectanglePoints(2, 2, 12.7, 12.7);

test('there is a hatch for each fabric of the largest level, with some to spare', () => {
  // trade rule: up to 9 fabrics
  expect(HATCH_COUNT).toBeGreaterThanOrEqual(12);
});

/** Share of a large piece that the hatch, as it is drawn, covers with line. */
const LARGE = rectanglePoints(0, 0, 480, 480);
const coverage = all.map((i) => {
  const { rings, stroke } = drawHatch(i, LARGE, { weight: 'pale' }) as PathItem;
  const length = (rings as [Point, Point][]).reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
  return (length * stroke!.width) / 480 ** 2;
});

test('pale hatches cover 8 % at most, lines 2.5 mm apart or more where they are single', () => {
  for (const share of coverage) expect(share).toBeLessThanOrEqual(0.08);
});

test('later hatches, for darker fabrics, are denser', () => {
  coverage.slice(1).forEach((share, i) => {
    expect(share, `${i + 1} after ${i}`).toBeGreaterThan(0.999 * coverage[i]!);
  });
});

test('lines keep inside the piece and out of holes', () => {
  const piece: Polygon = [
    [0, 0],
    [60, 10],
    [40, 50],
  ];
  const hole = rectanglePoints(25, 12, 12, 8);
  for (const i of all) {
    const item = drawHatch(i, piece, { weight: 'pale', inset: 1.3, holes: [hole] }) as PathItem;
    for (const [a, b] of item.rings as [Point, Point][])
      for (let t = 0; t <= 1; t += 0.1) {
        const q: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
        expect(insideConvex(piece, q, -1.29)).toBe(true);
        expect(insideConvex(hole, q, -0.01)).toBe(false);
      }
  }
});

/** Ink of a piece at 300 dpi in grey, then as the eye takes it in: means of 3 x 3 pixels. */
function seen(index: number, weight: 'pale' | 'dense'): { n: number; ink: Float64Array } {
  const item = drawHatch(index, SMALLEST, { weight, inset: 1.3 });
  const items: Item[] = item ? [item] : [];
  const image = drawPixels({ width: 16.7, height: 16.7, title: '', items }, 300);
  const n = Math.floor(image.width / 3);
  const ink = new Float64Array(n * n);
  for (let y = 0; y < n * 3; y++)
    for (let x = 0; x < n * 3; x++)
      ink[Math.floor(y / 3) * n + Math.floor(x / 3)]! += (255 - image.pixels[4 * (y * image.width + x)]!) / 255 / 9;
  return { n, ink };
}

/** The best likeness of two patterns over all shifts up to 3 mm: 1 the same, 0 nothing in common (cosine of the ink). */
function likeness(a: Float64Array, b: Float64Array, n: number): number {
  let best = 0;
  const reach = 12;
  const norm = (v: Float64Array): number => Math.sqrt(v.reduce((s, x) => s + x * x, 0));
  const whole = norm(a) * norm(b);
  for (let dy = -reach; dy <= reach; dy++)
    for (let dx = -reach; dx <= reach; dx++) {
      let dot = 0;
      for (let y = Math.max(0, dy); y < Math.min(n, n + dy); y++)
        for (let x = Math.max(0, dx); x < Math.min(n, n + dx); x++) dot += a[y * n + x]! * b[(y - dy) * n + x - dx]!;
      best = Math.max(best, dot / whole);
    }
  return best;
}

// They are drawn in one grey, so colour-blind eyes see them as anyone does.
describe.each(['pale', 'dense'] as const)('%s hatches in the smallest piece that carries one', (weight) => {
  test('each pair can be told apart in grey at 300 dpi, however it is shifted', () => {
    const drawn = all.map((i) => seen(i, weight));
    const alike: string[] = [];
    for (const i of all)
      for (const k of all.slice(i + 1)) {
        const l = likeness(drawn[i]!.ink, drawn[k]!.ink, drawn[i]!.n);
        if (l > 0.8) alike.push(`${i} and ${k}: ${l.toFixed(2)}`);
      }
    expect(alike).toEqual([]);
  });
});
