// A template too large for any sheet -> parts with an overlap to paste, each cut edge numbered, crosses where parts meet. The
// parts are laid on sheets like templates.
import { clipSegment, insetConvex, intersectConvex } from '../drawing/clip.ts';
import { type Item, placeItems, placePoints, polygon, rectanglePoints, segments, text } from '../drawing/drawing.ts';
import { textCorners } from '../drawing/fonts.ts';
import {
  type Bounds,
  boundsOf,
  convexHull,
  insideConvex,
  type Point,
  type Polygon,
  type Segment,
} from '../geometry/polygon.ts';
import { type Area, boxAt, edgeTurns } from './pack-boxes.ts';
import { Room } from './room.ts';
import type { Template } from './template.ts';

/** mm that neighbouring parts share */
const OVERLAP = 15;
const CROSS = 3;
/** mm that its arms keep off words */
const OFF_WORDS = 1.1;
/** mm of paper left around a part */
const RIM = 1;
/** pt, and mm from the line to the baseline on either side: the ink keeps 1.2 mm off it */
const WORDS = 7;
const BESIDE = { upright: [-3.2, 1.9, -5.4, 4.1], level: [-1.9, 3.2, -4.1, 5.4] } as const;

export interface Part {
  readonly items: readonly Item[];
  /** what it takes up: convex */
  readonly shape: Polygon;
}

interface Grid {
  readonly turn: number;
  readonly nx: number;
  readonly ny: number;
}

/** The turn at which the fewest parts fit the area, and how many across and down. */
function fewestParts(t: Template, area: Area): Grid {
  const parts = (size: number, one: number): number =>
    size <= one ? 1 : Math.ceil((size - OVERLAP) / (one - OVERLAP));
  let best: Grid | undefined;
  for (const turn of edgeTurns(t.parts)) {
    const b = boxAt(t.parts, turn);
    const nx = parts(b.maxX - b.minX + 2 * RIM, area.width);
    const ny = parts(b.maxY - b.minY + 2 * RIM, area.height);
    const better = !best || nx * ny < best.nx * best.ny;
    if (better || (nx * ny === best!.nx * best!.ny && Math.abs(turn) < Math.abs(best!.turn))) best = { turn, nx, ny };
  }
  return best!;
}

/** Middles of the overlaps where a length and the rim at its ends are covered by so many equal parts. */
function overlapsIn(length: number, parts: number): number[] {
  const one = (length + 2 * RIM + (parts - 1) * OVERLAP) / parts;
  return Array.from({ length: parts - 1 }, (_, k) => one - RIM - OVERLAP / 2 + k * (one - OVERLAP));
}

/** Equal parts, each about the block's origin turned; none larger than the area. `redraw` draws the template again with no
 *  words across the given lines. */
export function splitTemplate(whole: Template, area: Area, redraw: (apart: readonly Segment[]) => Template): Part[] {
  const { turn, nx, ny } = fewestParts(whole, area);
  const b = boxAt(whole.parts, turn);
  const place = { turn, dx: -b.minX, dy: -b.minY };
  const [w, h] = [b.maxX - b.minX, b.maxY - b.minY];
  const across = overlapsIn(w, nx);
  const down = overlapsIn(h, ny);
  const far = 2 * (w + h);
  const edges: Segment[] = [
    ...across.map(
      (x): Segment => [
        [x, -far],
        [x, far],
      ],
    ),
    ...down.map(
      (y): Segment => [
        [-far, y],
        [far, y],
      ],
    ),
  ];
  const back = ([x, y]: Point): Point => placePoints([[x + b.minX, y + b.minY]], { turn: -turn, dx: 0, dy: 0 })[0]!;
  const t = redraw(edges.map(([p, q]): Segment => [back(p), back(q)]));
  const items = placeItems(t.items, place);
  const cut = placePoints(t.cut, place);
  const hull = insetConvex(convexHull(t.parts.flatMap((P) => placePoints(P, place))), -RIM);
  const room = new Room();
  room.add(items);
  const marks = edgeMarks(edges, t.section.id, cut, room);
  const shapes: Polygon[] = [];
  for (let iy = 0; iy < ny; iy++)
    for (let ix = 0; ix < nx; ix++) {
      const half = OVERLAP / 2;
      const x0 = ix ? across[ix - 1]! - half : -RIM;
      const x1 = ix < nx - 1 ? across[ix]! + half : w + RIM;
      const y0 = iy ? down[iy - 1]! - half : -RIM;
      const y1 = iy < ny - 1 ? down[iy]! + half : h + RIM;
      const ring = rectanglePoints(x0, y0, x1 - x0, y1 - y0);
      if (!intersectConvex(cut, ring).length) continue;
      shapes.push(intersectConvex(hull, ring));
    }
  // words and signs that another part shows whole are left out where they would be cut off
  const holds = (shape: Polygon, it: Item): boolean => reachOf(it).every((q) => insideConvex(shape, q, -0.5));
  return shapes.map((shape): Part => {
    // what lies off the part is not drawn under its clip: a section in a hundred parts would be drawn a hundred times
    const shown = [...items, ...marks].flatMap((it) => {
      const here = within(it, boundsOf(shape));
      return here && (!isSign(here) || holds(shape, here) || !shapes.some((other) => holds(other, here))) ? [here] : [];
    });
    return {
      shape,
      items: [
        { kind: 'clip', role: 'overlap', ring: shape, items: shown },
        polygon('overlap', shape, { stroke: { width: 0.1 } }),
      ],
    };
  });
}

