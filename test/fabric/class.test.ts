// A class, a shop and a quilt.
import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { patchesCsv, shoppingCsv, stripsCsv } from '../../src/fabric/csv.ts';
import { matchedPoints, measureEffort } from '../../src/fabric/effort.ts';
import { planClass } from '../../src/fabric/kits.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { planQuilt } from '../../src/fabric/quilt-plan.ts';
import { toYards } from '../../src/fabric/yardage.ts';
import { inches } from '../../src/units.ts';
import { randomBlock } from '../check/random-block.ts';

const block = randomBlock(7, { pieces: 30, most: 8, smallest: 15 });
const pieces = block.sections.reduce((t, s) => t + s.pieces.length, 0);

describe('a class', () => {
  test('of 20 with two spare sets: everything is cut 22 times and each bag names its patches in sewing order', () => {
    const plan = planClass([{ block }], { people: 20, spare: 2 });
    expect(plan.packets).toBe(22);
    expect(plan.tickets.reduce((t, k) => t + k.patches, 0)).toBe(22 * pieces);
    expect(plan.labels.map((l) => l.section)).toEqual(block.sections.map((s) => s.id));
    expect(plan.labels.flatMap((l) => l.patches.map((p) => p.name))).toEqual(
      block.sections.flatMap((s) => s.pieces.map((_, i) => `${s.id}${i + 1}`)),
    );
    const onCard = plan.card.map((line) => Number(/(\d+) patches$/.exec(line)![1]));
    expect(onCard.reduce((t, n) => t + n, 0)).toBe(pieces);
    for (const t of plan.tickets) {
      expect([t.bolt, t.price]).toEqual(['', '']);
      const strips = plan.shopping.fabrics.find((f) => f.id === t.fabric)!.strips;
      expect(t.strips.reduce((n, s) => n + s.count, 0)).toBe(strips.length);
    }
    expect(plan.supplies.some((s) => /blade/i.test(s) && /rules of the room/.test(s))).toBe(true);
  });
  test('one spare set in ten unless it is said', () => {
    // House rule.
    expect([1, 10, 11, 20].map((people) => planClass([{ block }], { people }).spare)).toEqual([1, 1, 2, 2]);
    expect(planClass([{ block }], { people: 5, spare: 0 }).packets).toBe(5);
  });
  test('length kits are rounded a person: never less cloth than the patches of all', () => {
    const together = planClass([{ block }], { people: 20, spare: 0 });
    const lengths = planClass([{ block }], { people: 20, spare: 0, kit: 'lengths' });
    lengths.shopping.fabrics.forEach((f, i) => {
      expect(f.yards * 914.4).toBeGreaterThan(together.shopping.fabrics[i]!.bound);
      expect(lengths.card[i]).toMatch(/fat (eighth|quarter)s?$|yd$/);
    });
    // 20 fat eighths: two lie beside each other in 9 in of cloth: 10 x 9 = 90 in = 2 1/2 yd (computed).
    const eighth = lengths.card.findIndex((c) => /1 fat eighth$/.test(c));
    expect(eighth).toBeGreaterThanOrEqual(0);
    expect(lengths.shopping.fabrics[eighth]!.yards).toBe(2.5);
  });
  test('more sets take more hours, and numbers that make no sense are refused', () => {
    const hours = [1, 10, 40].map((people) => planClass([{ block }], { people, spare: 0 }).cuttingHours);
    expect(hours[0]).toBeLessThan(hours[1]!);
    expect(hours[1]).toBeLessThan(hours[2]!);
    expect(() => planClass([{ block }], { people: 0 })).toThrow(/people/);
    expect(() => planClass([{ block }], { people: 3, spare: -1 })).toThrow(/spare/);
  });
});

describe('effort', () => {
  const e = measureEffort(block);
  test('counts what there is', () => {
    expect([e.pieces, e.sections, e.joins]).toEqual([pieces, block.sections.length, block.joins.length]);
    // A partition by straight cuts of n pieces has n - 1 seams.
    expect(e.seams).toBe(pieces - 1);
  });
  test('hours by the house rule: 9/6/4 min a piece, 20/15/10 a join, 3 a matched point, 1 h', () => {
    const rule = (piece: number, join: number): number =>
      Math.round((pieces * piece + e.joins * join + e.points * 3 + 60) / 30) / 2;
    expect(e.hours).toEqual({ beginner: rule(9, 20), intermediate: rule(6, 15), advanced: rule(4, 10) });
  });
  test('a grid of two by two has one point to match, four strips have none', () => {
    const corner = (x: number, y: number): [number, number] => [x * 50, y * 50];
    const cell = (x: number, y: number) => [corner(x, y), corner(x + 1, y), corner(x + 1, y + 1), corner(x, y + 1)];
    const row = (id: string, y: number) => ({
      id,
      outline: [corner(0, y), corner(2, y), corner(2, y + 1), corner(0, y + 1)],
      pieces: [0, 1].map((x) => ({
        number: x + 1,
        fabric: 'f1',
        outline: cell(x, y),
        seam: x ? ([corner(1, y), corner(1, y + 1)] as [[number, number], [number, number]]) : null,
      })),
    });
    const grid: Block = {
      ...block,
      size: [100, 100],
      sections: [row('A', 0), row('B', 1)],
      joins: [{ number: 1, left: ['A'], right: ['B'], seam: [corner(0, 1), corner(2, 1)] }],
    };
    const found = measureEffort(grid);
    expect([found.points, found.level, found.because]).toEqual([1, 'beginner', []]);
    expect(matchedPoints(grid.joins[0]!, new Map(grid.sections.map((s) => [s.id, s])))).toEqual([[50, 50]]);
    expect(found.metres).toBe(0.2);
    const off = structuredClone(grid);
    off.sections[1]!.pieces.forEach((p) => {
      for (const q of p.outline) if (q[0] === 50) q[0] = 58;
    });
    expect(measureEffort(off).points).toBe(0);
  });
  test('the level is the lowest whose limits all hold, and says why it is not lower', () => {
    const hard = measureEffort(randomBlock(9, { pieces: 100, most: 12, smallest: 5 }));
    expect(hard.level).toBe('advanced');
    expect(hard.because.join()).toMatch(/pieces/);
  });
});

