import { expect, test } from 'vitest';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import { convexHull, distance, offLine, type Polygon } from '../../src/geometry/polygon.ts';
import { CutFinder, ON_LINE } from '../../src/section/cuts.ts';
import { noisy } from '../fit/pictures.ts';

/** The slow and obvious way: a line through any two corners, where all pieces lie on one side or the other. */
function slowly(outlines: readonly Polygon[], set: readonly number[]): Set<string> {
  const corners = convexHull(set.flatMap((i) => outlines[i]!));
  const on = set
    .flatMap((i) => outlines[i]!)
    .filter((q) =>
      corners.some((a, i) => {
        const b = corners[(i + 1) % corners.length]!;
        return distance(a, b) > 0 && Math.abs(offLine(a, b, q)) < 2 * ON_LINE;
      }),
    );
  const found = new Set<string>();
  // a cut runs from edge to edge of what the set fills: both its ends lie on that
  for (const [k, a] of on.entries())
    for (const b of on.slice(k + 1)) {
      if (distance(a, b) < 1) continue;
      const sides = set.map((i) => {
        const offs = outlines[i]!.map((q) => offLine(a, b, q));
        return Math.min(...offs) > -ON_LINE ? 1 : Math.max(...offs) < ON_LINE ? -1 : 0;
      });
      if (sides.includes(0) || !sides.includes(1) || !sides.includes(-1)) continue;
      const of = (side: number): number[] => set.filter((_, i) => sides[i] === side);
      found.add((sides[0] === 1 ? of(1) : of(-1)).join());
    }
  return found;
}

test.each([1, 2, 3])('all cuts of all sets are found, as by trying every pair of corners (%i)', (seed) => {
  const sections = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
  const { pieces } = fitPartition(noisy(64, 3, seed), {
    ...{ size: [200, 200], smallest: 9.525, pieces: 24, sections, seed, effort: 'quick' },
  });
  const outlines = pieces.map((p) => p.outline);
  const finder = new CutFinder(outlines);
  const sets = [outlines.map((_, i) => i)];
  const seen = new Set<string>();
  for (let set = sets.pop(); set; set = sets.pop()) {
    if (set.length < 2 || seen.has(set.join()) || seen.size > 60) continue;
    seen.add(set.join());
    const cuts = finder.find(set);
    expect(new Set(cuts.map((c) => c.left.join()))).toEqual(slowly(outlines, set));
    sets.push(...cuts.flatMap((c) => [[...c.left], [...c.right]]));
  }
  expect(seen.size).toBeGreaterThan(20);
});
