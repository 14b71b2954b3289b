// The key: for each fabric its hatch, code, name and colour, and a square to glue a snip of the real cloth on.
import { polygon, rectangle, rectanglePoints, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { drawHatch } from '../drawing/hatches.ts';
import { areaOf } from '../geometry/polygon.ts';
import { Flow, oneLine } from './flow.ts';
import type { PacketInput } from './input.ts';

/** 1 1/4 in, the snip's square (trade rule) */
const SNIP = 31.75;
/** mm between fabrics */
const GAP = { least: 0.8, most: 4.5 };
/** more lines of a name do not fit beside the squares */
const NAME_LINES = 2;

export function drawKey(input: PacketInput): Flow {
  const { block, shopping } = input;
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Key to the fabrics');
  flow.paragraph(
    'Every piece carries its fabric’s code; pieces of 1/2 in and more carry its hatch too, paler than here. Glue a snip of your own cloth on each square, so that nobody at the table has to guess.',
  );
  flow.space(2);
  const all = block.sections.flatMap((s) => s.pieces);
  const whole = block.size[0] * block.size[1];
  // closer together where that keeps them all on one page
  const room = (flow.bottom - flow.y) / block.fabrics.length - SNIP;
  const gap = room < GAP.least ? GAP.most : Math.min(GAP.most, room);
  for (const f of block.fabrics) {
    flow.need(SNIP);
    const [x, y] = [flow.left, flow.y];
    const square = rectanglePoints(x, y, SNIP, SNIP);
    const hatch = drawHatch(f.hatch, square, { weight: 'dense', inset: 0.3 });
    if (hatch) flow.add(hatch);
    flow.add(polygon('box', square, { stroke: { width: 0.3 } }));
    flow.add(rectangle('fill', x + SNIP + 4, y, SNIP, SNIP, { fill: f.colour, stroke: { width: 0.2 } }));
    const right = x + flow.width - SNIP;
    flow.add(rectangle('box', right, y, SNIP, SNIP, { stroke: { width: 0.25, dash: [1.5, 1] } }));
    flow.add(
      text('text', [right + SNIP / 2, y + SNIP / 2 - 0.6], 'glue a snip', 7, { align: 'middle', colour: '#777777' }),
    );
    flow.add(
      text('text', [right + SNIP / 2, y + SNIP / 2 + 2.6], 'of the cloth here', 7, {
        align: 'middle',
        colour: '#777777',
      }),
    );
    const own = all.filter((p) => p.fabric === f.id);
    const share = own.reduce((sum, p) => sum + areaOf(p.outline), 0) / whole;
    const textX = x + 2 * SNIP + 10;
    const width = right - textX - 3;
    const bought = shopping.fabrics.find((s) => s.id === f.id);
    flow.add(text('text', [textX, y + 8], f.code, 20, { font: 'bold' }));
    const name = wrapText(f.name, 11, 'regular', width);
    const shown =
      name.length > NAME_LINES
        ? [...name.slice(0, NAME_LINES - 1), oneLine(name.slice(NAME_LINES - 1).join(' '), 11, width)]
        : name;
    shown.forEach((line, i) => {
      flow.add(text('text', [textX, y + 15 + i * 4.8], line, 11));
    });
    const below = y + 16.2 + shown.length * 4.8;
    const lines = [
      `${own.length} ${own.length === 1 ? 'piece' : 'pieces'}, ${Math.round(share * 100)} % of the face`,
      ...(bought ? [`buy ${bought.buy}`] : []),
    ];
    lines.forEach((line, i) => {
      flow.add(text('text', [textX, below + i * 4.2], oneLine(line, 9, width), 9));
    });
    flow.y += SNIP + gap;
  }
  return flow;
}
