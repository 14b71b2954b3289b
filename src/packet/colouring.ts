// The colouring page: the picture's regions as thin outlines, or the pieces where no outlines were made.
import { type Item, type PathItem, placeItems, rectangle } from '../drawing/drawing.ts';
import { scaled, sizeWithin } from './block-picture.ts';
import { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';

export function drawColouring(input: PacketInput): Flow {
  const flow = new Flow(input.paper, input.margin);
  const { block, outlines } = input;
  flow.heading('To colour in');
  flow.paragraph(
    outlines
      ? 'The picture as it was before it was cut into straight pieces. Try other fabrics with crayons before you buy any.'
      : 'Try other fabrics with crayons before you buy any.',
  );
  flow.space(2);
  const base = outlines?.size ?? block.size;
  const size = sizeWithin(base, flow.width, flow.bottom - flow.y);
  const ring = (rings: PathItem['rings']): Item => ({
    kind: 'path',
    role: 'outline',
    rings: rings.map((r) => scaled(r, size.scale)),
    closed: true,
    stroke: { width: 0.3, colour: '#555555' },
  });
  const items = outlines
    ? outlines.regions.map((r) => ring(r.rings))
    : block.sections.flatMap((s) => s.pieces.map((p) => ring([p.outline])));
  items.push(rectangle('box', 0, 0, size.width, size.height, { stroke: { width: 0.4 } }));
  flow.add(...placeItems(items, { turn: 0, dx: flow.left + (flow.width - size.width) / 2, dy: flow.y }));
  return flow;
}
