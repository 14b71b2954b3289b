// One full page: the finished block from the front with all its names, and the picture that it was made from.
import { type Item, polygon, rectangle, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { fabricsById, scaled, sizeWithin } from './block-picture.ts';
import type { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';
import { labelledFace } from './labelled-face.ts';
import { swatch } from './shopping-list.ts';

/** mm below the face: the picture, how to read the diagram, the fabrics */
const BELOW = 34;

export function drawFrontDiagram(flow: Flow, input: PacketInput): void {
  const { block } = input;
  flow.heading('The block from the front');
  const room = flow.bottom - flow.y - BELOW - 3;
  const { scale, width, height } = sizeWithin(block.size, flow.width, room);
  flow.place(labelledFace(block, scale), flow.left + (flow.width - width) / 2, flow.y);
  flow.y += height + 3;

  const top = flow.y;
  let x = flow.left;
  const seen = sourcePicture(input, BELOW - 4);
  if (seen) {
    flow.place(seen.items, x, top);
    flow.add(text('text', [x, top + seen.height + 3], seen.words, 6.5));
    x += seen.width + 5;
  }
  const legend = [
    'Large letters: sections, inside the heavy lines. Bold numbers: the order in which the pieces of a section are sewn. Small letters: fabrics.',
    'Numbers in circles: the order in which sections are joined.',
    'The templates are the mirror image of this page.',
  ];
  const words = Math.min(72, flow.left + flow.width - x);
  let y = top + 2.6;
  for (const line of legend.flatMap((l) => wrapText(l, 7.5, 'regular', words))) {
    flow.add(text('text', [x, y], line, 7.5));
    y += 3.7;
  }
  drawCodes(flow, input, x + words + 5, top);
  flow.y = top + BELOW;
}

/** The fabrics in small, as many columns as there is room for. */
function drawCodes(flow: Flow, { block }: PacketInput, left: number, top: number): void {
  const rows = 6;
  const width = 11;
  const columns = Math.max(1, Math.floor((flow.left + flow.width - left) / (width + 11)));
  block.fabrics.slice(0, rows * columns).forEach((f, i) => {
    const x = left + Math.floor(i / rows) * (width + 11);
    const y = top + (i % rows) * 5.2;
    flow.add(...swatch(f, x, y, 4.2), text('text', [x + width - 1.2, y + 3.2], f.code, 7.5, { font: 'bold' }));
  });
}

/** What the block was made from: the picture; where that is not at hand, its shades. About its upper left corner. */
function sourcePicture(
  { block, picture, outlines }: PacketInput,
  side: number,
): { items: Item[]; width: number; height: number; words: string } | undefined {
  if (picture) {
    const { width, height } = sizeWithin([picture.width, picture.height], side * 1.5, side);
    const image: Item = { kind: 'image', role: 'picture', at: [0, 0], width, height, file: picture.file };
    return {
      items: [image, rectangle('box', 0, 0, width, height, { stroke: { width: 0.2 } })],
      ...{ width, height, words: 'your picture' },
    };
  }
  // the regions of a block without a picture are its own pieces: they would show nothing new
  const pieces = block.sections.reduce((n, s) => n + s.pieces.length, 0);
  if (!outlines || outlines.regions.length === pieces) return undefined;
  const { scale, width, height } = sizeWithin(outlines.size, side * 1.5, side);
  const colours = [...fabricsById(block).values()].map((f) => f.colour);
  const items = outlines.regions.map((r): Item => {
    const colour = colours[r.fabric] ?? '#ffffff';
    return {
      ...polygon('picture', scaled(r.rings[0]!, scale), { fill: colour, stroke: { width: 0.05, colour } }),
      rings: r.rings.map((ring) => scaled(ring, scale)),
    };
  });
  return {
    items: [...items, rectangle('box', 0, 0, width, height, { stroke: { width: 0.2 } })],
    ...{ width, height, words: 'the picture in its shades' },
  };
}
