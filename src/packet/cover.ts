// The first page: what it will be, how large, how much work, what to buy and have at hand, and what the picture lost on the way.
import type { Fabric } from '../block.ts';
import { type Item, rectangle, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { paperTitle } from '../drawing/paper.ts';
import { areaOf } from '../geometry/polygon.ts';
import { formatLength, formatSize } from '../units.ts';
import { fabricsInUse, facePicture, sizeWithin } from './block-picture.ts';
import { Flow, oneLine } from './flow.ts';
import { type PacketInput, titleOf } from './input.ts';
import { pointsToMatch } from './joins.ts';
import { materials } from './materials.ts';
import { findShadows } from './shadows.ts';
import { type Column, drawTable, offTheBolt, type Row } from './shopping-list.ts';

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

const halves = (n: number): string => (n % 1 ? `${Math.floor(n) || ''} 1/2`.trim() : String(n));

/** A part of the packet and its pages, from 1. */
export interface Contents {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** The face's height as a share of the page, tried one after the other: it makes room for what else there is to say, within reason. */
const FACE_HEIGHTS = [0.43, 0.39, 0.36, 0.32, 0.28, 0.24] as const;
/** mm from a fact's name to what it is */
const FACT = 35;

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
  const { block } = input;
  const flow = new Flow(input.paper, input.margin);
  flow.heading(titleOf(block), 24);
  if (input.designer) flow.paragraph(`Designed by ${input.designer}`, { size: 11 });
  flow.space(1);
  const size = sizeWithin(block.size, flow.width * 0.54, flow.frame.height * faceHeight);
  const top = flow.y;
  flow.place(facePicture(block, size.scale, { width: 0.15, colour: '#6f6f6f' }), flow.left, top);
  flow.add(rectangle('box', flow.left, top, size.width, size.height, { stroke: { width: 0.3 } }));
  const x = flow.left + size.width + 6;
  let y = top;
  for (const [name, value] of factsOf(input)) {
    y += 5.2;
    flow.add(text('text', [x, y - 1.2], name, 8.5, { font: 'bold' }));
    const lines = wrapText(value, 8.5, 'regular', flow.left + flow.width - x - FACT);
    lines.forEach((line, i) => {
      if (i) y += 3.8;
      flow.add(text('text', [x + FACT, y - 1.2], line, 8.5));
    });
  }
  flow.y = Math.max(top + size.height, y) + 4;
  drawFabrics(flow, input);
  drawMaterials(flow, input);
  const notes = [
    ...input.notes,
    ...input.templates.split.map(
      (id) =>
        `Section ${id} is too large for one sheet. It is printed in parts: tape them together along the numbered edges.`,
    ),
  ];
  if (notes.length) {
    flow.paragraph('Good to know', { bold: true, size: 10 });
    for (const note of notes) flow.paragraph(note, { bullet: '•', size: 8.5 });
    flow.space(0.5);
  }
  drawPrinting(flow, input, contents);
  return flow;
}

function factsOf(input: PacketInput): [string, string][] {
  const { block, system, allowance, work, level } = input;
  const pieces = block.sections.reduce((n, s) => n + s.pieces.length, 0);
  const plain = block.sections.filter((s) => s.pieces.length === 1).length;
  const before: [number, number] = [block.size[0] + 2 * allowance, block.size[1] + 2 * allowance];
  const shadows = block.sections.flatMap((s) => findShadows(block, s)).length;
  const points = block.joins.reduce((n, j) => n + pointsToMatch(block, j), 0);
  const hours = work?.hours[(level as keyof typeof work.hours | undefined) ?? 'intermediate'];
  return [
    ['Finished size', formatSize(block.size, system)],
    ['Unfinished size', `${formatSize(before, system)} (includes ${formatLength(allowance, system)} seam allowance)`],
    ...(level ? [['Skill level', level] as [string, string]] : []),
    ...(hours ? [['Sewing time', `about ${halves(hours)} hours`] as [string, string]] : []),
    ['Pieces', `${pieces}, in ${count(fabricsInUse(block).length, 'fabric', 'fabrics')}`],
    [
      'Sections',
      `${block.sections.length}${plain ? ` (${plain} of one piece, cut to shape)` : ''}, ${count(block.joins.length, 'section seam', 'section seams')}`,
    ],
    ['Points to match', String(points)],
    ...(shadows
      ? [
          ['Dark under light', `may show through at ${count(shadows, 'seam', 'seams')}, listed by section`] as [
            string,
            string,
          ],
        ]
      : []),
    ...(block.marks?.length
      ? [
          [
            'To stitch or ink',
            `${count(block.marks.length, 'small detail', 'small details')}, on a page of their own`,
          ] as [string, string],
        ]
      : []),
    [
      'Paper',
      `${count(input.templates.sheets.length, 'template sheet', 'template sheets')}, ${paperTitle(input.paper)}`,
    ],
  ];
}

/** Every fabric in a row: hatch and color, how much of the block it is, what to buy. In a short packet this is the key. */
function drawFabrics(flow: Flow, { block, shopping, system, packet }: PacketInput): void {
  const whole = block.size[0] * block.size[1];
  const all = block.sections.flatMap((s) => s.pieces);
  const bought = new Map(shopping.fabrics.map((f) => [f.id, f]));
  const bolt = shopping.fabrics.some((f) => offTheBolt(f, system) !== undefined);
  flow.paragraph(packet === 'short' ? 'Key to the fabrics' : 'Fabrics', { bold: true, size: 10 });
  const columns: Column[] = [
    { title: 'color, hatch', share: 0.12 },
    { title: 'fabric', share: bolt ? 0.27 : 0.35 },
    { title: 'pieces', share: 0.09, align: 'end' },
    { title: 'of the block', share: 0.12, align: 'end' },
    { title: 'buy', share: bolt ? 0.23 : 0.32 },
    ...(bolt ? [{ title: 'or off the bolt', share: 0.17 }] : []),
  ];
  const rows = fabricsInUse(block).map((f: Fabric): Row => {
    const own = all.filter((p) => p.fabric === f.id);
    const share = own.reduce((sum, p) => sum + areaOf(p.outline), 0) / whole;
    const b = bought.get(f.id);
    return [
      { fabric: f },
      `${f.code}  ${f.name}`,
      String(own.length),
      `${Math.max(1, Math.round(share * 100))} %`,
      b?.buy ?? '',
      ...(bolt ? [(b && offTheBolt(b, system)) ?? ''] : []),
    ];
  });
  // a short packet has no other key: its hatches are large enough to be told apart
  drawTable(flow, columns, rows, { size: 8.5, height: packet === 'short' ? 10 : 5.6 });
  flow.space(-1.5);
  if (shopping.buy) flow.paragraph(`In all: ${shopping.buy}.`, { size: 8.5, bold: true });
}

/** What else must be at hand, in two columns. */
function drawMaterials(flow: Flow, input: PacketInput): void {
  flow.paragraph('You will also need', { bold: true, size: 10 });
  const list = materials(input);
  const width = (flow.width - 6) / 2;
  const half = Math.ceil(list.length / 2);
  const column = (part: readonly string[], x: number): { items: Item[]; height: number } => {
    let y = 0;
    const items = part.flatMap((words) => {
      const lines = wrapText(words, 8, 'regular', width - 4);
      return lines.map((line, i) => {
        y += i ? 3.6 : 4.1;
        return [
          ...(i ? [] : [text('text', [x, y - 1], '•', 8)]),
          text('text', [x + 3.5, y - 1], oneLine(line, 8, width - 4), 8),
        ];
      });
    });
    return { items: items.flat(), height: y };
  };
  const columns = [column(list.slice(0, half), 0), column(list.slice(half), width + 6)];
  const height = Math.max(...columns.map((c) => c.height));
  flow.need(height);
  flow.place(
    columns.flatMap((c) => c.items),
    flow.left,
    flow.y,
  );
  flow.y += height + 2;
}

function drawPrinting(flow: Flow, input: PacketInput, contents: readonly Contents[]): void {
  const pages = (c: Contents): string => (c.from === c.to ? `${c.from}` : `${c.from}–${c.to}`);
  if (contents.length)
    flow.paragraph(`Pages: ${contents.map((c) => `${c.name} ${pages(c)}`).join(' · ')}`, { size: 8.5 });
  const sheets = contents.find((c) => c.name.startsWith(TEMPLATES));
  const more = input.templates.moreForOrder;
  flow.need(13);
  flow.space(1);
  flow.paragraph(
    `Print at 100 % (“actual size”). ${sheets ? `Pages ${pages(sheets)}, the templates, go on one side of thin paper only; all other pages may be printed on both sides. ` : ''}Measure the square and the rulers on a template sheet before you cut anything.${more ? ` The templates are in the order of their sections, which takes ${count(more, 'sheet', 'sheets')} more than packing them tightly.` : ''}`,
    { bold: true, size: 8.5 },
  );
}

/** What the template sheets are called in the list of contents. */
export const TEMPLATES = 'templates';
