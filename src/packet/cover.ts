// The first page: what it will be, how large, how much work, and what the picture lost on the way.
import { placeItems, rectangle, text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import { paperTitle } from '../drawing/paper.ts';
import { formatSize } from '../units.ts';
import { facePicture, sizeWithin } from './block-picture.ts';
import { type Cell, Flow, oneLine } from './flow.ts';
import type { PacketInput } from './input.ts';
import { pointsToMatch } from './joins.ts';
import { findShadows } from './shadows.ts';

/** mm: narrower swatches leave no room for a fabric's name */
const LEAST_SWATCH = 18;

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

/** A part of the packet and its pages. */
export interface Contents {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** The face's height as a share of the page, tried one after the other: it makes room for what else there is to say, within reason. */
const FACE_HEIGHTS = [0.5, 0.46, 0.42, 0.38, 0.34, 0.3] as const;

/** One page where that can be; where it cannot, what does not fit goes on with the face at its full size. */
export function drawCover(input: PacketInput, contents: readonly Contents[] = []): Flow {
  const [full, ...smaller] = FACE_HEIGHTS;
  const cover = layOut(input, contents, full);
  if (cover.length === 1) return cover;
  for (const height of smaller) {
    const one = layOut(input, contents, height);
    if (one.length === 1) return one;
  }
  return cover;
}

function layOut(input: PacketInput, contents: readonly Contents[], faceHeight: number): Flow {
  const { block, system, allowance } = input;
  const flow = new Flow(input.paper, input.margin);
  flow.heading(block.name, 24);
  if (input.designer) flow.paragraph(`Designed by ${input.designer}`, { size: 11 });
  flow.space(2);
  const tall = Math.min(flow.width * 0.72, flow.frame.height * faceHeight);
  const size = sizeWithin(block.size, flow.width * 0.8, tall);
  const x = flow.left + (flow.width - size.width) / 2;
  const face = facePicture(block, size.scale, { width: 0.15, colour: '#6f6f6f' });
  flow.add(...placeItems(face, { turn: 0, dx: x, dy: flow.y }));
  flow.add(rectangle('box', x, flow.y, size.width, size.height, { stroke: { width: 0.3 } }));
  flow.y += size.height + 5;

  const pieces = block.sections.reduce((n, s) => n + s.pieces.length, 0);
  const plain = block.sections.filter((s) => s.pieces.length === 1).length;
  const before: [number, number] = [block.size[0] + 2 * allowance, block.size[1] + 2 * allowance];
  const facts: [string, string][] = [
    ['Finished size', formatSize(block.size, system)],
    ['Size before setting', `${formatSize(before, system)}, with its allowance all round`],
    [
      'Made of',
      `${count(pieces, 'piece', 'pieces')} in ${count(block.sections.length, 'section', 'sections')}, ${count(block.joins.length, 'join', 'joins')}, ${count(block.fabrics.length, 'fabric', 'fabrics')}`,
    ],
    ['Points to match', String(block.joins.reduce((n, j) => n + pointsToMatch(block, j), 0))],
    [
      'Paper',
      `${count(input.templates.sheets.length, 'template sheet', 'template sheets')}, ${paperTitle(input.paper)}`,
    ],
  ];
  if (plain) facts.push(['Plain patches', `${count(plain, 'section is', 'sections are')} of one piece: cut to shape`]);
  const shadows = block.sections.flatMap((s) => findShadows(block, s)).length;
  if (shadows) facts.push(['Light over dark', `at ${count(shadows, 'seam', 'seams')}, named with their sections`]);
  if (block.marks?.length)
    facts.push([
      'Stitched or inked on',
      `${count(block.marks.length, 'small detail', 'small details')}, at full size on a page of their own`,
    ]);
  if (input.level) facts.push(['Level', input.level]);
  for (const [name, value] of facts) {
    flow.need(5.2);
    flow.y += 5.2;
    flow.add(text('text', [flow.left, flow.y - 1.2], name, 9.5, { font: 'bold' }));
    flow.add(text('text', [flow.left + 42, flow.y - 1.2], oneLine(value, 9.5, flow.width - 42), 9.5));
  }
  flow.space(3);
  const across = Math.min(block.fabrics.length, Math.floor(flow.width / LEAST_SWATCH));
  const wide = Math.min(26, flow.width / across);
  const cells = block.fabrics.map((f): Cell => {
    const own = measureText(`${f.code} `, 7.5, 'bold').width + 0.6;
    const name = wrapText(f.name, 7, 'regular', wide - 3 - own).slice(0, 3);
    return {
      items: [
        rectangle('fill', 0, 0, wide - 3, 8, { fill: f.colour, stroke: { width: 0.2 } }),
        text('text', [0, 11.2], f.code, 7.5, { font: 'bold' }),
        ...name.map((line, i) => text('text', [own, 11.2 + i * 2.9], line, 7)),
      ],
      height: 11.2 + name.length * 2.9,
    };
  });
  for (let i = 0; i < cells.length; i += across) {
    const row = cells.slice(i, i + across);
    const height = Math.max(...row.map((c) => c.height));
    flow.need(height);
    row.forEach((c, k) => {
      flow.add(...placeItems(c.items, { turn: 0, dx: flow.left + k * wide, dy: flow.y }));
    });
    flow.y += height + 1;
  }
  flow.space(1);
  const notes = [
    ...input.notes,
    ...input.templates.split.map(
      (id) => `Section ${id} is too large for one sheet: it is printed in parts; paste them on the numbered edges.`,
    ),
  ];
  if (notes.length) {
    flow.paragraph('Good to know', { bold: true, size: 11 });
    for (const note of notes) flow.paragraph(note, { bullet: '•', size: 9 });
  }
  flow.space(1);
  if (contents.length) {
    const pages = contents.map(({ name, from, to }) => `${name} ${from === to ? from : `${from}–${to}`}`);
    flow.paragraph(`Pages: ${pages.join(' · ')}`, { size: 9 });
  }
  const tip =
    'Print at 100 % ("actual size"), one side only, and measure the 1 in square and the rulers on a template sheet before you cut anything.';
  flow.need(13);
  flow.space(2);
  flow.paragraph(tip, { bold: true, size: 9 });
  return flow;
}