describe('csv', () => {
  const s = planFabric([{ block: { ...block, name: '=cat, "best"' } }], { price: 12 });
  test('patches: a row each, quoted where needed, and nothing that a spreadsheet would run', () => {
    const rows = patchesCsv(s, 'inch').split('\r\n');
    expect(rows).toHaveLength(s.patches.length + 2);
    expect(rows[0]).toBe('block,section,piece,fabric,width (in),length (in),lies along');
    expect(rows[1]).toMatch(/^"'=cat, ""best""",A,1,c\d,[\d.]+,[\d.]+,(seam|edge|cut to shape)$/);
  });
  test('strips and shopping in inches and centimetres', () => {
    expect(stripsCsv(s, 'metric').split('\r\n')[0]).toBe('fabric,strip width (cm),used (cm),patches');
    expect(stripsCsv(s, 'inch').split('\r\n')).toHaveLength(s.fabrics.reduce((t, f) => t + f.strips.length, 0) + 2);
    const lines = shoppingCsv(s, 'inch').trimEnd().split('\r\n');
    expect(lines.at(-1)).toBe(`total,,,,,${s.cost}`);
    const costs = lines.slice(1, -1).map((l) => Number(l.split(',').at(-1)));
    expect(costs.reduce((t, c) => t + c, 0)).toBeCloseTo(s.cost!, 2);
  });
});

