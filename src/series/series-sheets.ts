// The pages that belong to a whole series: contact sheet and common key. What to buy and the quilt are a yardage plan.
import type { Fabric } from '../block.ts';
import { type Item, placeItems, polygon, rectangle, rectanglePoints, text } from '../drawing/drawing.ts';
import { drawHatch } from '../drawing/hatches.ts';
import { type Paper, printableFrame } from '../drawing/paper.ts';
import { writePdf } from '../drawing/pdf.ts';
import { measureEffort } from '../fabric/effort.ts';
import { facePicture, sizeWithin } from '../packet/block-picture.ts';
import { type Cell, Flow, oneLine, withFoot } from '../packet/flow.ts';
import type { Mm } from '../units.ts';
import type { OddOne } from './odd-ones.ts';
import type { SeriesBlock } from './run-series.ts';

export interface SeriesSheetsInput {
  readonly name: string;
  readonly blocks: readonly SeriesBlock[];
  readonly fabrics: readonly Fabric[];
  readonly odd: readonly OddOne[];
  readonly level: 'beginner' | 'intermediate' | 'advanced';
  readonly paper: Paper;
  readonly margin: Mm;
  readonly designer?: string;
}

const COLUMNS = 3;
const GAP = 6;
const THIN = { width: 0.1, colour: '#777777' };

export function writeSeriesSheets(input: SeriesSheetsInput): Promise<Uint8Array> {
  const frame = printableFrame(input.paper, input.margin);
  const inner = { ...frame, height: frame.height - 8 };
  const pages = [drawContacts, drawCommonKey].flatMap((draw) => draw(input).drawings(input.name));
  const words = [input.name, input.designer].filter(Boolean).join(' · ');
  return writePdf(
    pages.map((p, i) => withFoot(p, inner, words, `page ${i + 1} of ${pages.length}`)),
    {
      title: input.name,
      subject: 'A series of foundation-pieced blocks',
      ...(input.designer && { author: input.designer }),
    },
  );
}

/** Every block with its number, name and figures. */
export function drawContacts({ name, blocks, odd, level, paper, margin }: SeriesSheetsInput): Flow {
  const flow = new Flow(paper, margin);
  flow.heading(name, 20);
  const width = (flow.width - GAP * (COLUMNS - 1)) / COLUMNS;
  flow.grid(
    blocks.map((b) => contactCell(b, width, level)),
    COLUMNS,
    GAP,
  );
  if (odd.length) {
    flow.space(2);
    flow.heading('What does not go with the others', 12);
    for (const o of odd) flow.paragraph(`${o.name}: ${o.why}.`, { bullet: '•' });
  }
  return flow;
}

function contactCell({ block, made, entry }: SeriesBlock, width: number, level: SeriesSheetsInput['level']): Cell {
  const { scale, width: w, height: h } = sizeWithin(block.size, width, width);
  const items: Item[] = placeItems(facePicture(block, scale, THIN), { turn: 0, dx: (width - w) / 2, dy: 0 });
  const title = `${entry.number}  ${block.name}${block.edition && block.edition !== 'A' ? `, edition ${block.edition}` : ''}`;
  items.push(text('text', [0, h + 4.6], oneLine(title, 10, width, true), 10, { font: 'bold' }));
  const effort = measureEffort(block);
  const says = `${made.pieces} pieces, ${made.sections} sections, about ${effort.hours[level]} h`;
  items.push(text('text', [0, h + 9], oneLine(says, 8, width), 8));
  return { items, height: h + 10 };
}

/** The fabrics that several blocks share, with the blocks that each is in. */
function drawCommonKey({ blocks, fabrics, paper, margin }: SeriesSheetsInput): Flow {
  const flow = new Flow(paper, margin);
  flow.heading('Common key');
  flow.paragraph(
    'These fabrics have the same code and hatch in every block. Glue a snip of your own cloth on each square, once for the whole series.',
  );
  flow.space(2);
  const SQUARE = 22;
  for (const f of fabrics) {
    const used = blocks.filter((b) => b.block.fabrics.some((g) => g.id === f.id));
    flow.need(SQUARE + 4);
    const [x, y] = [flow.left, flow.y];
    const square = rectanglePoints(x, y, SQUARE, SQUARE);
    const hatch = drawHatch(f.hatch, square, { weight: 'dense', inset: 0.3 });
    if (hatch) flow.add(hatch);
    flow.add(polygon('box', square, { stroke: { width: 0.3 } }));
    flow.add(rectangle('fill', x + SQUARE + 3, y, SQUARE, SQUARE, { fill: f.colour, stroke: { width: 0.2 } }));
    const right = x + flow.width - SQUARE;
    flow.add(rectangle('box', right, y, SQUARE, SQUARE, { stroke: { width: 0.25, dash: [1.5, 1] } }));
    flow.add(
      text('text', [right + SQUARE / 2, y + SQUARE / 2 + 1], 'glue a snip', 7, { align: 'middle', colour: '#777777' }),
    );
    const at = x + 2 * SQUARE + 8;
    const room = right - at - 3;
    flow.add(text('text', [at, y + 7], f.code, 16, { font: 'bold' }));
    flow.add(text('text', [at, y + 13], oneLine(f.name, 10.5, room), 10.5));
    const where =
      used.length === blocks.length ? 'in every block' : `in ${used.map((b) => b.block.name).join(', ') || 'no block'}`;
    flow.add(text('text', [at, y + 18.5], oneLine(where, 8.5, room), 8.5));
    flow.y += SQUARE + 3.5;
  }
  return flow;
}
