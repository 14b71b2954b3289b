import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { walkItems } from '../../src/drawing/drawing.ts';
import { paperSize, printableFrame } from '../../src/drawing/paper.ts';
import { areaOf, boundsOf, type Polygon } from '../../src/geometry/polygon.ts';
import { findContacts } from '../../src/template/contacts.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { nestShapes } from '../../src/template/nest.ts';
import { packBoxes } from '../../src/template/pack-boxes.ts';
import { turnLeftRight } from '../../src/template/printed-side.ts';
import { drawTemplate } from '../../src/template/template.ts';
import { templateArea, templateFrame } from '../../src/template/template-area.ts';
import { inches } from '../../src/units.ts';
import { letterF, plannedBlock, randomBlock } from '../packet/blocks.ts';
import { unreadable } from '../packet/judge-packet.ts';
import { twelveBlocks } from '../packet/twelve-blocks.ts';
import { toRing } from './cut-line-faults.ts';

const OPTIONS = { paper: 'letter', margin: inches(3 / 8), allowance: inches(1 / 4), system: 'inch' } as const;

describe('sheets', () => {
  const blocks = [1, 2, 3, 4].map((seed) => randomBlock(seed, 80));
  test.each(blocks.map((b) => [b.name, b] as [string, Block]))(
    '%s: every template once, 3 mm apart, on the paper',
    (_, block) => {
      const { sheets, sheetsOf, split } = layOutTemplates(block, OPTIONS);
      const fits = block.sections.filter((s) => !split.includes(s.id));
      const frame = printableFrame(OPTIONS.paper, OPTIONS.margin);
      let seen = 0;
      for (const sheet of sheets) {
        const cuts = sheet.items.flatMap((g) =>
          g.kind === 'group' && !g.name.includes('part')
            ? [...walkItems(g.items)].flatMap((i) => (i.role === 'cut-line' && i.kind === 'path' ? [i.rings[0]!] : []))
            : [],
        );
        seen += cuts.length;
        for (const c of cuts) {
          const b = boundsOf(c);
          expect(b.minX).toBeGreaterThan(frame.x - 0.001);
          expect(b.minY).toBeGreaterThan(frame.y - 0.001);
          expect(b.maxX).toBeLessThan(frame.x + frame.width + 0.001);
          expect(b.maxY).toBeLessThan(frame.y + frame.height + 0.001);
          for (const other of cuts)
            if (other !== c) for (const q of c) expect(toRing(q, other)).toBeGreaterThan(3 - 0.001);
        }
      }
      expect(seen).toBe(fits.length);
      for (const s of fits) expect(sheetsOf[s.id]).toHaveLength(1);
    },
  );

  test.each([...blocks, randomBlock(7, 160, { size: [508, 508] })].map((b) => [b.name, b] as [string, Block]))(
    '%s: sheets come in the order of their first sections, and say theirs in the order of the block',
    (_, block) => {
      const { sheets, sheetsOf } = layOutTemplates(block, OPTIONS);
      expect(sheets.length).toBeGreaterThan(3);
      const ids = block.sections.map((s) => s.id);
      // parts of a section that is split go by its name
      const shown = sheets.map((s) => [
        ...new Set(s.items.flatMap((g) => (g.kind === 'group' ? (/^section (\w+)/.exec(g.name)?.slice(1) ?? []) : []))),
      ]);
      for (const own of shown) expect(own).toEqual(ids.filter((id) => own.includes(id)));
      const first = shown.map((own) => ids.indexOf(own[0]!));
      expect(first).toEqual([...first].sort((a, b) => a - b));
      expect(first[0]).toBe(0);
      for (const id of ids) expect(sheetsOf[id]).toEqual(shown.flatMap((own, i) => (own.includes(id) ? [i + 1] : [])));
      for (const [i, sheet] of sheets.entries()) {
        const words = [...walkItems(sheet.items)].flatMap((w) => (w.kind === 'text' ? [w.text] : []));
        expect(words).toContain(`template sheet ${i + 1} of ${sheets.length}: ${shown[i]!.join(', ')}`);
      }
    },
  );

  test('sections follow one another from sheet to sheet, for one sheet more at most, and what that costs is said', () => {
    let [ordered, tried] = [0, 0];
    for (const block of twelveBlocks()) {
      const { sheets, sheetsOf, split, moreForOrder } = layOutTemplates(block, OPTIONS);
      expect(moreForOrder).toBeLessThanOrEqual(1);
      if (split.length) continue;
      tried++;
      const on = block.sections.map((s) => sheetsOf[s.id]![0]!);
      if (on.every((n, i) => i === 0 || n >= on[i - 1]!)) ordered++;
      else expect(sheets.length).toBeGreaterThan(1);
    }
    expect(tried).toBeGreaterThan(3);
    // where order would take two sheets more, it gives way
    expect(ordered).toBeGreaterThanOrEqual(tried - 2);
  });

  test('also templates that are packed as boxes come in order', () => {
    const [width, height] = templateArea('letter', inches(3 / 8));
    const shapes = blocks[0]!.sections.map((s) => ({ id: s.id, parts: [s.outline] }));
    const places = packBoxes(shapes, { width, height }, 3);
    expect(places.length).toBe(shapes.length);
    expect(places.at(-1)!.sheet).toBeGreaterThan(0);
    const sheets = places.map((p) => p.sheet);
    expect(sheets).toEqual([...sheets].sort((a, b) => a - b));
  });

  // house rule: at least 15 % fewer sheets than a packer of rectangles on the smallest boxes
  test('nesting saves at least 15 % of the sheets that packed boxes take', () => {
    const frame = templateFrame('letter', inches(3 / 8));
    const [width, height] = templateArea('letter', inches(3 / 8));
    const ruler: Polygon = [
      [0, frame.ruler.y - frame.y],
      [frame.ruler.width, frame.ruler.y - frame.y],
      [frame.ruler.width, frame.height],
      [0, frame.height],
    ];
    let [boxes, nested] = [0, 0];
    const sheets = (places: readonly { sheet: number }[]): number => Math.max(...places.map((p) => p.sheet)) + 1;
    for (let seed = 31; seed < 37; seed++) {
      const block = turnLeftRight(randomBlock(seed, 80));
      const contacts = findContacts(block);
      const shapes = block.sections.map((s) => ({
        id: s.id,
        parts: drawTemplate(block, s, contacts.get(s.id)!, { allowance: 6.35, system: 'inch', fill: 'none' }).parts,
      }));
      // the boxes may come in any order: the best of two is taken
      const area = (P: Polygon): number => {
        const b = boundsOf(P);
        return (b.maxX - b.minX) * (b.maxY - b.minY);
      };
      const largestFirst = [...shapes].sort((a, b) => area(b.parts[0]!) - area(a.parts[0]!));
      const inBoxes = [shapes, largestFirst].map((list) => packBoxes(list, { width, height }, 3));
      const inNest = nestShapes(shapes, frame, { gap: 3, fixed: [ruler], tries: 1500 });
      expect(inNest.length).toBeGreaterThanOrEqual(inBoxes[0]!.length);
      boxes += Math.min(...inBoxes.map(sheets));
      nested += sheets(inNest);
    }
    expect(nested).toBeLessThanOrEqual(0.85 * boxes);
  });

  test('only some sections, for a spoiled paper', () => {
    const { sheets, sheetsOf } = layOutTemplates(blocks[1]!, { ...OPTIONS, sections: ['B', 'D'] });
    expect(Object.keys(sheetsOf).sort()).toEqual(['B', 'D']);
    const names = sheets.flatMap((s) =>
      s.items.flatMap((i) => (i.kind === 'group' && i.name.startsWith('section') ? [i.name] : [])),
    );
    expect(names.sort()).toEqual(['section B', 'section D']);
  });

  test('unmirrored sheets say that they are not for sewing', () => {
    const { sheets } = layOutTemplates(letterF(), { ...OPTIONS, unmirrored: true });
    const words = [...walkItems(sheets[0]!.items)].flatMap((i) => (i.kind === 'text' ? [i.text] : [])).join(' ');
    expect(words).toContain('not for sewing');
  });
});