describe('a quilt', () => {
  const foot = inches(12);
  test('3 x 4 blocks of 12 in with 2 in sashing and a 4 in border: 48 x 62 in', () => {
    // Computed: 3 x 12 + 2 x 2 + 8 by 4 x 12 + 3 x 2 + 8.
    const q = planQuilt({ block: [foot, foot], rows: 4, columns: 3, sashing: inches(2), borders: [inches(4)] });
    expect(q.size.map((v) => Math.round(v / 25.4))).toEqual([48, 62]);
    expect(q.blocks).toBe(12);
    const cut = (what: RegExp) => q.cuts.find((c) => what.test(c.what))!;
    expect([cut(/upright/).count, cut(/between rows/).count, cut(/sides/).count]).toEqual([8, 3, 2]);
    expect([cut(/upright/).width, cut(/upright/).length].map((v) => Math.round(v * 100) / 100)).toEqual([63.5, 317.5]);
    expect(cut(/between rows/).length / 25.4).toBeCloseTo(40.5);
    expect(cut(/sides/).length / 25.4).toBeCloseTo(54.5);
    expect(cut(/top and bottom/).length / 25.4).toBeCloseTo(48.5);
    // Long cuts first, along the selvage.
    expect(q.cuts.map((c) => c.way)).toEqual(['lengthwise', 'lengthwise', 'lengthwise', 'across']);
    expect(q.cuts[0]!.what).toMatch(/sides/);
  });
  test('sashing with cornerstones, all round', () => {
    const q = planQuilt({
      block: [foot, foot],
      rows: 2,
      columns: 2,
      sashing: inches(1),
      sashingAround: true,
      cornerstones: true,
    });
    expect(q.size.map((v) => Math.round(v / 25.4))).toEqual([27, 27]);
    const counts = Object.fromEntries(q.cuts.map((c) => [c.what, c.count]));
    expect(counts).toEqual({
      'sashing between blocks, upright': 6,
      'sashing between blocks, level': 6,
      cornerstones: 9,
    });
  });
  test('on point: 12 in blocks take squares of 18 1/4 and 9 3/8 in', () => {
    // christaquilts.com/quilty-math
    const q = planQuilt({ block: [foot, foot], rows: 3, columns: 3, setting: 'on point' });
    expect(q.blocks).toBe(13);
    expect(q.size[0] / 25.4).toBeCloseTo(50.91, 2);
    const sizes = q.cuts.map((c) => [c.count, Math.round((c.width / 25.4) * 8) / 8]);
    expect(sizes).toEqual([
      [2, 18.25],
      [2, 9.375],
    ]);
  });
  test.each([
    [3, 3, 12, 2],
    [4, 2, 10, 1.5],
    [1, 1, 9, 1],
  ])('on point with sashing and cornerstones, %i x %i: the parts fill the quilt', (rows, columns, side, w) => {
    // Computed: blocks, strips, cornerstones (halves of them on the edge), side triangles with legs as long as a block's side, corner
    // triangles with that as their long side: their areas add up to the whole.
    const q = planQuilt({
      block: [inches(side), inches(side)],
      rows,
      columns,
      setting: 'on point',
      sashing: inches(w),
      cornerstones: true,
    });
    const of = (what: RegExp): number => q.cuts.filter((c) => what.test(c.what)).reduce((t, c) => t + c.count, 0);
    const sides = 2 * (rows - 1) + 2 * (columns - 1);
    const edge = 2 * (rows + columns);
    const area =
      q.blocks * side ** 2 +
      of(/^sashing/) * side * w +
      (of(/^cornerstones/) - edge / 2) * w ** 2 +
      (sides * side ** 2) / 2 +
      side ** 2;
    expect(area).toBeCloseTo((q.size[0] / 25.4) * (q.size[1] / 25.4), 6);
    expect(q.size.map((v) => v / 25.4 / ((side + w) * Math.SQRT2)).map((v) => Math.round(v * 1e6) / 1e6)).toEqual([
      columns,
      rows,
    ]);
    // Without cornerstones the strips along one diagonal are in one piece each: as much sashing in all, less what crosses.
    const long = planQuilt({
      block: [inches(side), inches(side)],
      rows,
      columns,
      setting: 'on point',
      sashing: inches(w),
    }).cuts.filter((c) => /diagonal/.test(c.what));
    const blocks = long.reduce((t, c) => t + c.count * Number(/(\d+) blocks? long/.exec(c.what)![1]), 0);
    expect(blocks).toBe(of(/^sashing/) / 2);
    for (const c of long) {
      const k = Number(/(\d+) blocks? long/.exec(c.what)![1]);
      expect(c.length / 25.4).toBeCloseTo(k * side + (k + 1) * w + 0.5);
    }
  });
  test('binding, backing and batting follow the size with the borders on', () => {
    const q = planQuilt({
      block: [foot, foot],
      rows: 5,
      columns: 4,
      borders: [inches(1), inches(0), inches(4)],
      backing: { seams: 'up' },
    });
    expect(q.size.map((v) => Math.round(v / 25.4))).toEqual([58, 70]);
    expect(q.batting.width / 25.4).toBeCloseTo(66);
    // Two widths of 78 in.
    expect([q.backing.count, toYards(q.backing.cloth)]).toEqual([2, 4.375]);
    expect(q.binding.total / 25.4).toBeCloseTo(266);
  });
  test('short sashing is cut from beside the long borders of its cloth, and what is pieced takes less', () => {
    // Computed: between 4 rows of 3 blocks of 12 in lie 3 strips of 2 1/2 x 40 1/2 in; beside them, 32 1/2 in of the 40 are free
    // for 13 columns of 3 pieces of 12 1/2 in: all 8 upright ones.
    const q = planQuilt({ block: [foot, foot], rows: 4, columns: 3, sashing: inches(2), cloth: { safety: 0 } });
    const sashing = q.cloths.find((c) => c.what === 'sashing')!;
    expect(sashing.cuts.map((c) => [c.count, c.beside, c.strips])).toEqual([
      [3, 0, 0],
      [8, 8, 0],
    ]);
    expect(sashing.cloth / 25.4).toBeCloseTo(40.5);
    expect(sashing.yards).toBe(1.125);
    // Pieced: 3 x 40 1/2 = 121 1/2 in from strips of 40 in, 1/2 in a seam: 4 strips; 8 pieces of 12 1/2, 3 a strip: 3 strips; 17 1/2 in.
    expect(sashing.pieced).toBe('1/2 yd');
  });
  test('a cloth that serves several cuts is bought once, with safety', () => {
    const q = planQuilt({ block: [foot, foot], rows: 2, columns: 2, borders: [inches(4)], cloth: { price: 10 } });
    // Computed: four pieces of 4 1/2 in beside each other, the longest 32 1/2 in; + 10 % + 1 in = 36.75 in.
    const border = q.cloths.find((c) => c.what === 'border')!;
    expect(border.cloth / 25.4).toBeCloseTo(32.5);
    expect([border.yards, border.cost]).toEqual([1.125, 11.25]);
    expect(q.cloths.map((c) => c.what)).toEqual(['border', 'binding', 'backing']);
    expect(q.cost).toBe(q.cloths.reduce((t, c) => t + c.cost!, 0));
  });
  test('what cannot be is refused', () => {
    expect(() => planQuilt({ block: [foot, foot], rows: 0, columns: 2 })).toThrow(/row/);
    expect(() => planQuilt({ block: [foot, inches(10)], rows: 2, columns: 2, setting: 'on point' })).toThrow(/square/);
    expect(() => planQuilt({ block: [foot, foot], rows: 2, columns: 2, borders: [inches(-1)] })).toThrow(
      /zero or more/,
    );
  });
});
