// The order that is chosen is the best of all that can be sewn: every one is tried here, and priced by this file's own words.
import { expect, test } from 'vitest';
import { lightness } from '../../src/colour/difference.ts';
import { narrowestWidth, type Point } from '../../src/geometry/polygon.ts';
import { bestOrder, type SewnPiece, seamsInOrder } from '../../src/section/sewing-order.ts';
import { randomBlock } from '../check/random-block.ts';

function* permutations(n: number, taken: number[] = []): Generator<number[]> {
  if (taken.length === n) yield taken;
  else for (let i = 0; i < n; i++) if (!taken.includes(i)) yield* permutations(n, [...taken, i]);
}

/** mm of an outline that lie on the line a-b, between a and b. */
function along(P: readonly Point[], [a, b]: readonly [Point, Point]): number {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const on = P.filter((q) => Math.abs((q[1] - a[1]) * ux - (q[0] - a[0]) * uy) < 0.006).map((q) =>
    Math.min(length, Math.max(0, (q[0] - a[0]) * ux + (q[1] - a[1]) * uy)),
  );
  return on.length < 2 ? 0 : Math.max(...on) - Math.min(...on);
}

/** Shadow in mm, how much too narrow the first piece is, changes of fabric, trips to the iron: in this order of weight. */
function judge(pieces: readonly SewnPiece[]): number[] | undefined {
  const seams = seamsInOrder(pieces.map((p) => p.outline));
  if (!seams) return undefined;
  let [shadow, changes, trips] = [0, 0, 0];
  for (let p = 1; p < pieces.length; p++) {
    const seam = seams[p]!;
    let under = 0;
    for (const q of pieces.slice(0, p)) {
      const gap = pieces[p]!.lightness - q.lightness - 25;
      if (gap > 0) under += (along(q.outline, seam) * gap) / 25;
    }
    shadow += Math.round(under);
    if (pieces[p]!.fabric !== pieces[p - 1]!.fabric) changes++;
    if (along(pieces[p - 1]!.outline, seam) > 0) trips++;
  }
  return [shadow, Math.round(Math.max(0, 19.05 - pieces[0]!.width) * 10), changes, trips];
}

const compare = (a: readonly number[], b: readonly number[]): number => {
  const i = a.findIndex((v, k) => v !== b[k]);
  return i < 0 ? 0 : a[i]! - b[i]!;
};

test('no order of a section is better than the one chosen', () => {
  let looked = 0;
  let better = 0;
  for (let seed = 0; seed < 30; seed++) {
    const block = randomBlock(seed, { pieces: 24, most: 6, smallest: 9 });
    const colours = new Map(block.fabrics.map((f, i) => [f.id, { fabric: i, lightness: lightness(f.colour) }]));
    for (const s of block.sections.filter((t) => t.pieces.length > 3)) {
      const pieces = s.pieces.map(
        (p): SewnPiece => ({ outline: p.outline, width: narrowestWidth(p.outline), ...colours.get(p.fabric)! }),
      );
      const all = [...permutations(pieces.length)].map((order) => judge(order.map((i) => pieces[i]!)));
      const valid = all.filter((price) => price !== undefined);
      expect(valid.length).toBeGreaterThan(1);
      const chosen = judge(bestOrder(pieces)!.order.map((i) => pieces[i]!))!;
      looked++;
      if (valid.some((price) => compare(price, chosen) < 0)) better++;
    }
  }
  expect(looked).toBeGreaterThan(40);
  expect(better).toBe(0);
});
