// The joins as trees of pictures: from the sections at the left to the block at the right, what is sewn so far in its colours,
// the seam of each join bold.
import type { Block, Join } from '../block.ts';
import { type Item, polyline, text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import { boundsOf, distance, offLine, type Point } from '../geometry/polygon.ts';
import { formatLength } from '../units.ts';
import { partPicture, scaled } from './block-picture.ts';
import { type Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { buildJoinTree, countLeaves, type JoinNode, levelOf, partTree } from './join-tree.ts';

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

/** mm of a leaf's row, of a join's words below its picture, between the rule of a row and the words of the one above */
const ROW = { least: 8.5, most: 19 };
const WORDS = 7.4;
const LETTERS = 12;
const COLUMN = 18;
const LARGEST = 32;
const LINE = { width: 0.25, colour: '#8a8a8a' };

export function drawJoins(flow: Flow, input: PacketInput): void {
  const { block } = input;
  flow.heading('Joining the sections');
  flow.paragraph(
    'Work from left to right, in the order of the numbers. Lay the two sides right sides together. Match crosses, ticks and double ticks: first the crosses at both ends, then the ticks. Pin, and baste where points must meet (×2: two of them). Sew on the line from paper edge to paper edge. Take the paper out of this seam allowance only, and press the seam open. Pictures show the front; the new seam is bold.',
    { size: 9 },
  );
  flow.space(1);
  const first = flow.bottom - flow.y;
  const figures = partTree(
    buildJoinTree(block),
    Math.max(3, Math.floor(first / ROW.least)),
    Math.max(2, Math.floor((flow.width - LETTERS - ROW.most) / COLUMN)),
  );
  figures.forEach((tree, i) => {
    const leaves = countLeaves(tree);
    const title = figures.length > 1 ? 7 : 0;
    flow.need(leaves * ROW.least + title + WORDS);
    if (title) flow.paragraph(figureTitle(i, figures.length), { bold: true, size: 10.5 });
    const room = flow.bottom - flow.y - WORDS;
    const row = Math.min(ROW.most, room / Math.max(leaves, 3));
    flow.add(...drawTree(input, tree, flow.left, flow.y, flow.width, row));
    flow.y += leaves * row + WORDS / 2;
  });
}

const figureTitle = (i: number, of: number): string =>
  i + 1 === of ? `Part ${of}: all together` : `Part ${i + 1} of ${of}`;

function drawTree(input: PacketInput, tree: JoinNode, x: number, y: number, width: number, row: number): Item[] {
  const { block, system } = input;
  const items: Item[] = [];
  const leafSide = Math.min(row - 1.5, 16);
  const from = x + LETTERS + leafSide + 3;
  const column = Math.min(40, (x + width - from) / Math.max(1, levelOf(tree)));
  // two joins of one column are at least two rows apart
  const side = Math.min(LARGEST, column - 4, 2 * row - WORDS);
  let leaf = 0;
  /** where the branch of a node goes on: the right end of its picture */
  const place = (n: JoinNode): Point => {
    if (!n.children.length) {
      const middle = y + (leaf++ + 0.5) * row;
      const name = n.figure ? [`part ${n.figure}`] : n.ids;
      items.push(text('text', [x, middle + 1.2], name[0]!, n.figure ? 7.5 : 10, { font: 'bold' }));
      return [picture(n, x + LETTERS, middle, leafSide, leafSide), middle];
    }
    const ends = n.children.map((c) => place(c));
    const middle = (ends[0]![1] + ends[1]![1]) / 2;
    const left = from + (levelOf(n) - 1) * column;
    const bend = left - 1.6;
    const right = picture(n, left, middle, side, side);
    for (const [ex, ey] of ends)
      items.push(
        polyline(
          'rule',
          [
            [ex + 0.6, ey],
            [bend, ey],
            [bend, middle],
          ],
          LINE,
        ),
      );
    items.push(
      polyline(
        'rule',
        [
          [bend, middle],
          [left - 0.5, middle],
        ],
        LINE,
      ),
    );
    const join = n.join!;
    let base = middle + side / 2 + 3.2;
    items.push(tickBox(left, base - 2.4, 2.6), text('text', [left + 3.5, base], `${join.number}`, 8, { font: 'bold' }));
    const points = pointsToMatch(block, join);
    if (points) {
      const own = measureText(`${join.number}`, 8, 'bold').width;
      items.push(text('text', [left + 4.8 + own, base], `×${points}`, 7));
    }
    // not as far as the line that goes up or down before the next column
    const [length] = wrapText(formatLength(distance(join.seam[0], join.seam[1]), system), 6.5, 'regular', column - 3);
    base += 2.8;
    items.push(text('text', [left, base], length!, 6.5));
    return [right, middle];
  };
  /** the node's pieces in their colours, within a box whose left middle is given; gives the right end */
  const picture = (n: JoinNode, left: number, middle: number, w: number, h: number): number => {
    const outlines = block.sections.filter((s) => n.ids.includes(s.id)).map((s) => s.outline);
    const b = boundsOf(outlines.flat());
    const scale = Math.min(w / (b.maxX - b.minX), h / (b.maxY - b.minY));
    const dx = left + (w - (b.maxX - b.minX) * scale) / 2 - b.minX * scale;
    const dy = middle - ((b.minY + b.maxY) / 2) * scale;
    items.push(...partPicture(block, n.ids, scale, dx, dy));
    if (n.join) {
      const seam = scaled(n.join.seam, scale, dx, dy);
      items.push(polyline('seam', seam, { width: 1.5, colour: '#ffffff' }), polyline('seam', seam, { width: 0.8 }));
    }
    return left + w;
  };
  place(tree);
  return items;
}
