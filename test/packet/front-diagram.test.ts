// What helps a sewer find the way: the labelled front, the maps, the patches in the steps, the pages to color. Read back from the PDF.
import { beforeAll, describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { boundsOf, distance, type Point } from '../../src/geometry/polygon.ts';
import { layOutPacket, writePacket } from '../../src/packet/packet.ts';
import { drawPractice } from '../../src/template/practice.ts';
import { inches } from '../../src/units.ts';
import { letterF } from './blocks.ts';
import { inputFor } from './packet-input.ts';
import { type ReadPage, readPdf } from './read-back.ts';
import { twelveBlocks } from './twelve-blocks.ts';

const PT = 72 / 25.4;
const BLOCKS = twelveBlocks().filter((_, i) => i % 3 === 0);

/** Closed rings of a page that are of this width in mm; mm of the page, y down. */
const rings = (p: ReadPage, width: number): { ring: Point[]; fill?: string }[] =>
  p.strokes
    .filter((s) => s.closed && Math.abs(s.width / PT - width) < 0.005)
    .flatMap((s) =>
      s.rings
        .filter((r) => r.length > 2)
        .map((r) => ({
          ring: r.map(([x, y]): Point => [x / PT, (p.view[3]! - y) / PT]),
          ...(s.fill && { fill: s.fill }),
        })),
    );

/** Whether a ring is this outline, scaled and moved, not turned and not mirrored. */
function shows(ring: readonly Point[], outline: readonly Point[]): boolean {
  if (ring.length !== outline.length) return false;
  const [a, b] = [boundsOf(ring), boundsOf(outline)];
  const scale = (a.maxX - a.minX) / (b.maxX - b.minX);
  return outline.every(([x, y], i) => {
    const want: Point = [a.minX + (x - b.minX) * scale, a.minY + (y - b.minY) * scale];
    return distance(want, ring[i]!) < 0.02;
  });
}

describe.each(BLOCKS.map((b): [string, Block] => [b.name, b]))('the packet of %s', (_, block) => {
  const input = {
    ...inputFor(block),
    practice: drawPractice({ allowance: inches(1 / 4), system: 'inch' as const }),
    shopping: planFabric([{ block }]),
  };
  const { outline } = layOutPacket(input);
  let pages: ReadPage[] = [];
  beforeAll(async () => {
    ({ pages } = await readPdf(await writePacket(input)));
  });
  const part = (title: string): ReadPage[] => {
    const at = outline.findIndex((o) => o.title === title);
    expect(at, title).toBeGreaterThan(0);
    const next = outline[at + 1];
    return pages.slice(outline[at]!.page, Math.max(outline[at]!.page + 1, (next?.page ?? pages.length) + 1));
  };

  test('labels every section, piece, fabric and join on one page, outlines of sections bold', () => {
    const [page] = part('The block from the front');
    const { words } = page!;
    const count = (w: string): number => words.filter((v) => v === w).length;
    const numbers = Math.max(...block.sections.map((s) => s.pieces.length), block.joins.length);
    for (let n = 1; n <= numbers; n++) {
      const named = block.sections.filter((s) => s.pieces.length >= n).length + (n <= block.joins.length ? 1 : 0);
      expect(count(String(n)), `number ${n}`).toBe(named);
    }
    const lettered = block.sections.filter((s) => count(s.id) > 0);
    // a section too small for a letter of its own has it before each number
    for (const s of block.sections.filter((o) => !lettered.includes(o))) expect(count(`${s.id}1`)).toBe(1);
    for (const s of block.sections) expect(rings(page!, 0.75).some(({ ring }) => shows(ring, s.outline))).toBe(true);
    const coded = block.fabrics.map(
      (f) => block.sections.flatMap((s) => s.pieces).filter((p) => p.fabric === f.id).length,
    );
    const said = block.fabrics.map((f) => count(f.code));
    // the narrowest pieces have their number alone; each code stands once more in the list below
    expect(said.reduce((t, n) => t + n, 0)).toBeGreaterThan(0.8 * coded.reduce((t, n) => t + n, 0));
  });

  test('shows the same map beside each section’s steps and on its template sheet, from the front, one section black', () => {
    const black = (p: ReadPage, width: number): Point[][] =>
      rings(p, width).flatMap(({ ring, fill }) => (fill === '#000000' ? [ring] : []));
    const steps = part('Sections').flatMap((p) => black(p, 0.12));
    expect(steps.length).toBe(block.sections.length);
    block.sections.forEach((s, i) => {
      expect(shows(steps[i]!, s.outline), `map of ${s.id} at its steps`).toBe(true);
    });
    const first = outline.find((o) => o.title === 'Templates')!.page;
    for (const s of block.sections)
      for (const n of input.templates.sheetsOf[s.id]!) {
        const maps = black(pages[first + n - 1]!, 0.1);
        expect(
          maps.some((m) => shows(m, s.outline)),
          `map of ${s.id} on sheet ${n}`,
        ).toBe(true);
      }
  });

  test('draws the patch of every step, dashed', () => {
    const dashed = part('Sections').flatMap((p) =>
      p.strokes.filter((s) => s.dash.length === 2 && Math.abs(s.dash[0]! / PT - 0.9) < 0.01),
    );
    expect(dashed).toHaveLength(block.sections.flatMap((s) => s.pieces).length);
  });

  test('has the real pieces to color, once large and three times small', () => {
    const pieces = block.sections.flatMap((s) => s.pieces);
    const large = rings(part('To color in').at(-1)!, 0.25);
    for (const p of pieces) expect(large.some(({ ring }) => shows(ring, p.outline))).toBe(true);
    expect(large).toHaveLength(pieces.length);
    const small = part('Three ideas').flatMap((p) => rings(p, 0.25));
    expect(small.length - large.length).toBe(3 * pieces.length);
  });
});

test('mirrored sections are named as pairs, and only these', async () => {
  const words = async (block: Block): Promise<string> => {
    const { pages } = await readPdf(await writePacket(inputFor(block)));
    return pages.flatMap((p) => p.words).join(' ');
  };
  const half = letterF();
  const flip = (P: readonly (readonly [number, number])[]) =>
    P.map(([x, y]): [number, number] => [2 * half.size[0] - x, y]).reverse();
  const [a] = half.sections;
  const twin: Block = {
    ...half,
    size: [2 * half.size[0], half.size[1]],
    sections: [
      a!,
      {
        id: 'B',
        outline: flip(a!.outline),
        pieces: a!.pieces.map((p) => ({
          ...p,
          outline: flip(p.outline),
          seam: p.seam && (flip(p.seam) as [[number, number], [number, number]]),
        })),
      },
    ],
    joins: [
      {
        number: 1,
        left: ['A'],
        right: ['B'],
        seam: [
          [half.size[0], 0],
          [half.size[0], half.size[1]],
        ],
      },
    ],
  };
  expect(await words(twin)).toMatch(/mirror image of B.*mirror image of A/s);
  expect(await words(half)).not.toContain('mirror image of A');
});

test('the PDF says what it is: title, language, outline of parts and sections, tags', async () => {
  const input = inputFor(BLOCKS[0]!);
  const pdf = await writePacket(input);
  const { info, outline, marked, tree } = await readPdf(pdf);
  expect(info).toMatchObject({ Title: 'Drawing Rabbit', Language: 'en-US' });
  const { outline: meant } = layOutPacket(input);
  expect(outline.map((o) => [o.title, o.page])).toEqual(meant.map((o) => [o.title, o.page]));
  const sections = outline.find((o) => o.title === 'Sections')!.items.map((i) => i.title);
  expect(sections).toEqual(input.block.sections.map((s) => `Section ${s.id}`));
  expect(outline.find((o) => o.title === 'Templates')!.items).toHaveLength(input.templates.sheets.length);
  expect(marked).toBe(true);
  // every page has text that a reader for the blind finds, its headings as such
  for (const roles of tree) expect(roles.some((r) => /^(H[123]|P|Figure)$/.test(r))).toBe(true);
  expect(tree[0]).toContain('H1');
});
