// The key: for each fabric its hatch, its color, and a square to glue a swatch of the real fabric on; two fabrics side by side.
import type { Fabric } from '../block.ts';
import { polygon, rectangle, rectanglePoints, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { drawHatch } from '../drawing/hatches.ts';
import { areaOf } from '../geometry/polygon.ts';
import { fabricsInUse } from './block-picture.ts';
import { type Cell, type Flow, oneLine } from './flow.ts';
import type { PacketInput } from './input.ts';

/** mm: a swatch of 1 in that people have at hand covers it */
const SIDE = 25.4;
const BETWEEN = 2;
const GAP = 3.5;
const TITLE = 5.4;

export function drawKey(flow: Flow, input: PacketInput): void {
  const { block, system } = input;
  flow.heading('Key to the fabrics');
  flow.paragraph(
    `Every piece on the templates has its fabric’s code. Pieces ${system === 'inch' ? '1/2 in' : '13 mm'} wide and wider also have its hatch, paler than here. Glue a swatch of your fabric in each dashed square.`,
    { size: 9 },
  );
  flow.space(1.5);
  const width = (flow.width - GAP) / 2;
  flow.grid(
    fabricsInUse(block).map((f) => fabricCell(input, f, width)),
    2,
    GAP,
  );
}

function fabricCell({ block, shopping }: PacketInput, f: Fabric, width: number): Cell {
  const own = block.sections.flatMap((s) => s.pieces).filter((p) => p.fabric === f.id);
  const share = own.reduce((sum, p) => sum + areaOf(p.outline), 0) / (block.size[0] * block.size[1]);
  const bought = shopping.fabrics.find((s) => s.id === f.id);
  const [first, second, third] = [0, 1, 2].map((k) => k * (SIDE + BETWEEN)) as [number, number, number];
  const square = rectanglePoints(first, TITLE, SIDE, SIDE);
  const hatch = drawHatch(f.hatch, square, { weight: 'dense', inset: 0.3 });
  const middle = third + SIDE / 2;
  const hint = (row: number, words: string) =>
    text('text', [middle, TITLE + SIDE / 2 - 0.4 + row * 3], words, 6.5, { align: 'middle', colour: '#777777' });
  const after = measureText(`${f.code}  `, 13, 'bold').width;
  const facts = `${own.length} ${own.length === 1 ? 'piece' : 'pieces'}, ${Math.max(1, Math.round(share * 100))} %`;
  return {
    height: TITLE + SIDE,
    items: [
      text('text', [0, 3.9], f.code, 13, { font: 'bold' }),
      text(
        'text',
        [after, 3.9],
        oneLine(`${f.name} · ${facts}${bought ? ` · ${bought.buy}` : ''}`, 8.5, width - after),
        8.5,
      ),
      ...(hatch ? [hatch] : []),
      polygon('box', square, { stroke: { width: 0.3 } }),
      rectangle('fill', second, TITLE, SIDE, SIDE, { fill: f.colour, stroke: { width: 0.2 } }),
      rectangle('box', third, TITLE, SIDE, SIDE, { stroke: { width: 0.25, dash: [1.5, 1] } }),
      hint(0, 'glue a swatch'),
      hint(1, 'here'),
    ],
  };
}
