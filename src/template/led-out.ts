// Labels for which a piece has no room: a thin line from a dot in the piece to free paper outside the cut line.
import { deepestPoint, insetConvex, spanInside } from '../drawing/clip.ts';
import { BLACK, type Item, placeItems, polyline, walkItems } from '../drawing/drawing.ts';
import { textCorners } from '../drawing/fonts.ts';
import { boundsOf, insideConvex, type Point, type Polygon } from '../geometry/polygon.ts';
import type { Cell } from './cells.ts';
import { circleCorners, type Room } from './room.ts';

/** mm the words stand off the cut line, and the line off the words */
const BEYOND = 2.2;
const BEFORE_WORDS = 1.1;
/** mm that a leader keeps off all words; where it cannot, it comes nearer rather than leave a piece without its number */
const OFF_WORDS = [1.1, 0.4, -1];

const corners = (items: readonly Item[]): Polygon[] => {
  const out: Polygon[] = [];
  for (const it of walkItems(items))
    if (it.kind === 'text') out.push(textCorners(it));
    // the ring about a first piece's number takes room as well
    else if (it.kind === 'circle') out.push(circleCorners(it.centre, it.radius + (it.stroke?.width ?? 0) / 2));
  return out;
};

const liesIn = (within: Polygon | undefined, P: Polygon): boolean => !within || P.every((q) => insideConvex(within, q));

/** The shortest leader that crosses no words and ends on free paper. Throws where there is none at any distance. */
export function leadOut(
  piece: Polygon,
  cell: Cell,
  cut: Polygon,
  room: Room,
  within?: Polygon,
): { items: Item[]; words: Polygon } {
  const { at } = deepestPoint(piece);
  let best: { items: Item[]; words: Polygon; cost: number } | undefined;
  for (const gap of OFF_WORDS)
    for (let push = 0; push < 12 && !best; push++)
      for (let degrees = 0; degrees < 360; degrees += 6) {
        const a = (degrees * Math.PI) / 180;
        const [dx, dy] = [Math.cos(a), Math.sin(a)];
        const far: Point = [at[0] + dx * 2000, at[1] + dy * 2000];
        const span = spanInside(cut, [at, far]);
        if (!span) continue;
        const length = span[1] * 2000 + BEYOND + push * 1.5;
        const cost = length;
        if (best && cost >= best.cost) continue;
        const end: Point = [at[0] + dx * length, at[1] + dy * length];
        // the words lie beyond the end, the middle of their near side at it
        const off = Math.min(
          (cell.width / 2 + BEFORE_WORDS) / Math.max(1e-6, Math.abs(dx)),
          (cell.height / 2 + BEFORE_WORDS) / Math.max(1e-6, Math.abs(dy)),
        );
        const items = placeItems(cell.items, { turn: 0, dx: end[0] + dx * off, dy: end[1] + dy * off });
        const boxes = corners(items);
        if (!boxes.every((b) => liesIn(within, b) && room.freeForText(b))) continue;
        if (!room.freeForLine([at, end], gap)) continue;
        const line = polyline('leader', [at, end], { width: 0.15 });
        const dot: Item = { kind: 'circle', role: 'leader', centre: at, radius: 0.45, fill: BLACK };
        const b = boundsOf(boxes.flat());
        const words: Point[] = [
          [b.minX, b.minY],
          [b.maxX, b.minY],
          [b.maxX, b.maxY],
          [b.minX, b.maxY],
        ];
        best = { items: [line, dot, ...items], words, cost };
      }
  // not all on the paper: the template will be printed in parts
  if (!best && within) return leadOut(piece, cell, cut, room);
  if (!best) throw new Error('no free paper for a label beside its template');
  return best;
}

/** Puts a cell on free paper just outside the cut line, where it grows the template's box least. */
export function putBeside(
  cell: Cell,
  cut: Polygon,
  taken: readonly Polygon[],
  room: Room,
  within?: Polygon,
): { items: Item[]; words: Polygon } {
  const b = boundsOf([...cut, ...taken.flat()]);
  const middle: Point = [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2];
  let best: { items: Item[]; words: Polygon; cost: number } | undefined;
  for (let degrees = 0; degrees < 360; degrees += 5) {
    const a = (degrees * Math.PI) / 180;
    const [dx, dy] = [Math.cos(a), Math.sin(a)];
    for (let r = 0; r < 1000; r += 1.5) {
      const at: Point = [middle[0] + dx * r, middle[1] + dy * r];
      const box: Point[] = [
        [at[0] - cell.width / 2, at[1] - cell.height / 2],
        [at[0] + cell.width / 2, at[1] - cell.height / 2],
        [at[0] + cell.width / 2, at[1] + cell.height / 2],
        [at[0] - cell.width / 2, at[1] + cell.height / 2],
      ];
      if (spanInside(cut, [at, [at[0] + 0.01, at[1]]]) || !room.freeForText(insetConvex(box, -0.5))) continue;
      if (!liesIn(within, box)) break;
      const grown = boundsOf([...cut, ...taken.flat(), ...box]);
      const cost = (grown.maxX - grown.minX) * (grown.maxY - grown.minY) + r;
      if (!best || cost < best.cost)
        best = { items: placeItems(cell.items, { turn: 0, dx: at[0], dy: at[1] }), words: box, cost };
      break;
    }
  }
  if (!best && within) return putBeside(cell, cut, taken, room);
  if (!best) throw new Error('no free paper for the section letter beside its template');
  return best;
}
