// One step of a section in small, from the front: what is sewn by then, the newest piece in its colour with a bold seam, the rest
// paler; the newest patch as a dashed rectangle where it lies when it is open; at the last step what is stitched on later.
import type { Block, Fabric, Mark, Section } from '../block.ts';
import { clipSegment } from '../drawing/clip.ts';
import { type Item, polygon, polyline, rectanglePoints, segments } from '../drawing/drawing.ts';
import { boundsOf, insideConvex, type Point, type Segment } from '../geometry/polygon.ts';
import { scaled } from './block-picture.ts';

/** How far beyond the section its patches are shown at most: mm or a share of its longer side, whichever is more; never more than this
 *  share of it */
const AROUND = { mm: 20, share: 0.27, most: 0.36 };
const PATCH = { width: 0.25, colour: '#444444', dash: [0.9, 0.6] as const };
const STITCHED = { width: 0.3, dash: [0.6, 0.4] as const };

export interface StepPicture {
  readonly items: Item[];
  readonly height: number;
}

export interface StepOptions {
  /** the newest patch's corners on the finished face */
  readonly patch?: readonly Point[];
  /** mm left free about the section for patches: all pictures of a section alike */
  readonly around?: number;
  /** what is stitched or inked on: shown where it lies in the section */
  readonly later?: Pick<Block, 'marks' | 'stitches'>;
  /** mm */
  readonly least?: number;
}

/** After `n` pieces (from 1), seen from the front, in the middle of a box about its upper left corner; gives its height. */
export function stepPicture(
  s: Section,
  n: number,
  fabrics: ReadonlyMap<string, Fabric>,
  width: number,
  most: number,
  { patch, around = 0, later, least = 0 }: StepOptions = {},
): StepPicture {
  const b = boundsOf(s.outline);
  const [w, h] = [b.maxX - b.minX, b.maxY - b.minY];
  const scale = Math.min(width / (w + 2 * around), most / (h + 2 * around));
  const height = Math.max((h + 2 * around) * scale, least);
  const dx = width / 2 - ((b.minX + b.maxX) / 2) * scale;
  const dy = height / 2 - ((b.minY + b.maxY) / 2) * scale;
  const place = (P: readonly Point[]): Point[] => scaled(P, scale, dx, dy);
  const items: Item[] = [
    polygon('outline', place(s.outline), { stroke: { width: 0.1, colour: '#777777', dash: [0.8, 0.8] } }),
  ];
  for (const p of s.pieces.slice(0, n)) {
    const { colour } = fabrics.get(p.fabric)!;
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
  if (patch) {
    const box = rectanglePoints(0, 0, width, height);
    const corners = place(patch);
    const sides = corners.map((q, i): Segment => [q, corners[(i + 1) % corners.length]!]);
    const shown = sides.flatMap((side) => clipSegment(side, box, []));
    if (shown.length) items.push(segments('overlap', shown, PATCH));
  }
  if (later) items.push(...stitchedOn(s, later, place));
  return { items, height };
}

/** How much room about a section shows its patches, within reason. */
export function roomForPatches(s: Section, corners: readonly Point[]): number {
  const b = boundsOf(s.outline);
  const out = corners.map(([x, y]) => Math.max(b.minX - x, x - b.maxX, b.minY - y, y - b.maxY));
  const longer = Math.max(b.maxX - b.minX, b.maxY - b.minY);
  const most = Math.min(Math.max(AROUND.mm, AROUND.share * longer), AROUND.most * longer);
  return Math.min(Math.max(0, ...out) + 1, most);
}

/** What is stitched or inked on a section when the block is finished. */
export const marksOn = (s: Section, marks: readonly Mark[] = []): Mark[] =>
  marks.filter((m) => s.pieces.some((p) => insideConvex(p.outline, m.at, 0.01)));

function stitchedOn(
  s: Section,
  { marks = [], stitches = [] }: Pick<Block, 'marks' | 'stitches'>,
  place: (P: readonly Point[]) => Point[],
): Item[] {
  const shapes = marksOn(s, marks).map((m) => {
    const [x, y] = m.at;
    const r = m.width / 2;
    const round = Array.from({ length: 12 }, (_, k): Point => {
      const a = (k * Math.PI) / 6;
      return [x + r * Math.cos(a), y + r * Math.sin(a)];
    });
    return polygon('outline', place(m.outline ?? round), { stroke: STITCHED });
  });
  const lines = stitches.flatMap((points) =>
    points.slice(1).flatMap((q, i) => s.pieces.flatMap((p) => clipSegment([points[i]!, q], p.outline, []))),
  );
  return [
    ...shapes,
    ...(lines.length
      ? [
          segments(
            'outline',
            lines.map(([a, b]) => place([a, b]) as unknown as Segment),
            STITCHED,
          ),
        ]
      : []),
  ];
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
