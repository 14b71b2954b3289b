// One step of a section in small: what is sewn by then, the newest piece in its colour with a bold seam, the rest paler.
import type { Fabric, Section } from '../block.ts';
import { type Item, polygon, polyline } from '../drawing/drawing.ts';
import { boundsOf, type Point } from '../geometry/polygon.ts';
import { scaled, sizeWithin } from './block-picture.ts';

/** After `n` pieces (from 1), seen from the front, in the middle of a box about its upper left corner; gives its height. */
export function stepPicture(
  s: Section,
  n: number,
  fabrics: ReadonlyMap<string, Fabric>,
  width: number,
  most: number,
  least = 0,
): { items: Item[]; height: number } {
  const b = boundsOf(s.outline);
  const size = sizeWithin([b.maxX - b.minX, b.maxY - b.minY], width, most);
  const height = Math.max(size.height, least);
  const dx = (width - size.width) / 2 - b.minX * size.scale;
  const dy = (height - size.height) / 2 - b.minY * size.scale;
  const place = (P: readonly Point[]): Point[] => scaled(P, size.scale, dx, dy);
  const items: Item[] = [
    polygon('outline', place(s.outline), { stroke: { width: 0.1, colour: '#777777', dash: [0.8, 0.8] } }),
  ];
  for (const p of s.pieces.slice(0, n)) {
    const colour = fabrics.get(p.fabric)!.colour;
    const newest = p.number === n;
    items.push(
      polygon('fill', place(p.outline), {
        fill: newest ? colour : paler(colour),
        stroke: { width: newest ? 0.25 : 0.12, ...(newest ? {} : { colour: '#777777' }) },
      }),
    );
  }
  const { seam } = s.pieces[n - 1]!;
  if (seam) items.push(polyline('seam', place(seam), { width: 0.7 }));
  return { items, height };
}

/** A colour two thirds of the way to white. */
function paler(colour: string): string {
  const part = (at: number): string => {
    const v = Number.parseInt(colour.slice(at, at + 2), 16);
    return Math.round(v + (255 - v) * 0.66)
      .toString(16)
      .padStart(2, '0');
  };
  return `#${part(1)}${part(3)}${part(5)}`;
}
