// The sections in sewing order: a map, then one small picture a piece of what is sewn so far, each with a box to tick, and
// where light cloth lies over dark.
import type { Section } from '../block.ts';
import { text } from '../drawing/drawing.ts';
import { formatLength } from '../units.ts';
import { fabricsById, sectionPicture, sizeWithin } from './block-picture.ts';
import { type Cell, Flow, oneLine, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { findShadows, shadowWords } from './shadows.ts';
import { stepPicture } from './step-picture.ts';

const GAP = 3;
/** mm: pictures are no smaller and no larger, side by side */
const SMALLEST = 20;
const LARGEST = 30;
/** mm under a picture for its words */
const WORDS = 8.5;

export function drawSections(input: PacketInput): Flow {
  const { block, allowance } = input;
  const fabrics = fabricsById(block);
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Sections in sewing order');
  flow.paragraph(
    'Each picture shows the front of the section as it grows: the newest piece in its colour with a bold seam, what lies there already paler. (The paper shows it mirrored.) Tick a box for every piece that is on.',
  );
  if (block.sections.some((s) => findShadows(block, s).length))
    flow.paragraph(
      `“Light over dark” names light pieces with dark allowance beneath: so that it does not show through, trim the dark allowance to ${formatLength(allowance - 25.4 / 16, input.system)} once the seam is sewn, or cut the light patch so that its own allowance is ${input.system === 'inch' ? '1/8 in' : '3 mm'} wider.`,
    );
  flow.space(2);
  const most = Math.floor((flow.width + GAP) / (SMALLEST + GAP));
  const least = Math.floor((flow.width + GAP) / (LARGEST + GAP)) + 1;

  const map = (s: Section, side: number): Cell => {
    const size = sizeWithin(block.size, side, side);
    const items = sectionPicture(block, size.scale, (id) => (id === s.id ? '#000000' : undefined));
    items.push(text('text', [0, size.height + 3.6], 'where it lies', 6.5));
    return { items, height: size.height + 5 };
  };
  const step = (s: Section, n: number, width: number): Cell => {
    const drawn = stepPicture(s, n, fabrics, width - 1, width - 1, 8);
    const p = s.pieces[n - 1]!;
    const f = fabrics.get(p.fabric)!;
    const low = drawn.height;
    return {
      items: [
        ...drawn.items,
        tickBox(0, low + 1.2),
        text('text', [4.2, low + 3.9], `${s.id}${p.number}`, 8.5, { font: 'bold' }),
        text('text', [0, low + 7.4], oneLine(`${f.code} ${f.name}`, 6.5, width), 6.5),
      ],
      height: low + WORDS,
    };
  };

  for (const s of block.sections) {
    const sheets = input.templates.sheetsOf[s.id] ?? [];
    const where = sheets.length ? `, template sheet ${sheets.join(', ')}` : '';
    const kind = s.pieces.length === 1 ? 'one piece, cut to this shape' : `${s.pieces.length} pieces`;
    const count = s.pieces.length + 1;
    const rows = Math.ceil(count / most);
    const columns = Math.max(least, Math.ceil(count / rows));
    const width = (flow.width - GAP * (columns - 1)) / columns;
    const cells = [map(s, width - 1), ...s.pieces.map((_, i) => step(s, i + 1, width))];
    const shadows = findShadows(block, s);
    const height = Math.max(...cells.map((c) => c.height)) * rows + GAP * (rows - 1);
    flow.need(Math.min(height + 7 + (shadows.length ? 5 : 0), flow.frame.height));
    flow.paragraph(`Section ${s.id}: ${kind}${where}`, { bold: true, size: 10.5 });
    flow.grid(cells, columns, GAP);
    if (shadows.length) {
      flow.space(-1.5);
      flow.paragraph(`Light over dark: ${shadows.map((v) => shadowWords(v)).join('; ')}.`, { size: 8.5 });
    }
    flow.space(0.5);
  }
  return flow;
}