/** The item without those of its lines that lie off the box, ink and all; undefined where none is left. */
function within(it: Item, box: Bounds): Item | undefined {
  if (it.kind === 'path') {
    const ink = it.stroke?.width ?? 0;
    const rings = it.rings.filter((r) => meets(r, box, ink));
    return rings.length === it.rings.length ? it : rings.length ? { ...it, rings } : undefined;
  }
  if (it.kind === 'group' || it.kind === 'clip') {
    const items = it.items.flatMap((one) => within(one, box) ?? []);
    return items.length ? { ...it, items } : undefined;
  }
  return it.kind === 'image' || meets(reachOf(it), box, it.kind === 'circle' ? (it.stroke?.width ?? 0) : 0)
    ? it
    : undefined;
}

function meets(points: readonly Point[], box: Bounds, by: number): boolean {
  const b = boundsOf(points);
  return b.minX - by <= box.maxX && b.maxX + by >= box.minX && b.minY - by <= box.maxY && b.maxY + by >= box.minY;
}

const isSign = (it: Item): boolean =>
  it.kind === 'text' || it.kind === 'circle' || (it.kind === 'path' && (it.role === 'arrow' || it.role === 'leader'));

function reachOf(it: Item): readonly Point[] {
  if (it.kind === 'text') return textCorners(it);
  if (it.kind === 'circle') {
    const [[x, y], r] = [it.centre, it.radius];
    return rectanglePoints(x - r, y - r, 2 * r, 2 * r);
  }
  return it.kind === 'path' ? it.rings.flat() : [];
}

/** The lines on which parts are pasted, crosses on them where they touch no words, and their numbers where nothing else stands. */
function edgeMarks(edges: readonly Segment[], id: string, cut: Polygon, room: Room): Item[] {
  const lines = edges.flatMap((line, i) => clipSegment(line, cut, []).map((part) => ({ part, number: i + 1 })));
  const marks: Item[] = lines.map(({ part }) => segments('overlap', [part], { width: 0.2, dash: [6, 1.5] }));
  // all lines first: the words of one edge must keep off the others
  room.add(marks);
  for (const { part } of lines) {
    const crosses = [0.15, 0.85].flatMap((share) => crossNear(part, share, room));
    const drawn = segments('overlap', crosses, { width: 0.2 });
    marks.push(drawn);
    room.add([drawn]);
  }
  for (const { part, number } of lines) {
    const upright = part[0][0] === part[1][0];
    const words = [`section ${id}: paste on edge ${number}`, `${id} edge ${number}`, `edge ${number}`];
    const label = words.flatMap((say) =>
      sharesAbout(0.5).flatMap((share) =>
        (upright ? BESIDE.upright : BESIDE.level).map((off) => {
          const q = along(part, share);
          const at: Point = upright ? [q[0] + off, q[1]] : [q[0], q[1] + off];
          return text('overlap', at, say, WORDS, { align: 'middle', turn: upright ? 90 : 0 });
        }),
      ),
    );
    const free = label.find((l) => room.freeForText(textCorners(l)));
    if (free) {
      marks.push(free);
      room.add([free]);
    }
  }
  return marks;
}

const along = ([p, q]: Segment, share: number): Point => [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])];

/** Shares of a line, those near `middle` first. */
const sharesAbout = (middle: number): number[] =>
  Array.from({ length: 41 }, (_, k) => middle + (k % 2 ? -1 : 1) * Math.ceil(k / 2) * 0.022).filter(
    (s) => s >= 0 && s <= 1,
  );

/** The arms of a cross on the line, as near to a share of it as words leave room. */
function crossNear(line: Segment, share: number, room: Room): Segment[] {
  const arms = sharesAbout(share).map((s): Segment[] => {
    const [x, y] = along(line, s);
    return [-CROSS, CROSS].map(
      (by): Segment => [
        [x - CROSS, y - by],
        [x + CROSS, y + by],
      ],
    );
  });
  return arms.find((pair) => pair.every((arm) => room.freeForLine(arm, OFF_WORDS))) ?? arms[0]!;
}
