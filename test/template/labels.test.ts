import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { contrast } from '../../src/colour/difference.ts';
import { type TextItem, walkItems } from '../../src/drawing/drawing.ts';
import { textCorners } from '../../src/drawing/fonts.ts';
import { insideConvex, narrowestWidth } from '../../src/geometry/polygon.ts';
import { findContacts } from '../../src/template/contacts.ts';
import { turnLeftRight } from '../../src/template/printed-side.ts';
import { circleCorners } from '../../src/template/room.ts';
import { drawTemplate, legibleColour } from '../../src/template/template.ts';
import { least } from '../extremes.ts';
import { plannedBlock, randomBlock } from '../packet/blocks.ts';
import { crowdedTexts } from './readable.ts';

const OPTIONS = { allowance: 6.35, system: 'inch', fill: 'hatch' } as const;

function templatesOf(block: Block) {
  const printed = turnLeftRight(block);
  const contacts = findContacts(printed);
  return printed.sections.map((s) => drawTemplate(printed, s, contacts.get(s.id)!, OPTIONS));
}

const CASES: [string, () => Block][] = [
  ...[1, 2, 3, 4, 5, 6].map((seed): [string, () => Block] => [`80 pieces, seed ${seed}`, () => randomBlock(seed, 80)]),
  ...[11, 12, 13].map((seed): [string, () => Block] => [
    `small pieces, seed ${seed}`,
    () => randomBlock(seed, 90, { smallest: 6.4, size: [203.2, 203.2], corner: 18 }),
  ]),
  ...[21, 22].map((seed): [string, () => Block] => [
    `10 x 14 in, seed ${seed}`,
    () => randomBlock(seed, 40, { size: [254, 355.6], fabrics: 9 }),
  ]),
];

describe.each(CASES)('labels of a block of %s', (_, make) => {
  const block = make();
  const templates = templatesOf(block);

  test('no words within 1 mm of a line, none on other words', () => {
    const crowded = templates.flatMap((t) =>
      crowdedTexts(t.items, 1 - 1e-6, 0.5).map((c) => ({ in: t.section.id, ...c })),
    );
    expect(crowded).toEqual([]);
  });

  test('each piece has its number and code in it, or led out of it', () => {
    for (const t of templates) {
      const items = [...walkItems(t.items)];
      const numbers = items.filter((i): i is TextItem => i.kind === 'text' && i.role === 'piece-number');
      const dots = items.flatMap((i) => (i.kind === 'circle' && i.role === 'leader' ? [i.centre] : []));
      const lines = items.flatMap((i) => (i.kind === 'path' && i.role === 'leader' ? i.rings : []));
      expect(numbers.map((n) => Number(n.text)).sort((a, b) => a - b)).toEqual(t.section.pieces.map((p) => p.number));
      for (const p of t.section.pieces) {
        const label = numbers.find((n) => n.text === String(p.number))!;
        expect(label.size).toBeGreaterThanOrEqual(7);
        if (insideConvex(p.outline, label.at)) continue;
        expect(insideConvex(t.cut, label.at)).toBe(false);
        expect(dots.filter((d) => insideConvex(p.outline, d, -0.3))).toHaveLength(1);
        const dot = dots.find((d) => insideConvex(p.outline, d, -0.3))!;
        const line = lines.find((l) => l[0]![0] === dot[0] && l[0]![1] === dot[1])!;
        expect(Math.hypot(line[1]![0] - label.at[0], line[1]![1] - label.at[1])).toBeLessThan(12);
      }
      const codes = items.filter((i): i is TextItem => i.kind === 'text' && i.role === 'fabric-code');
      for (const c of codes) expect(c.size).toBeGreaterThanOrEqual(6);
      expect(codes).toHaveLength(t.section.pieces.length);
    }
  });

  test('section letter once, arrow once, piece 1 ringed, every shared stretch says its join', () => {
    for (const t of templates) {
      const items = [...walkItems(t.items)];
      expect(items.filter((i) => i.kind === 'text' && i.role === 'section-letter')).toHaveLength(1);
      expect(items.filter((i) => i.role === 'arrow')).toHaveLength(2);
      expect(items.filter((i) => i.role === 'ring')).toHaveLength(1);
    }
  });

  test('words and rings lie in the room that the template takes on its sheet', () => {
    for (const t of templates)
      for (const it of walkItems(t.items)) {
        if (it.kind !== 'text' && it.role !== 'ring') continue;
        const reach =
          it.kind === 'text' ? textCorners(it) : it.kind === 'circle' ? circleCorners(it.centre, it.radius) : [];
        expect(t.parts.some((p) => reach.every((q) => insideConvex(p, q, 0.15)))).toBe(true);
      }
  });

  test('no hatch in pieces under 1/2 in', () => {
    for (const t of templates)
      for (const p of t.section.pieces) {
        if (narrowestWidth(p.outline) >= 12.7) continue;
        for (const it of walkItems(t.items))
          if (it.kind === 'path' && it.role === 'hatch')
            for (const r of it.rings) for (const q of r) expect(insideConvex(p.outline, q, -0.01)).toBe(false);
      }
  });
});

// "a piece 1/4 x 3 in: its label is still readable or led out" (check values, what people complain of)
test('a piece 1/4 x 3 in has a readable label', () => {
  const block = plannedBlock(['x', 30, 0, ['x', 36.35, 1, 0]], [76.2, 76.2], 'sliver', 2);
  const [t] = templatesOf(block);
  expect(crowdedTexts(t!.items, 1 - 1e-6, 0.5)).toEqual([]);
  const sizes = [...walkItems(t!.items)].flatMap((i) =>
    i.kind === 'text' && i.role === 'piece-number' ? [i.size] : [],
  );
  expect(sizes).toHaveLength(3);
  expect(least(sizes)).toBeGreaterThanOrEqual(7);
});

// WCAG 2, success criterion 1.4.6: a contrast of 7 for words of any size
test.each(['#000000', '#3a3a38', '#1a2b6e', '#7a1020', '#f4ecd8'])(
  'words can be read on a piece filled with %s',
  (colour) => {
    for (const white of [0.35, 0.75])
      expect(contrast(legibleColour(colour, white), '#000000')).toBeGreaterThanOrEqual(7);
  },
);
