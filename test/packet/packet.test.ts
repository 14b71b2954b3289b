import { PDFiumLibrary } from '@hyzyla/pdfium';
import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { type Drawing, type PathItem, walkItems } from '../../src/drawing/drawing.ts';
import type { Paper } from '../../src/drawing/paper.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { drawPixels } from '../../src/drawing/png.ts';
import { boundsOf } from '../../src/geometry/polygon.ts';
import { drawPreview } from '../../src/packet/block-picture.ts';
import { drawCover } from '../../src/packet/cover.ts';
import { drawPatches } from '../../src/packet/cutting.ts';
import { Flow } from '../../src/packet/flow.ts';
import { buildJoinTree, countLeaves, type JoinNode, levelOf, partTree } from '../../src/packet/join-tree.ts';
import { drawPacket, writePacket } from '../../src/packet/packet.ts';
import { drawPlacement } from '../../src/packet/placement.ts';
import { findShadows } from '../../src/packet/shadows.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { drawPractice } from '../../src/template/practice.ts';
import { inches } from '../../src/units.ts';
import { greatest, least } from '../extremes.ts';
import { cutLineFaults } from '../template/cut-line-faults.ts';
import { readTemplates } from '../template/printed.ts';
import { letterF, plannedBlock, randomBlock } from './blocks.ts';
import { sewingLines, unreadable } from './judge-packet.ts';
import { readPdf } from './read-back.ts';
import { plainShopping } from './shopping.ts';

function inputFor(block: Block, paper: Paper = 'letter') {
  const common = { paper, margin: inches(3 / 8), allowance: inches(1 / 4), system: 'inch' as const };
  const templates = layOutTemplates(block, common);
  return { ...common, block, templates, shopping: plainShopping(block), notes: ['One small thing was lost.'] };
}

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

  test('has its pages in the order of use, numbered', () => {
    const input = inputFor(randomBlock(4, 40));
    const pages = drawPacket(input);
    const titles = pages.map(
      (p) => p.items.flatMap((i) => (i.kind === 'text' && i.font === 'bold' ? [i.text] : []))[0],
    );
    const order = ['random-4', 'Key to the fabrics', 'Before you start: blades, heat and needles'];
    expect(titles.slice(0, 3)).toEqual(order);
    expect(titles.indexOf('Joining the sections')).toBeGreaterThan(titles.indexOf('Sections in sewing order'));
    expect(titles.indexOf('Cutting list')).toBeGreaterThan(titles.indexOf('Joining the sections'));
    expect(titles.at(-1)).toBe('To colour in');
    const all = pages.flatMap((p) => p.items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])));
    expect(all).toContain(`page ${pages.length} of ${pages.length}`);

    // the cover says where each part begins
    const words = pages.map((p) => p.items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])).join(' '));
    const starts: [part: string, title: string][] = [
      ['key', 'Key to the fabrics'],
      ['joining', 'Joining the sections'],
      ['cutting list', 'Cutting list'],
      ['to colour in', 'To colour in'],
    ];
    for (const [part, title] of starts)
      expect(Number(new RegExp(`${part} (\\d+)`).exec(words[0]!)?.[1])).toBe(titles.indexOf(title) + 1);
    const sheets = /template sheets \(on thin paper\) (\d+)(?:–(\d+))?/.exec(words[0]!)!;
    const first = pages.findIndex((p) => p.items.some((i) => i.kind === 'group' && i.name.startsWith('section ')));
    expect(Number(sheets[1])).toBe(first + 1);
    expect(Number(sheets[2] ?? sheets[1])).toBe(first + input.templates.sheets.length);
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

