// The joins in sewing order, each as a small picture: one side dark, the other light, the seam between them bold.
import type { Block, Join } from '../block.ts';
import { polyline, rectangle, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { distance, offLine, type Point } from '../geometry/polygon.ts';
import { formatLength } from '../units.ts';
import { scaled, sectionPicture, sizeWithin } from './block-picture.ts';
import { type Cell, Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';

/** mm: corners of both sides this near to one another are one point (trade rule 5) */
const MATCH = 0.25;
const ON_LINE = 0.02;

/** How many points inside the join must meet: piece corners of both sides at one place. */
export function pointsToMatch(block: Block, join: Join): number {
  const [a, b] = join.seam;
  const cornersOf = (ids: readonly string[]): Point[] => {
    const out: Point[] = [];
    for (const s of block.sections)
      if (ids.includes(s.id))
        for (const p of s.pieces)
          for (const q of p.outline)
            if (
              Math.abs(offLine(a, b, q)) < ON_LINE &&
              distance(q, a) > MATCH &&
              distance(q, b) > MATCH &&
              !out.some((o) => distance(o, q) < MATCH)
            )
              out.push(q);
    return out;
  };
  const right = cornersOf(join.right);
  return cornersOf(join.left).filter((q) => right.some((r) => distance(q, r) < MATCH)).length;
}

export function drawJoins(input: PacketInput): Flow | undefined {
  const { block, system } = input;
  if (!block.joins.length) return undefined;
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Joining the sections');
  flow.paragraph(
    'In this order. Lay the two sides right sides together, match the crosses at both ends first, then the ticks; pin, baste across the points that must meet, sew on the line from paper edge to paper edge. Take the paper out of this allowance only, and press the seam open. Pictures show the front.',
  );
  flow.space(2);
  const columns = Math.max(3, Math.round(flow.width / 48));
  const gap = 5;
  const width = (flow.width - gap * (columns - 1)) / columns;
  const cells = block.joins.map((j): Cell => {
    const size = sizeWithin(block.size, width, width);
    const left = new Set(j.left);
    const right = new Set(j.right);
    const items = sectionPicture(block, size.scale, (id) =>
      left.has(id) ? '#9a9a9a' : right.has(id) ? '#dddddd' : undefined,
    );
    items.push(polyline('seam', scaled(j.seam, size.scale), { width: 0.9 }));
    items.push(rectangle('box', 0, 0, size.width, size.height, { stroke: { width: 0.3 } }));
    let y = size.height + 4.2;
    items.push(tickBox(0, y - 2.9));
    items.push(text('text', [4.4, y], `Join ${j.number}`, 9, { font: 'bold' }));
    const points = pointsToMatch(block, j);
    const length = formatLength(distance(j.seam[0], j.seam[1]), system);
    const words = [
      ...wrapText(`${j.left.join(' ')}  +  ${j.right.join(' ')}`, 8, 'regular', width),
      `${length}${points ? `, ${points} ${points === 1 ? 'point' : 'points'} to match` : ''}`,
    ];
    for (const line of words) {
      y += 3.7;
      items.push(text('text', [0, y], line, 8));
    }
    return { items, height: y + 2 };
  });
  flow.grid(cells, columns, gap);
  return flow;
}
