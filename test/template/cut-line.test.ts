import { describe, expect, test } from 'vitest';
import { distance, type Point, type Polygon, reflect } from '../../src/geometry/polygon.ts';
import { cleanOutline, findContacts } from '../../src/template/contacts.ts';
import { cutLine } from '../../src/template/cut-line.ts';
import { turnLeftRight } from '../../src/template/printed-side.ts';
import { drawTemplate } from '../../src/template/template.ts';
import { greatest } from '../extremes.ts';
import { randomBlock } from '../packet/blocks.ts';
import { cutLineFaults, toRing } from './cut-line-faults.ts';

describe('the cut line', () => {
  // trade rule: trimmed tips lie edge to edge at the join: laid right sides together, both cut lines agree at the ends
  test('matches the neighbour’s at every corner that both sections share', () => {
    let seen = 0;
    for (let seed = 1; seed <= 8; seed++) {
      const block = randomBlock(seed, 60);
      const contacts = findContacts(block);
      const outlines = new Map(block.sections.map((s) => [s.id, cleanOutline(s.outline)]));
      const cuts = new Map(
        block.sections.map((s) => {
          const others = contacts.get(s.id)!.map((c) => outlines.get(c.other)!);
          return [s.id, cutLine(outlines.get(s.id)!, others, 6.35)] as const;
        }),
      );
      for (const s of block.sections)
        for (const c of contacts.get(s.id)!) {
          const [a, b] = c.line;
          const isCorner = (id: string, q: Point): boolean => outlines.get(id)!.some((o) => distance(o, q) < 0.03);
          // how far the cut line reaches past the join's end, on the edge 1/4 in outside the join
          const reach = (cut: Polygon, end: Point, from: Point): number => {
            const u: Point = [(end[0] - from[0]) / distance(end, from), (end[1] - from[1]) / distance(end, from)];
            const along = cut
              .filter((q) => Math.abs(Math.abs((q[0] - end[0]) * u[1] - (q[1] - end[1]) * u[0]) - 6.35) < 0.05)
              .map((q) => (q[0] - end[0]) * u[0] + (q[1] - end[1]) * u[1]);
            return greatest(along);
          };
          for (const [end, from] of [
            [a, b],
            [b, a],
          ] as const) {
            if (!isCorner(s.id, end) || !isCorner(c.other, end)) continue;
            const mine = cuts.get(s.id)!;
            const theirs = cuts.get(c.other)!.map((q) => reflect(q, a, b));
            const side = (P: Polygon): Polygon =>
              P.filter((q) => (b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0]) !== 0);
            expect(reach(side(mine), end, from)).toBeCloseTo(reach(side(theirs), end, from), 1);
            seen++;
          }
        }
    }
    expect(seen).toBeGreaterThan(50);
  });

  test.each([6.35, 7, 10])('lies %d mm outside the outline along its whole length', (allowance) => {
    let seen = 0;
    for (let seed = 1; seed <= 6; seed++) {
      const block = turnLeftRight(randomBlock(seed, 60));
      const contacts = findContacts(block);
      for (const s of block.sections) {
        const { outline, cut } = drawTemplate(block, s, contacts.get(s.id)!, {
          allowance,
          system: 'inch',
          fill: 'none',
        });
        expect(cutLineFaults(outline, cut, allowance), `${block.name}, section ${s.id}`).toEqual([]);
        seen++;
      }
    }
    expect(seen).toBeGreaterThan(50);
  });

  test('is nowhere nearer to the outline than the allowance, and not far out at sharp corners', () => {
    const sharp: Polygon = [
      [0, 0],
      [100, 0],
      [100, 26.8],
    ];
    const cut = cutLine(sharp, [], 6.35);
    for (const q of cut) {
      const d = toRing(q, sharp);
      expect(d).toBeGreaterThan(6.35 - 1e-6);
      // 15° mitred would reach 1.915 in = 48.6 mm (check values, computed); squared off at two allowances
      expect(d).toBeLessThan(15);
    }
  });
});

test('ticks stand at the same places on both sides of a join, at most 3 in apart, at least 1/4 in', () => {
  const block = randomBlock(6, 80);
  const contacts = findContacts(block);
  let pairs = 0;
  for (const [id, list] of contacts)
    for (const c of list) {
      const partner = contacts.get(c.other)!.find((o) => o.other === id && distance(o.line[0], c.line[0]) < 0.001)!;
      expect(partner).toEqual({ ...c, other: id });
      if (c.pair) pairs++;
      const middle = c.pair && [(c.pair[0][0] + c.pair[1][0]) / 2, (c.pair[0][1] + c.pair[1][1]) / 2];
      const all = [...c.line, ...c.matched, ...c.ticks, ...(middle ? [middle as unknown as Point] : [])];
      const at = all.map((q) => distance(q, c.line[0])).sort((x, y) => x - y);
      for (let i = 1; i < at.length; i++) expect(at[i]! - at[i - 1]!).toBeLessThanOrEqual(76.2 + 1e-6);
      // off centre: turned round, the pair finds no partner
      if (middle) {
        const t = distance(middle as unknown as Point, c.line[0]) / distance(...c.line);
        expect(Math.abs(t - 0.5)).toBeGreaterThan(0.05);
      }
    }
  expect(pairs).toBeGreaterThan(20);
});