describe('pages of their own', () => {
  const wordsOf = (pages: readonly Drawing[]): string =>
    pages.flatMap((p) => [...walkItems(p.items)].flatMap((i) => (i.kind === 'text' ? [i.text] : []))).join(' ');

  test('details without a piece lie at full size, at their place, and are named with it', () => {
    const block: Block = {
      ...randomBlock(4, 40),
      marks: [
        { at: [50, 60], width: 8, fabric: 'f5' },
        {
          at: [280, 290],
          width: 10,
          fabric: 'f2',
          outline: [
            [275, 285],
            [286, 288],
            [280, 296],
          ],
        },
      ],
    };
    const pages = drawPlacement({ ...inputFor(block), notes: [] })!.drawings('x');
    const items = pages.flatMap((p) => [...walkItems(p.items)]);
    const dashed = items.filter((i) => i.role === 'outline' && i.kind !== 'text' && 'stroke' in i && i.stroke?.dash);
    expect(dashed).toHaveLength(2);
    const ring = dashed.find((i) => i.kind === 'path') as PathItem;
    const side = distance(ring.rings[0]![0]!, ring.rings[0]![1]!);
    expect(side).toBeCloseTo(Math.hypot(11, 3), 6);
    // 50 mm = 31.5 sixteenths of an inch, 60 mm = 37.8
    expect(wordsOf(pages)).toMatch(/its middle 1 15\/16 in from the left edge and 2 3\/8 in from the top/);
    expect(drawPlacement({ ...inputFor(randomBlock(4, 40)), notes: [] })).toBeUndefined();
  });

  test('the joins are a tree: every section a leaf once, every join once, its children joined before', () => {
    const block = randomBlock(8, 120);
    const tree = buildJoinTree(block);
    const seen: number[] = [];
    const leaves: string[] = [];
    const visit = (n: JoinNode): void => {
      for (const c of n.children) {
        visit(c);
        if (c.join) expect(c.join.number).toBeLessThan(n.join!.number);
      }
      if (n.join) seen.push(n.join.number);
      else leaves.push(...n.ids);
    };
    visit(tree);
    expect(seen.sort((a, b) => a - b)).toEqual(block.joins.map((j) => j.number));
    expect(leaves.sort()).toEqual(block.sections.map((s) => s.id).sort());
    for (const figure of partTree(tree, 7, 4)) {
      expect(countLeaves(figure)).toBeLessThanOrEqual(7);
      expect(levelOf(figure)).toBeLessThanOrEqual(4);
    }
    const joins = partTree(tree, 7, 4).flatMap(function all(n: JoinNode): number[] {
      return [...n.children.flatMap(all), ...(n.join ? [n.join.number] : [])];
    });
    expect(joins.sort((a, b) => a - b)).toEqual(block.joins.map((j) => j.number));
  });

  // trade rule: the allowance lies under the piece added last; light over dark with an L* gap over 25 shows.
  test('light over dark is named, dark over light is not', () => {
    const block = plannedBlock(['x', 40, 1, ['x', 80, 0, 1]], [120, 100], 'shadow');
    block.fabrics[0]!.colour = '#ffffff';
    block.fabrics[1]!.colour = '#202020';
    const [s] = block.sections;
    const want = s!.pieces.filter((p) => p.seam && p.fabric === 'f1').map((p) => p.number);
    expect(want).toHaveLength(1);
    expect(findShadows(block, s!).map((v) => v.piece)).toEqual(want);
    const other = structuredClone(block);
    other.fabrics[0]!.colour = '#404040';
    expect(findShadows(other, s!)).toEqual([]);
  });

  test('the practice section can be sewn and is printed at true size', () => {
    const practice = drawPractice({ allowance: inches(1 / 4), system: 'inch' });
    // its paper is called "Try", so that nobody takes it for a section of the block
    const sections = practice.block.sections.map((s) => ({ ...s, id: 'A' }));
    expect(checkBlock({ ...practice.block, sections }).faults).toEqual([]);
    const outline = [...walkItems(practice.template.items)].find((i) => i.role === 'sewing-line') as PathItem;
    const b = boundsOf(outline.rings[0]!);
    expect([b.maxX - b.minX, b.maxY - b.minY].map((v) => Math.round(v * 1e4) / 1e4)).toEqual([76.2, 63.5]);
    const page = drawPacket({ ...inputFor(letterF()), practice });
    expect(wordsOf(page)).toMatch(/Three pieces to try first/);
  });
});

