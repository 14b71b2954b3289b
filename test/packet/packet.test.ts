import { describe, expect, test } from 'vitest';
import { walkItems } from '../../src/drawing/drawing.ts';
import type { Paper } from '../../src/drawing/paper.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { drawCover } from '../../src/packet/cover.ts';
import { drawPacket, writePacket } from '../../src/packet/packet.ts';
import { drawPractice } from '../../src/template/practice.ts';
import { inches } from '../../src/units.ts';
import { greatest, least } from '../extremes.ts';
import { cutLineFaults } from '../template/cut-line-faults.ts';
import { readTemplates } from '../template/printed.ts';
import { letterF, randomBlock } from './blocks.ts';
import { unreadable } from './judge-packet.ts';
import { inputFor } from './packet-input.ts';
import { readPdf } from './read-back.ts';

const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!);
const edges = (ring: readonly (readonly number[])[]) => ring.map((a, i) => [a, ring[(i + 1) % ring.length]!] as const);

describe('the packet, read back', () => {
  // ISO 216 and ANSI Y14.1, in units of 1/72 in (ISO 32000)
  const SIZES: [Paper, number, number][] = [
    ['letter', 612, 792],
    ['legal', 612, 1008],
    ['tabloid', 792, 1224],
    ['a4', 595.2756, 841.8898],
    ['a3', 841.8898, 1190.5512],
  ];
  test.each(SIZES)('pages of %s have the standard size', async (paper, width, height) => {
    const { pages } = await readPdf(await writePacket(inputFor(letterF(), paper)));
    for (const p of pages) {
      expect(p.view[2]).toBeCloseTo(width, 3);
      expect(p.view[3]).toBeCloseTo(height, 3);
    }
  });

  test('what is printed for both papers lies within 7 1/2 x 10 1/4 in', async () => {
    const { pages } = await readPdf(await writePacket(inputFor(randomBlock(3, 40), 'both')));
    const drawn = pages.map((p) => p.strokes.flatMap((s) => s.rings.flat())).filter((all) => all.length);
    expect(drawn.length).toBeGreaterThan(pages.length / 2);
    for (const all of drawn) {
      const xs = all.map((q) => q[0]);
      const ys = all.map((q) => q[1]);
      expect(greatest(xs) - least(xs)).toBeLessThanOrEqual(7.5 * 72 + 0.01);
      expect(greatest(ys) - least(ys)).toBeLessThanOrEqual(10.25 * 72 + 0.01);
    }
  });

  test('every template sheet has a square of 1 in and rulers of 4 in across and down', async () => {
    const input = inputFor(randomBlock(2, 60));
    const { pages } = await readPdf(await writePdf(input.templates.sheets, { title: 'sheets' }));
    expect(pages.length).toBeGreaterThan(2);
    for (const p of pages) {
      const sides = p.strokes
        .filter((s) => s.closed && s.rings[0]!.length === 4)
        .map((s) => edges(s.rings[0]!).map(([a, b]) => distance(a, b)));
      expect(sides.some((four) => four.every((l) => Math.abs(l - 72) < 0.005))).toBe(true);
      const straight = p.strokes.flatMap((s) =>
        s.rings.length === 1 && s.rings[0]!.length === 2 ? [s.rings[0]!] : [],
      );
      const long = straight.filter(([a, b]) => Math.abs(distance(a!, b!) - 288) < 0.005);
      expect(long.some(([a, b]) => Math.abs(a![0] - b![0]) < 0.001)).toBe(true);
      expect(long.some(([a, b]) => Math.abs(a![1] - b![1]) < 0.001)).toBe(true);
    }
  });

  test('each cut line lies 1/4 in outside its sewing line, along the whole length of both', async () => {
    const block = randomBlock(5, 80);
    const pdf = await writePdf(inputFor(block).templates.sheets, { title: 'sheets' });
    const templates = await readTemplates(pdf, inches(1 / 4));
    expect(templates).toHaveLength(block.sections.length);
    expect(templates.flatMap((t) => cutLineFaults(t.outline, t.cut, inches(1 / 4)))).toEqual([]);
  });

  test('every piece carries its number and every fabric code is there as often as it is used', async () => {
    const block = randomBlock(7, 80, { smallest: 9.6 });
    const input = inputFor(block);
    const { pages } = await readPdf(await writePdf(input.templates.sheets, { title: 'sheets' }));
    const words = pages.flatMap((p) => p.words);
    const count = (w: string): number => words.filter((v) => v === w).length;
    // the rulers carry figures too: 1 2 3 in and 2 4 6 8 cm, twice a sheet
    const ruler: Record<string, number> = { '1': 1, '2': 2, '3': 1, '4': 1, '6': 1, '8': 1 };
    for (let n = 1; n <= 10; n++) {
      const wanted = block.sections.filter((s) => s.pieces.length >= n).length;
      expect(count(String(n))).toBe(wanted + (ruler[String(n)] ?? 0) * 2 * pages.length);
    }
    for (const f of block.fabrics)
      expect(count(f.code)).toBe(block.sections.flatMap((s) => s.pieces).filter((p) => p.fabric === f.id).length);
  });

  test('asks for printing at 100 % on one side, embeds its fonts, and is the same twice', async () => {
    const input = inputFor(randomBlock(9, 30));
    const first = await writePacket(input);
    const { preferences } = await readPdf(first);
    expect(preferences).toMatchObject({ PrintScaling: 'None', Duplex: 'Simplex' });
    const raw = Buffer.from(first).toString('latin1');
    expect(raw.match(/\/FontFile2/g)).toHaveLength(2);
    expect(raw).not.toContain('Helvetica');
    const second = await writePacket(inputFor(randomBlock(9, 30)));
    expect(Buffer.compare(Buffer.from(first), Buffer.from(second))).toBe(0);
  });

  const wordsOf = (pages: ReturnType<typeof drawPacket>): string[] =>
    pages.map((p) => p.items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])).join(' '));

  test('has its pages in the order of use, numbered, and the cover says where each part is', () => {
    const input = {
      ...inputFor(randomBlock(4, 40)),
      practice: drawPractice({ allowance: inches(1 / 4), system: 'inch' }),
    };
    const pages = drawPacket(input);
    const words = wordsOf(pages);
    const parts: [part: string, title: string][] = [
      ['key', 'Key to the fabrics'],
      ['cutting', 'Each strip runs across the fabric'],
      ['the block from the front', 'The block from the front'],
      ['before you sew', 'Before you sew: heat and needles'],
      ['practice', 'Practice section'],
      ['sections', 'Sections in sewing order'],
      ['joining', 'Joining the sections'],
      ['templates', ''],
      ['finishing and care', 'Finishing and care'],
      ['three ideas', 'Three ideas'],
      ['to color in', 'To color in'],
    ];
    const said = parts.map(([part]) => Number(new RegExp(`${part} (\\d+)`).exec(words[0]!)?.[1]));
    expect(said).toEqual([...said].sort((a, b) => a - b));
    parts.forEach(([part, title], i) => {
      expect(words[said[i]! - 1], part).toContain(title);
    });
    const first = pages.findIndex((p) => p.items.some((i) => i.kind === 'group' && i.name === 'section A'));
    expect(said[7]).toBe(first + 1);
    expect(words.at(-1)).toContain(`page ${pages.length} of ${pages.length}`);
    // templates go on one side of the paper; the rest may be printed on both
    expect(words[0]).toContain(
      `Pages ${first + 1}–${first + input.templates.sheets.length}, the templates, go on one side`,
    );
  });

  test('a short packet has at most 5 pages before the templates: cover with the key, diagram, cutting', () => {
    const input = { ...inputFor(randomBlock(5, 80)), packet: 'short' as const };
    const words = wordsOf(drawPacket(input));
    expect(words[0]).toContain('Key to the fabrics');
    expect(words[1]).toContain('The block from the front');
    expect(words[2]).toContain('Cutting');
    expect(words.length - input.templates.sheets.length).toBeLessThanOrEqual(5);
    // lines to stitch and details follow the cutting list, wherever on its page that ends
    for (const pieces of [20, 30, 40, 50, 60, 70, 80]) {
      const block = {
        ...randomBlock(5, pieces),
        marks: [{ at: [50, 60] as [number, number], width: 8, fabric: 'f1' }],
        stitches: [[[40, 40] as [number, number], [90, 60] as [number, number]]],
      };
      const pages = drawPacket({ ...inputFor(block), packet: 'short' });
      expect(pages.flatMap((p) => unreadable(p, 0.05).filter((u) => u.includes('leaves the page')))).toEqual([]);
      for (const it of pages.flatMap((p) => [...walkItems(p.items)]))
        if (it.kind === 'path' && it.stroke?.dash) expect(Math.min(...it.stroke.dash)).toBeGreaterThan(0);
    }
    expect(words.join(' ')).not.toMatch(/Practice section|Sections in sewing order|Three ideas/);
  });

  test('the cover is one page where a smaller face makes room for what there is to say', () => {
    const words =
      'A small detail got no piece of its own: ask for more pieces, or stitch or ink it on the finished block.';
    const notes = (n: number): string[] => Array.from({ length: n }, (_, i) => `${i + 1}. ${words}`);
    const faceOf = (n: number): { height: number; pages: number } => {
      const cover = drawCover({ ...inputFor(randomBlock(4, 40)), notes: notes(n) });
      const face = cover.drawings('')[0]!.items.find((i) => i.kind === 'path' && i.role === 'box');
      const ys = face?.kind === 'path' ? face.rings.flat().map((p) => p[1]) : [];
      return { height: greatest(ys) - least(ys), pages: cover.length };
    };
    const full = faceOf(0);
    expect(full.pages).toBe(1);
    const many = faceOf(9);
    expect(many.pages).toBe(1);
    expect(many.height).toBeLessThan(full.height);
    // too much for one page: then the face is not made small for nothing
    const tooMany = faceOf(40);
    expect(tooMany.pages).toBe(2);
    expect(tooMany.height).toBe(full.height);
  });
});
