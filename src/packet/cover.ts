// The first page: what it will be, how large, how much work, and what the picture lost on the way.
import { placeItems, rectangle, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { paperTitle } from '../drawing/paper.ts';
import { formatSize } from '../units.ts';
import { facePicture, sizeWithin } from './block-picture.ts';
import { Flow, oneLine } from './flow.ts';
import type { PacketInput } from './input.ts';
import { pointsToMatch } from './joins.ts';

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

export function drawCover(input: PacketInput): Flow {
  const { block, system, allowance } = input;
  const flow = new Flow(input.paper, input.margin);
  flow.heading(block.name, 24);
  if (input.designer) flow.paragraph(`Designed by ${input.designer}`, { size: 11 });
  flow.space(2);
  const tall = Math.min(flow.width * 0.72, flow.frame.height * 0.5);
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
  if (input.level) facts.push(['Level', input.level]);
  for (const [name, value] of facts) {
    flow.need(5.2);
    flow.y += 5.2;
    flow.add(text('text', [flow.left, flow.y - 1.2], name, 9.5, { font: 'bold' }));
    flow.add(text('text', [flow.left + 42, flow.y - 1.2], oneLine(value, 9.5, flow.width - 42), 9.5));
  }
  flow.space(3);
  const wide = Math.min(24, flow.width / block.fabrics.length);
  flow.need(16);
  block.fabrics.forEach((f, i) => {
    const left = flow.left + i * wide;
    flow.add(rectangle('fill', left, flow.y, wide - 3, 8, { fill: f.colour, stroke: { width: 0.2 } }));
    flow.add(text('text', [left, flow.y + 11.2], f.code, 7.5, { font: 'bold' }));
    const gap = measureText(`${f.code} `, 7.5, 'bold').width;
    flow.add(text('text', [left + gap + 0.6, flow.y + 11.2], oneLine(f.name, 7, wide - 4 - gap), 7));
  });
  flow.y += 15;
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
  const tip =
    'Print at 100 % ("actual size"), one side only, and measure the 1 in square and the rulers on a template sheet before you cut anything.';
  flow.need(13);
  flow.space(2);
  flow.paragraph(tip, { bold: true, size: 9 });
  return flow;
}
