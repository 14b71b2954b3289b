// A template too large for any sheet -> parts with an overlap to paste, each cut edge numbered, crosses where parts meet.
import { clipSegment, intersectConvex } from '../drawing/clip.ts';
import { type Item, placeItems, placePoints, rectangle, rectanglePoints, segments, text } from '../drawing/drawing.ts';
import type { Point, Segment } from '../geometry/polygon.ts';
import { type Area, boxAt, edgeTurns } from './pack-boxes.ts';
import type { Template } from './template.ts';

/** mm that neighbouring parts share */
const OVERLAP = 15;

/** One list of items per part, each about the area's upper left corner. */
export function splitTemplate(t: Template, area: Area): Item[][] {
  const step: [number, number] = [area.width - OVERLAP, area.height - OVERLAP];
  const parts = (size: number, one: number, by: number): number => (size <= one ? 1 : 1 + Math.ceil((size - one) / by));
  let best: { turn: number; nx: number; ny: number } | undefined;
  for (const turn of edgeTurns(t.parts)) {
    const b = boxAt(t.parts, turn);
    const nx = parts(b.maxX - b.minX, area.width, step[0]);
    const ny = parts(b.maxY - b.minY, area.height, step[1]);
    const better = !best || nx * ny < best.nx * best.ny;
    if (better || (nx * ny === best!.nx * best!.ny && Math.abs(turn) < Math.abs(best!.turn))) best = { turn, nx, ny };
  }
  const { turn, nx, ny } = best!;
  const b = boxAt(t.parts, turn);
  const items = placeItems(t.items, { turn, dx: -b.minX, dy: -b.minY });
  const cut = placePoints(t.cut, { turn, dx: -b.minX, dy: -b.minY });
  const out: Item[][] = [];
  for (let iy = 0; iy < ny; iy++)
    for (let ix = 0; ix < nx; ix++) {
      const [x0, y0] = [ix * step[0], iy * step[1]];
      const ring = rectanglePoints(x0, y0, area.width, area.height);
      if (!intersectConvex(cut, ring).length) continue;
      const marks: Item[] = [];
      // an edge between columns k and k + 1 carries the number k + 1; between rows it goes on after the columns
      const edge = (line: Segment, number: number): void => {
        marks.push(segments('overlap', [line], { width: 0.2, dash: [6, 1.5] }));
        const crosses: Segment[] = [];
        for (const part of clipSegment(line, cut, []))
          for (const share of [0.15, 0.85]) {
            const q: Point = [
              part[0][0] + share * (part[1][0] - part[0][0]),
              part[0][1] + share * (part[1][1] - part[0][1]),
            ];
            crosses.push(
              [
                [q[0] - 3, q[1] - 3],
                [q[0] + 3, q[1] + 3],
              ],
              [
                [q[0] - 3, q[1] + 3],
                [q[0] + 3, q[1] - 3],
              ],
            );
            marks.push(text('overlap', [q[0] + 4, q[1] + 4.5], `edge ${number}`, 7));
          }
        if (crosses.length) marks.push(segments('overlap', crosses, { width: 0.2 }));
      };
      const midX = (k: number): number => k * step[0] + OVERLAP / 2;
      const midY = (k: number): number => k * step[1] + OVERLAP / 2;
      const [y1, x1] = [y0 + area.height, x0 + area.width];
      for (const k of [ix, ix + 1])
        if (k > 0 && k < nx)
          edge(
            [
              [midX(k), y0],
              [midX(k), y1],
            ],
            k + (nx - 1) * iy,
          );
      for (const k of [iy, iy + 1])
        if (k > 0 && k < ny)
          edge(
            [
              [x0, midY(k)],
              [x1, midY(k)],
            ],
            (nx - 1) * ny + k + (ny - 1) * ix,
          );
      const clip: Item = { kind: 'clip', role: 'overlap', ring, items: [...items, ...marks] };
      const words = text(
        'overlap',
        [x0 + 2, y0 + 4],
        `section ${t.section.id}, part ${out.length + 1}: paste on the dashed lines, crosses on crosses, equal numbers together`,
        7,
      );
      const frame = rectangle('overlap', x0, y0, area.width, area.height, { stroke: { width: 0.1 } });
      out.push(placeItems([clip, frame, words], { turn: 0, dx: -x0, dy: -y0 }));
    }
  return out;
}
