// What is on every template sheet besides the templates: a square to measure, rulers across and down, a small map for each section on
// it, and the words at its foot.
import type { Block } from '../block.ts';
import { type Item, polygon, polyline, rectangle, segments, text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import { type Paper, printableFrame } from '../drawing/paper.ts';
import type { Point, Segment } from '../geometry/polygon.ts';
import { readableTitle } from '../names.ts';
import { formatSize, type Mm, type System } from '../units.ts';
import { FOOT, RULER_LENGTH, templateFrame } from './template-area.ts';

/** mm left free at the end of the maps for a page number */
const NUMBER = 16;
const INCH = 25.4;

/** Where a page number may stand that the sheet gets among other pages: the right end of its baseline. */
export function pageNumberAt(paper: Paper, margin: Mm): Point {
  const f = printableFrame(paper, margin);
  return [f.x + INCH + 3 + RULER_LENGTH, f.y + f.height - 0.8];
}

/** A ruler from `at` to the right, or downwards: 4 in on one side and 10 cm on the other; for metric readers 10 cm alone. */
function ruler(at: Point, down: boolean, system: System): Item[] {
  const to = (along: number, across: number): Point =>
    down ? [at[0] + 4.6 + across, at[1] + along] : [at[0] + along, at[1] + 4.6 + across];
  const inch = system === 'inch';
  const length = inch ? RULER_LENGTH : 100;
  const ticks: Segment[] = [];
  const items: Item[] = [];
  if (inch)
    for (let k = 0; k <= 32; k++)
      ticks.push([to((k * INCH) / 8, 0), to((k * INCH) / 8, -(k % 8 === 0 ? 2.4 : k % 4 === 0 ? 1.8 : 1))]);
  for (let k = 0; k <= 20; k++) ticks.push([to(k * 5, 0), to(k * 5, k % 2 ? 1.2 : 2.2)]);
  items.push(segments('scale', ticks, { width: 0.12 }));
  items.push(polyline('scale', [to(0, 0), to(length, 0)], { width: 0.2 }));
  // words of the ruler down read downwards, their tops to the right
  const [above, below] = down ? [-4.32, 2.85] : [-3.05, 4.35];
  const label = (along: number, across: number, words: string): Item =>
    text('scale', to(along, across), words, 5, { align: 'middle', turn: down ? 90 : 0 });
  if (inch) {
    for (const k of [1, 2, 3]) items.push(label(k * INCH, above, String(k)));
    items.push(label(RULER_LENGTH - 8, above, '4 in'));
  }
  for (const k of [2, 4, 6, 8]) items.push(label(k * 10, below, String(k)));
  items.push(label(92, below, '10 cm'));
  return items;
}

/** The square that people measure first: 1 in, or 2.5 cm. */
function measuredSquare(x: number, y: number, system: System): Item[] {
  const [side, name] = system === 'inch' ? [INCH, '1 in'] : [25, '2.5 cm'];
  const middle = x + side / 2;
  const line = (row: number, words: string, size: number): Item =>
    text('scale', [middle, y + 8 + row * 3.4], words, size, { align: 'middle' });
  return [
    rectangle('scale', x, y, side, side, { stroke: { width: 0.2 } }),
    line(0, name, 9),
    line(1, 'this square', 6),
    line(2, 'must measure', 6),
    line(3, `${name} each way`, 6),
  ];
}

/** The block in small with one section black, as its front is seen. */
function sectionMap(block: Block, id: string, x: number, y: number, side: number): Item[] {
  const scale = side / Math.max(...block.size);
  const place = (P: readonly Point[]): Point[] => P.map(([px, py]) => [x + px * scale, y + py * scale]);
  const items: Item[] = block.sections.map((s) =>
    polygon('map', place(s.outline), { stroke: { width: 0.1 }, ...(s.id === id ? { fill: '#000000' } : {}) }),
  );
  items.push(text('map', [x + (block.size[0] * scale) / 2, y + side + 2.6], id, 6, { align: 'middle', font: 'bold' }));
  return items;
}

export interface SheetWords {
  readonly page: number;
  readonly pages: number;
  readonly system: System;
  readonly allowance: Mm;
  readonly unmirrored: boolean;
  readonly copy?: readonly [copy: number, of: number];
  readonly designer?: string;
  readonly version?: string;
}

/** What a ruler shows that is off, and the size in which the block would then come out. */
function printedOff(size: readonly [number, number], system: System): [size: string, ruler: string] {
  const share = system === 'inch' ? 3.875 / 4 : 9.7 / 10;
  const sizes = formatSize([size[0] * share, size[1] * share], system);
  const off =
    system === 'inch'
      ? 'The rulers may be off by 1/32 in. If the 4 in ruler measures 3 7/8 in'
      : 'The rulers may be off by 0.8 mm. If the 10 cm ruler measures 9.7 cm';
  return [sizes, off];
}

/** Everything but the templates. `front`: the block as the finished face is seen. */
export function drawSheetFrame(
  front: Block,
  sections: readonly string[],
  paper: Paper,
  margin: Mm,
  words: SheetWords,
): Item[] {
  const f = printableFrame(paper, margin);
  const area = templateFrame(paper, margin);
  const top = f.y + f.height - FOOT + 1;
  const items: Item[] = [];
  items.push(...measuredSquare(f.x + 0.1, top, words.system));
  items.push(...ruler([area.ruler.x, area.ruler.y], true, words.system));
  const left = f.x + INCH + 3;
  items.push(...ruler([left, top - 1], false, words.system));
  // maps below the ruler
  const mapsTop = top + 9.5;
  const room = RULER_LENGTH - NUMBER;
  const side = Math.min(13, room / Math.max(1, sections.length) - 1.2);
  sections.forEach((id, i) => {
    items.push(...sectionMap(front, id, left + i * (side + 1.2), mapsTop, side));
  });
  // words to the right
  const x = left + RULER_LENGTH + 4;
  const width = f.x + f.width - x;
  const before: [number, number] = [front.size[0] + 2 * words.allowance, front.size[1] + 2 * words.allowance];
  const [sizes, off] = printedOff(front.size, words.system);
  const lines: { words: string; size: number; bold?: boolean }[] = [
    ...wrapText(readableTitle(front.name), 8, 'bold', width)
      .slice(0, 2)
      .map((w) => ({ words: w, size: 8, bold: true })),
    ...(words.unmirrored ? [{ words: 'Reference, not for sewing: seen from the front', size: 9, bold: true }] : []),
    {
      words: `template sheet ${words.page} of ${words.pages}${words.copy ? `, copy ${words.copy[0]} of ${words.copy[1]}` : ''}: ${sections.join(', ')}`,
      size: 6.5,
    },
    {
      words: `finished ${formatSize(front.size, words.system)}, unfinished ${formatSize(before, words.system)}`,
      size: 6.5,
    },
    { words: 'Maps show the front of the block.', size: 6 },
    ...(words.designer || words.version
      ? [{ words: [words.designer, words.version].filter(Boolean).join(' · '), size: 6.5 }]
      : []),
    ...(words.unmirrored ? [] : [{ words: 'Sew on this side; the fabric goes on the back of the paper.', size: 6 }]),
    { words: `Print at 100 %, on one side only. ${off}, print again: this block would come out ${sizes}.`, size: 6 },
  ];
  let y = top;
  for (const l of lines)
    for (const w of wrapText(l.words, l.size, l.bold ? 'bold' : 'regular', width)) {
      y += measureText('H', l.size).ascent + 0.85;
      items.push(text('text', [x, y], w, l.size, { font: l.bold ? 'bold' : 'regular' }));
    }
  return items;
}