describe('a section too large for the paper', () => {
  const block = plannedBlock(['x', 100, 0, ['x', 200, 1, 0]], [304.8, 304.8], 'large');
  const { sheets, split, sheetsOf } = layOutTemplates(block, OPTIONS);

  test('is printed in parts that overlap and cover it, each on the paper', () => {
    expect(split).toEqual(['A']);
    expect(sheetsOf.A!.length).toBeGreaterThan(1);
    const [w, h] = paperSize('letter');
    let area = 0;
    const clips = sheets.flatMap((sheet) =>
      sheet.items.flatMap((g) => (g.kind === 'group' ? g.items.flatMap((i) => (i.kind === 'clip' ? [i] : [])) : [])),
    );
    expect(clips.length).toBeGreaterThan(1);
    for (const clip of clips) {
      const b = boundsOf(clip.ring);
      expect(b.minX).toBeGreaterThan(0);
      expect(b.minY).toBeGreaterThan(0);
      expect(b.maxX).toBeLessThan(w);
      expect(b.maxY).toBeLessThan(h);
      area += areaOf(clip.ring);
      expect([...walkItems(clip.items)].filter((i) => i.role === 'sewing-line')).toHaveLength(1);
    }
    expect(area).toBeGreaterThan((304.8 + 12.7) ** 2);
  });
});

