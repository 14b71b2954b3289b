import { describe, expect, test } from 'vitest';
import { type Item, type PathItem, placeItems, rectanglePoints } from '../../src/drawing/drawing.ts';
import { drawHatch, HATCH_COUNT } from '../../src/drawing/hatches.ts';
import { drawPixels } from '../../src/drawing/png.ts';
import { insideConvex, type Point, type Polygon } from '../../src/geometry/polygon.ts';
import { greatest } from '../extremes.ts';

const all = Array.from({ length: HATCH_COUNT }, (_, i) => i);

test('there is a hatch for each fabric of the largest level, with some to spare', () => {
  // trade rule: up to 9 fabrics
  expect(HATCH_COUNT).toBeGreaterThanOrEqual(12);
});

const segmentsOf = (lines: PathItem['rings']): [Point, Point][] =>
  lines.flatMap((line) => line.slice(1).map((q, i): [Point, Point] => [line[i]!, q]));

/** Share of a large piece that the hatch, as it is drawn, covers with line. */
const LARGE = rectanglePoints(0, 0, 480, 480);
const coverage = all.map((i) => {
  const { rings, stroke } = drawHatch(i, LARGE, { weight: 'pale' }) as PathItem;
  const length = segmentsOf(rings).reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
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
    for (const [a, b] of segmentsOf(item.rings))
      for (let t = 0; t <= 1; t += 0.1) {
        const q: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
        expect(insideConvex(piece, q, -1.29)).toBe(true);
        expect(insideConvex(hole, q, -0.01)).toBe(false);
      }
  }
});

/** A disc of 1/2 in: its shape says nothing about how it is turned. */
const DISC: Polygon = Array.from({ length: 24 }, (_, k): Point => {
  const a = (k * Math.PI) / 12;
  return [8.35 + 6.35 * Math.cos(a), 8.35 + 6.35 * Math.sin(a)];
});
/** dots an inch that are rendered, and how many of them across an eye takes in as one at arm's length: 0.42 mm */
const DPI = 300;
const TAKEN_IN = 5;
/** cells of 0.42 mm: patterns are laid on one another shifted by up to 3 mm */
const REACH = 7;

interface Seen {
  readonly n: number;
  readonly ink: Float64Array;
  readonly norm: number;
}

/** The ink of a hatched disc, turned and mirrored as paper may lie, rendered in grey, then as the eye takes it in. */
function seen(index: number, weight: 'pale' | 'dense', turn = 0, mirrored = false): Seen {
  const item = drawHatch(index, DISC, { weight, inset: 1.3 });
  const flip = (it: PathItem): Item => ({ ...it, rings: it.rings.map((r) => r.map(([x, y]): Point => [16.7 - x, y])) });
  const middle = placeItems(item ? [mirrored ? flip(item) : item] : [], { turn: 0, dx: -8.35, dy: -8.35 });
  const items = placeItems(middle, { turn, dx: 8.35, dy: 8.35 });
  const image = drawPixels({ width: 16.7, height: 16.7, title: '', items }, DPI);
  const n = Math.floor(image.width / TAKEN_IN);
  const ink = new Float64Array(n * n);
  for (let y = 0; y < n * TAKEN_IN; y++)
    for (let x = 0; x < n * TAKEN_IN; x++)
      ink[Math.floor(y / TAKEN_IN) * n + Math.floor(x / TAKEN_IN)]! +=
        (255 - image.pixels[4 * (y * image.width + x)]!) / 255 / TAKEN_IN ** 2;
  return { n, ink, norm: Math.sqrt(ink.reduce((s, v) => s + v * v, 0)) };
}

/** The best likeness of two patterns over all shifts: 1 the same, 0 nothing in common (cosine of the ink). */
function likeness(a: Seen, b: Seen): number {
  const { n } = a;
  const side = n + 2 * REACH;
  const around = new Float64Array(side * side);
  for (let y = 0; y < n; y++) around.set(b.ink.subarray(y * n, (y + 1) * n), (y + REACH) * side + REACH);
  const inked = [...a.ink.keys()].filter((i) => a.ink[i]! > 0);
  const at = inked.map((i) => Math.floor(i / n) * side + (i % n));
  const value = inked.map((i) => a.ink[i]!);
  let best = 0;
  for (let dy = 0; dy <= 2 * REACH; dy++)
    for (let dx = 0; dx <= 2 * REACH; dx++) {
      const shift = dy * side + dx;
      let dot = 0;
      for (let k = 0; k < at.length; k++) dot += value[k]! * around[at[k]! + shift]!;
      if (dot > best) best = dot;
    }
  return best / (a.norm * b.norm);
}

const TURNS = Array.from({ length: 36 }, (_, k) => k * 10);

// They are drawn in one grey, so colour-blind eyes see them as anyone does.
describe.each(['pale', 'dense'] as const)('%s hatches in a piece of 1/2 in', (weight) => {
  test('each pair can be told apart in grey, under 36 turns, mirrored or not, however it is shifted', () => {
    const straight = all.map((i) => seen(i, weight));
    const pairs: { pair: string; like: number }[] = [];
    for (const k of all.slice(1)) {
      const turned = [false, true].flatMap((m) => TURNS.map((t) => seen(k, weight, t, m)));
      for (const i of all.slice(0, k))
        pairs.push({ pair: `${i} and ${k}`, like: greatest(turned.map((t) => likeness(straight[i]!, t))) });
    }
    expect(pairs).toHaveLength((HATCH_COUNT * (HATCH_COUNT - 1)) / 2);
    expect(pairs.filter((p) => p.like > 0.8).map((p) => `${p.pair}: ${p.like.toFixed(2)}`)).toEqual([]);
  });

  test('what differs in direction alone would be found: a hatch is like itself under every turn that its kind allows', () => {
    const lines = seen(4, weight);
    expect(likeness(lines, seen(4, weight, 180))).toBeGreaterThan(0.9);
    // the same hatch turned is no other hatch: some turn brings it back
    const back = TURNS.map((t) => likeness(seen(4, weight, 30), seen(4, weight, t)));
    expect(greatest(back)).toBeGreaterThan(0.9);
  });
});
