// The pages of a yardage plan, as the person at the cutting table needs them.
import { describe, expect, test } from 'vitest';
import { type Drawing, type TextItem, walkItems } from '../../src/drawing/drawing.ts';
import { textCorners } from '../../src/drawing/fonts.ts';
import { printableFrame } from '../../src/drawing/paper.ts';
import { planYardage, type YardageOptions } from '../../src/fabric/plan-yardage.ts';
import { drawYardage } from '../../src/packet/yardage.ts';
import { inches } from '../../src/units.ts';
import { randomBlock } from './blocks.ts';

const one = randomBlock(4, 40);
const second = {
  ...randomBlock(6, 30),
  name: 'The shelter’s oldest and by far most patient donkey, asleep in the straw',
};
const texts = (p: Drawing): TextItem[] => [...walkItems(p.items)].filter((i) => i.kind === 'text');
const words = (p: Drawing): string[] => texts(p).map((t) => t.text);
const pagesOf = (options: YardageOptions, blocks = [one, second], system: 'inch' | 'metric' = 'inch'): Drawing[] =>
  drawYardage(planYardage(blocks, { ...options, cloth: { system, ...options.cloth } }), {
    title: 'shelter',
    system,
    paper: system === 'inch' ? 'letter' : 'a4',
  });
const kinds: [string, YardageOptions, (typeof one)[]][] = [
  ['one block', {}, [one]],
  ['a class', { class: { people: 12, spare: 1 }, cloth: { price: 11.5 } }, [one, second]],
  ['length kits', { class: { people: 3, kit: 'lengths' } }, [one]],
  [
    'a quilt',
    { quilt: { rows: 3, columns: 2, sashing: inches(2), cornerstones: true, borders: [50, 100] } },
    [one, second],
  ],
  ['a quilt on point', { quilt: { rows: 2, columns: 2, setting: 'on point' }, cloth: { price: 9 } }, [one]],
];

describe.each(kinds)('pages for %s', (_, options, blocks) => {
  const pages = pagesOf(options, blocks);

  test('no word leaves the printable page, in inches and in centimetres', () => {
    for (const [list, paper] of [
      [pages, 'letter'],
      [pagesOf(options, blocks, 'metric'), 'a4'],
    ] as const) {
      const f = printableFrame(paper, 9.525);
      for (const p of list)
        for (const t of texts(p))
          for (const [x, y] of textCorners(t)) {
            const off = Math.max(f.x - x, x - f.x - f.width, f.y - y, y - f.y - f.height);
            expect(off, `"${t.text}" on ${p.title}`).toBeLessThan(0.3);
          }
    }
  });

  test('the cautions stand before the first strip, and every page is numbered', () => {
    const cutting = pages.find((p) => p.title === 'Cutting plan')!;
    const list = words(cutting);
    const caution = list.findIndex((w) => /Rotary cutters cut fingers/.test(w));
    expect(caution).toBeGreaterThanOrEqual(0);
    expect(caution).toBeLessThan(list.findIndex((w) => /^\d+ patches;/.test(w)));
    pages.forEach((p, i) => {
      expect(words(p)).toContain(`page ${i + 1} of ${pages.length}`);
    });
  });
});

test('the picture of the cutting plan shows every patch once, in its place', () => {
  const plan = planYardage([one], {});
  const pages = pagesOf({}, [one]).filter((p) => p.title === 'Cutting plan');
  const shown = pages.flatMap(words).filter((w) => /^[A-Z]{1,2}\d+$/.test(w));
  expect(shown.sort()).toEqual(plan.shopping.patches.map((p) => `${p.section}${p.piece}`).sort());
});

test('labels: a bag for every section, with its patches in sewing order, and a label for every patch', () => {
  const pages = pagesOf({ class: { people: 5 } }).filter((p) => p.title === 'Labels');
  const all = pages.flatMap(words);
  for (const b of [one, second])
    for (const s of b.sections) {
      expect(all).toContain(s.id);
      for (const p of s.pieces) expect(all).toContain(`${s.id}${p.number}`);
    }
  const lists = all.filter((w) => /^A1 /.test(w));
  expect(lists[0]).toMatch(/^A1 \S+(, A2 \S+)?(, A3 \S+)?/);
});

test('a class has a ticket for each fabric with places for bolt and price, a card for each of a few people, and a supply list', () => {
  const plan = planYardage([one], { class: { people: 3, spare: 1 } });
  const pages = pagesOf({ class: { people: 3, spare: 1 } }, [one]);
  const on = (title: string): string[] => pages.filter((p) => p.title === title).flatMap(words);
  const fabrics = plan.shopping.fabrics.length;
  for (const blank of ['bolt', 'price', 'cut by'])
    expect(on('Cutting tickets').filter((w) => w === blank)).toHaveLength(fabrics);
  expect(on('Cards').filter((w) => w === 'Name')).toHaveLength(4);
  expect(on('Supplies').join(' ')).toMatch(/rules of the room/);
  expect(on('What to buy').join(' ')).toMatch(/packet: 4 times.*about [\d.]+ hours/);
});

test('strips that are alike are drawn once and counted', () => {
  const pages = pagesOf({ class: { people: 20, spare: 0 } }, [one]).filter((p) => p.title === 'Cutting plan');
  const plan = planYardage([one], { class: { people: 20, spare: 0 } });
  const list = pages.flatMap(words);
  const numbers = list.filter((w) => /^\d+(–\d+)?$/.test(w)).map((w) => w.split('–').map(Number));
  const drawn = numbers.reduce((t, [a, b]) => t + (b ?? a!) - a! + 1, 0);
  expect(drawn).toBe(plan.shopping.fabrics.reduce((t, f) => t + f.strips.length, 0));
  expect(numbers.length).toBeLessThan(drawn / 1.5);
});
