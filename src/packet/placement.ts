// The placement pages: what got no piece, at its place and full size, to be stitched or inked on the finished face. Only the
// windows of the block in which a mark lies are printed.
import type { Block, Mark } from '../block.ts';
import { pieceName } from '../block.ts';
import { type Item, placeItems, polygon, rectangle, rectanglePoints, segments, text } from '../drawing/drawing.ts';
import { boundsOf, insideConvex, type Point } from '../geometry/polygon.ts';
import { formatLength, formatSize } from '../units.ts';
import { fabricsById, facePicture, sizeWithin, stitchLines } from './block-picture.ts';
import type { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';

const PALE = '#9a9a9a';
/** mm between a mark and the window's edge, so that seams around it can be found */
const AROUND = 12;
/** mm shown above and below the marks: enough to find the place */
const SHOWN_AROUND = 32;
/** mm that must be left on a page that something else begins: for the whole face, for a window with its words */
const LEAST_PICTURE = 150;
const LEAST_WINDOW = 125;
const NUMBER = 2.6;

interface Numbered {
  readonly number: number;
  readonly mark: Mark;
}

const reach = (m: Mark): Point[] =>
  m.outline
    ? m.outline.map((q): Point => [q[0], q[1]])
    : rectanglePoints(m.at[0] - m.width / 2, m.at[1] - m.width / 2, m.width, m.width);

/** Marks in groups that each fit a window; a mark too large for one is a group of its own. */
function groupMarks(marks: readonly Numbered[], width: number, height: number): Numbered[][] {
  const groups: Numbered[][] = [];
  for (const m of marks) {
    const home = groups.find((g) => {
      const b = boundsOf([...g, m].flatMap((o) => reach(o.mark)));
      return b.maxX - b.minX + 2 * AROUND <= width && b.maxY - b.minY + 2 * AROUND <= height;
    });
    if (home) home.push(m);
    else groups.push([m]);
  }
  return groups;
}

/** From where to where the window reaches along one side, at most `most` long and not beyond the block. */
function span(low: number, high: number, size: number, most: number): [number, number] {
  const whole = size + 4 <= most;
  if (whole) return [-2, size + 2];
  const start = Math.min(Math.max((low + high - most) / 2, -2), size + 2 - most);
  return [start, start + most];
}

/** The whole face, with the lines that no piece shows. */
function drawStitches(flow: Flow, block: Block): void {
  // where it follows something: room for a picture that can be worked from
  flow.need(LEAST_PICTURE);
  flow.heading('Lines to stitch or ink on the finished block');
  flow.paragraph(
    'These lines of the drawing are too thin to piece. Draw them on the pressed block with a washable pen, by eye or over a grid; then stitch them (backstitch or stem stitch) or use a fabric pen. The steps show them too, dotted.',
  );
  flow.space(2);
  const { scale, width, height } = sizeWithin(block.size, flow.width, flow.bottom - flow.y - 6);
  const items = [...facePicture(block, scale, { width: 0.1, colour: '#777777' }), ...stitchLines(block, scale)];
  flow.add(...placeItems(items, { turn: 0, dx: flow.left + (flow.width - width) / 2, dy: flow.y }));
  flow.y += height + 4;
}

export function drawPlacement(flow: Flow, input: PacketInput): void {
  const { block, system } = input;
  const marks = (block.marks ?? []).map((mark, i): Numbered => ({ number: i + 1, mark }));
  if (block.stitches?.length) drawStitches(flow, block);
  if (!marks.length) return;
  if (block.stitches?.length) flow.newPage();
  const fabrics = fabricsById(block);
  const length = (mm: number): string => formatLength(mm, system);
  const intro = (first: boolean): void => {
    flow.heading(first ? 'Details to stitch or ink' : 'Details to stitch or ink, continued');
    if (first)
      flow.paragraph(
        'These small parts of the picture are narrower than a piece can be. Here they are at true size, seen from the front, dashed; the seams around them are gray. Lay the pressed block on this page against a window and trace them, or measure from the edges. Then stitch them (backstitch or satin stitch), appliqué them, or use a fabric pen.',
        { size: 9 },
      );
  };
  flow.need(LEAST_WINDOW);
  intro(true);
  const list = (group: readonly Numbered[]): string[] =>
    group.map(({ number, mark }) => {
      const b = boundsOf(reach(mark));
      const homes = piecesUnder(block, mark);
      const across = mark.outline
        ? `about ${formatSize([b.maxX - b.minX, b.maxY - b.minY], system)}`
        : `about ${length(mark.width)} across`;
      return (
        `${number}: ${fabrics.get(mark.fabric)?.name ?? mark.fabric}, ${across}` +
        `${homes.length ? `, on ${homes.length > 1 ? 'pieces' : 'piece'} ${homes.join(', ')}` : ''}; its middle is ${length(mark.at[0])} from the left edge and ${length(mark.at[1])} from the top edge of the finished block.`
      );
    });
  const lineHeight = 4.8;
  const first = flow.bottom - flow.y - 12;
  const groups = groupMarks(marks, flow.width, first - 3 * lineHeight);
  groups.forEach((group, i) => {
    if (i > 0) {
      flow.newPage();
      intro(false);
    }
    for (const words of list(group)) flow.paragraph(words, { size: 9 });
    flow.space(1.5);
    const b = boundsOf(group.flatMap((g) => reach(g.mark)));
    const [x0, x1] = span(b.minX, b.maxX, block.size[0], flow.width);
    const high = Math.min(flow.bottom - flow.y - 8, b.maxY - b.minY + 2 * SHOWN_AROUND);
    const [y0, y1] = span(b.minY, b.maxY, block.size[1], high);
    const items = drawWindow(block, group, [x0, y0, x1, y1]);
    const dx = flow.left + (flow.width - (x1 - x0)) / 2;
    flow.add(...placeItems(items, { turn: 0, dx: dx - x0, dy: flow.y - y0 }));
    flow.y += y1 - y0 + 4;
    const scale = system === 'inch' ? 50.8 : 50;
    flow.add(
      segments(
        'scale',
        [
          [
            [flow.left, flow.y],
            [flow.left + scale, flow.y],
          ],
          ...[0, scale].map((v): [Point, Point] => [
            [flow.left + v, flow.y - 1.2],
            [flow.left + v, flow.y + 1.2],
          ]),
        ],
        { width: 0.25 },
      ),
      text(
        'scale',
        [flow.left + scale + 3, flow.y + 0.9],
        `this line is ${system === 'inch' ? '2 in' : '5 cm'} long`,
        7.5,
      ),
    );
    flow.y += 6;
  });
}

function drawWindow(
  block: Block,
  group: readonly Numbered[],
  [x0, y0, x1, y1]: readonly [number, number, number, number],
): Item[] {
  const ring = rectanglePoints(x0, y0, x1 - x0, y1 - y0);
  const seams: Item[] = block.sections.flatMap((s) => [
    ...s.pieces.map((p) => polygon('seam', p.outline, { stroke: { width: 0.15, colour: PALE } })),
    polygon('sewing-line', s.outline, { stroke: { width: 0.35, colour: PALE } }),
  ]);
  const edge = rectangle('outer-edge', 0, 0, block.size[0], block.size[1], { stroke: { width: 0.5 } });
  const drawn = group.flatMap(({ number, mark }): Item[] => {
    const b = boundsOf(reach(mark));
    const stroke = { width: 0.5, dash: [1.6, 1] as const };
    const shape: Item = mark.outline
      ? polygon('outline', mark.outline, { stroke })
      : { kind: 'circle', role: 'outline', centre: mark.at, radius: mark.width / 2, stroke };
    // the number stands beside the mark, on a disc that hides the seams under it; on the side with more room
    const right = b.maxX + 2 * NUMBER + 2 < x1;
    const at: Point = [right ? b.maxX + NUMBER + 1.5 : b.minX - NUMBER - 1.5, mark.at[1]];
    return [
      shape,
      { kind: 'circle', role: 'ring', centre: at, radius: NUMBER, fill: '#ffffff', stroke: { width: 0.25 } },
      text('text', [at[0], at[1] + 1.2], String(number), 9, { font: 'bold', align: 'middle' }),
    ];
  });
  return [
    { kind: 'clip', role: 'picture', ring, items: [...seams, edge] },
    polygon('box', ring, { stroke: { width: 0.2, dash: [0.8, 0.8] } }),
    ...drawn,
  ];
}

/** Every piece that a detail lies on, the one under its middle first. */
function piecesUnder(block: Block, mark: Mark): string[] {
  const on = (q: Point): string[] =>
    block.sections.flatMap((s) => s.pieces.filter((p) => insideConvex(p.outline, q, 0.01)).map((p) => pieceName(s, p)));
  const corners =
    mark.outline ??
    [0, 1, 2, 3, 4, 5].map((k): Point => {
      const a = (k * Math.PI) / 3;
      return [mark.at[0] + (mark.width / 2) * Math.cos(a), mark.at[1] + (mark.width / 2) * Math.sin(a)];
    });
  // corners just outside a piece do not make it two
  const inward = corners.map(([x, y]): Point => [x + (mark.at[0] - x) * 0.1, y + (mark.at[1] - y) * 0.1]);
  return [...new Set([mark.at as Point, ...inward].flatMap(on))];
}