// three and more parts: those in the middle overlap on two sides and must be no wider for it
test.each([440, 500, 560, 620, 680, 740, 800, 860])('every part of a section %d mm long fits the paper', (length) => {
  const block = plannedBlock(['x', 100, 0, 1], [length, 200], 'long');
  for (const paper of ['letter', 'a4', 'both'] as const) {
    const { sheetsOf, split } = layOutTemplates(block, { ...OPTIONS, paper });
    expect(split).toEqual(['A']);
    expect(sheetsOf.A!.length).toBeGreaterThan(1);
  }
});

test('parts of large sections are laid on sheets together, and say their section and edge', () => {
  const block = plannedBlock(['x', 60, 0, ['x', 120, ['y', 100, 1, 0], ['x', 250, 1, 0]]], [400, 300], 'strips');
  const { sheets, split, moreForOrder } = layOutTemplates(block, OPTIONS);
  expect(split.length).toBeGreaterThan(0);
  const parts = sheets
    .flatMap((s) => s.items)
    .filter((g) => g.kind === 'group' && g.name.startsWith('section ')).length;
  expect(parts).toBeGreaterThan(block.sections.length);
  expect(sheets.length - moreForOrder).toBeLessThan(parts);
  const words = sheets.flatMap((s) => [...walkItems(s.items)].flatMap((i) => (i.kind === 'text' ? [i.text] : [])));
  for (const id of split.slice(0, 2))
    expect(words.filter((w) => w === `section ${id}: paste on edge 1`).length).toBeGreaterThan(1);
  // the narrow one has no room for more
  expect(words.filter((w) => /edge 1$/.test(w)).length).toBeGreaterThanOrEqual(2 * split.length);
});

// a label led out of a narrow piece must not be pushed off the paper that its section just fits
test.each([0.5, 9])('labels led out stay on the paper: %d mm to spare', (spare) => {
  const [w, h] = templateArea('letter', OPTIONS.margin);
  const size: [number, number] = [w - 12.7 - spare, h - 12.7 - spare];
  const { sheets } = layOutTemplates(plannedBlock(['y', 4, 0, ['y', 60, 1, 0]], size, 'full'), OPTIONS);
  expect(sheets.flatMap((s) => unreadable(s, 0.35))).toEqual([]);
});

// a section too large both ways has two lines to paste on, and each line's words and crosses must leave the other's alone
test.each([
  [520, 400],
  [700, 300],
])('words of a parted section lie on no line: block of %d x %d mm', (w, h) => {
  const cuts = ['x', 0.24 * w, ['y', 0.3 * h, 0, 1], ['x', 0.93 * w, ['y', 0.35 * h, 0, 1], 1]] as const;
  const block = plannedBlock(cuts as never, [w, h], 'large');
  const { sheets, split } = layOutTemplates(block, OPTIONS);
  expect(split.length).toBeGreaterThan(0);
  expect(sheets.flatMap((s) => unreadable(s, 0.35))).toEqual([]);
});