/** Grey values of a picture, cut to a box and brought to n x n cells. */
type Grey = number[];
function greyCells(
  image: { width: number; height: number; pixels: Uint8Array },
  box: [number, number, number, number],
  n: number,
): Grey {
  const out: Grey = [];
  for (let r = 0; r < n; r++)
    for (let c = 0; c < n; c++) {
      const x = Math.floor(box[0] + ((c + 0.5) / n) * (box[2] - box[0]));
      const y = Math.floor(box[1] + ((r + 0.5) / n) * (box[3] - box[1]));
      const at = 4 * (y * image.width + x);
      out.push((image.pixels[at]! + image.pixels[at + 1]! + image.pixels[at + 2]!) / 3);
    }
  return out;
}
const turned = (g: Grey, n: number): Grey => g.map((_, i) => g[(n - 1 - (i % n)) * n + Math.floor(i / n)]!);
const mirrored = (g: Grey, n: number): Grey => g.map((_, i) => g[Math.floor(i / n) * n + (n - 1 - (i % n))]!);
const likeness = (a: Grey, b: Grey): number => {
  // dark fabrics are printed pale enough for black words: no darker than a grey of about 150
  const dark = (v: number): boolean => v < 200;
  return a.filter((v, i) => dark(v) === dark(b[i]!)).length / a.length;
};

test('a face that reads F is printed as its mirror image, and never the right way round', async () => {
  const block = letterF();
  const sheets = layOutTemplates(block, {
    paper: 'letter',
    margin: inches(3 / 8),
    allowance: inches(1 / 4),
    system: 'inch',
    fill: 'colour',
  });
  const pdf = await writePdf(sheets.sheets, { title: 'F' });
  const { pages } = await readPdf(pdf);
  const ring = sewingLines(pages[0]!)[0]!.rings[0]!;
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(Buffer.from(pdf));
  const rendered = await document.getPage(0).render({ scale: 1, render: 'bitmap' });
  const xs = ring.map((q) => q[0]);
  const ys = ring.map((q) => rendered.height - q[1]);
  const page = { width: rendered.width, height: rendered.height, pixels: rendered.data };
  const n = 40;
  const printed = greyCells(page, [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)], n);
  document.destroy();
  library.destroy();
  const face = drawPixels(drawPreview(block), 60);
  let right = greyCells(face, [0, 0, face.width, face.height], n);
  const straight: number[] = [];
  const reversed: number[] = [];
  for (let k = 0; k < 4; k++) {
    straight.push(likeness(printed, right));
    reversed.push(likeness(printed, mirrored(right, n)));
    right = turned(right, n);
  }
  expect(greatest(reversed)).toBeGreaterThan(0.93);
  expect(greatest(straight)).toBeLessThan(0.85);
});

// measures with two fractions and a mark are half as wide again as most
test.each(['letter', 'a4', 'both'] as const)(
  'large patches keep off their neighbours in the cutting list: %s',
  (paper) => {
    const wide = ['edge', 'upright', 'seam'] as const;
    const block = randomBlock(3, 40);
    const { patches, ...shopping } = plainShopping(block);
    const large = patches.map((p, i) => ({ ...p, width: 266.7, length: 298.45, along: wide[i % 3]! }));
    const flow = new Flow(paper, inches(3 / 8));
    drawPatches(
      ...([flow, { ...shopping, patches: large }, block.name] as const),
      ...([(f: string) => f, block.sections.map((s) => s.id), 'inch'] as const),
    );
    const pages = flow.drawings(block.name);
    expect(
      [...walkItems(pages[0]!.items)].filter((i) => i.kind === 'text' && i.text.includes('11 3/4 in')).length,
    ).toBeGreaterThan(20);
    expect(pages.flatMap((page) => unreadable(page, 0.35))).toEqual([]);
  },
);
