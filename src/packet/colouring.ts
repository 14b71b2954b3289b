// Pages to try other fabrics on with crayons: the block's own pieces, once large with their numbers faint, then three times small;
// below them what is left to do when the sections are joined.
import { type Block, pieceName } from '../block.ts';
import { insetConvex } from '../drawing/clip.ts';
import { type Item, polygon, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { centroid, type Point } from '../geometry/polygon.ts';
import { scaled, sizeWithin } from './block-picture.ts';
import type { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';

/** mm: of a heading with its rule, and the least that a small picture is high */
const HEADING = 15;
const LEAST = 40;
const FAINT = '#b0b0b0';
const NUMBER_SIZES = [6.5, 5.5, 4.5];

export function drawColouring(flow: Flow, { block }: PacketInput): void {
  flow.heading('To color in');
  flow.paragraph('The pieces of the block as they are sewn. Try fabrics with crayons before you buy any.', { size: 9 });
  flow.space(1.5);
  const { scale, width } = sizeWithin(block.size, flow.width, flow.bottom - flow.y);
  flow.place(linesOf(block, scale, true), flow.left + (flow.width - width) / 2, flow.y);
  flow.y += block.size[1] * scale + 3;
}

export function drawSmallOnes(flow: Flow, { block }: PacketInput): void {
  const gap = 5;
  const wide = (flow.width - 2 * gap) / 3;
  // a little smaller where that keeps them on the page
  const room = flow.bottom - flow.y - HEADING;
  const high = room < LEAST ? 90 : Math.min(90, room);
  const { scale, width, height } = sizeWithin(block.size, wide, high);
  flow.need(height + HEADING);
  flow.heading('Three ideas');
  const from = flow.left + (flow.width - 3 * width - 2 * gap) / 2;
  for (const k of [0, 1, 2]) flow.place(linesOf(block, scale, false), from + k * (width + gap), flow.y);
  flow.y += height + 4;
}

/** The seams alone; numbers where they find room, pale enough to color over. */
function linesOf(block: Block, scale: number, numbered: boolean): Item[] {
  return [
    ...block.sections.flatMap((s) =>
      s.pieces.map((p) => polygon('outline', scaled(p.outline, scale), { stroke: { width: 0.25, colour: '#555555' } })),
    ),
    polygon('box', scaled([[0, 0], [block.size[0], 0], [...block.size] as Point, [0, block.size[1]]], scale), {
      stroke: { width: 0.4 },
    }),
    ...(numbered
      ? block.sections.flatMap((s) => s.pieces.flatMap((p) => faintName(pieceName(s, p), scaled(p.outline, scale))))
      : []),
  ];
}

function faintName(words: string, piece: readonly Point[]): Item[] {
  for (const size of NUMBER_SIZES) {
    const { width, ascent } = measureText(words, size);
    const room = insetConvex(piece, (nx, ny) => (Math.abs(nx) * width + Math.abs(ny) * ascent) / 2 + 0.5);
    if (room.length < 3) continue;
    const [x, y] = centroid(room);
    return [text('piece-number', [x, y + ascent / 2], words, size, { align: 'middle', colour: FAINT })];
  }
  return [];
}
