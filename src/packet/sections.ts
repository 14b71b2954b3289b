// The sections in sewing order: a map, then one small picture a piece of what is sewn so far, each with a box to tick.
import type { Section } from '../block.ts';
import { type Item, polygon, polyline, text } from '../drawing/drawing.ts';
import { boundsOf, type Point } from '../geometry/polygon.ts';
import { fabricsById, scaled, sectionPicture, sizeWithin } from './block-picture.ts';
import { type Cell, Flow, oneLine, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';

const GAP = 3;

export function drawSections(input: PacketInput): Flow {
  const { block } = input;
  const fabrics = fabricsById(block);
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Sections in sewing order');
  flow.paragraph(
    'Each picture shows the front of the section as it grows: the newest piece in its colour with a bold seam, what lies there already paler. (The paper shows it mirrored.) Tick a box for every piece that is on.',
  );
  flow.space(2);
  const columns = Math.max(6, Math.round(flow.width / 24));
  const width = (flow.width - GAP * (columns - 1)) / columns;
  const side = width - 1;

  const map = (s: Section): Cell => {
    const size = sizeWithin(block.size, side, side);
    const items = sectionPicture(block, size.scale, (id) => (id === s.id ? '#000000' : undefined));
    items.push(text('text', [0, size.height + 3.6], 'where it lies', 6.5));
    return { items, height: size.height + 5 };
  };
  const step = (s: Section, n: number): Cell => {
    const b = boundsOf(s.outline);
    const size = sizeWithin([b.maxX - b.minX, b.maxY - b.minY], side, side);
    const dx = (side - size.width) / 2 - b.minX * size.scale;
    // pictures of a wide section are low: the boxes to tick move up to them
    const low = Math.max(size.height, 8);
    const dy = (low - size.height) / 2 - b.minY * size.scale;
    const place = (P: readonly Point[]): Point[] => scaled(P, size.scale, dx, dy);
    const items: Item[] = [
      polygon('outline', place(s.outline), { stroke: { width: 0.1, colour: '#777777', dash: [0.8, 0.8] } }),
    ];
    for (const p of s.pieces.slice(0, n + 1)) {
      const colour = fabrics.get(p.fabric)!.colour;
      const newest = p.number === n + 1;
      items.push(
        polygon('fill', place(p.outline), {
          fill: newest ? colour : paler(colour),
          stroke: { width: newest ? 0.25 : 0.12, ...(newest ? {} : { colour: '#777777' }) },
        }),
      );
    }
    const p = s.pieces[n]!;
    if (p.seam) items.push(polyline('seam', place(p.seam), { width: 0.7 }));
    const f = fabrics.get(p.fabric)!;
    items.push(tickBox(0, low + 1.2));
    items.push(text('text', [4.2, low + 3.9], `${s.id}${p.number}`, 8.5, { font: 'bold' }));
    items.push(text('text', [0, low + 7.4], oneLine(`${f.code} ${f.name}`, 6.5, width), 6.5));
    return { items, height: low + 8.5 };
  };

  for (const s of block.sections) {
    const sheets = input.templates.sheetsOf[s.id] ?? [];
    const where = sheets.length ? `, template sheet ${sheets.join(', ')}` : '';
    const kind = s.pieces.length === 1 ? 'one piece, cut to this shape' : `${s.pieces.length} pieces`;
    flow.need(side + 17);
    flow.paragraph(`Section ${s.id}: ${kind}${where}`, { bold: true, size: 10.5 });
    flow.grid([map(s), ...s.pieces.map((_, n) => step(s, n))], columns, GAP);
    flow.space(0.5);
  }
  return flow;
}

/** A colour two thirds of the way to white. */
function paler(colour: string): string {
  const part = (at: number): string => {
    const v = Number.parseInt(colour.slice(at, at + 2), 16);
    return Math.round(v + (255 - v) * 0.66)
      .toString(16)
      .padStart(2, '0');
  };
  return `#${part(1)}${part(3)}${part(5)}`;
}
