// What already stands on a template: lines and texts. New texts ask here whether they would touch any of it.
import { convexTouch, distanceToConvex, insetConvex } from '../drawing/clip.ts';
import { type Item, walkItems } from '../drawing/drawing.ts';
import { textCorners } from '../drawing/fonts.ts';
import { type Bounds, boundsOf, type Point, type Polygon, type Segment } from '../geometry/polygon.ts';
import { TEXT_CLEAR } from './cells.ts';

interface Line {
  readonly line: Segment;
  readonly half: number;
  readonly bounds: Bounds;
}

/** mm between two texts at least */
const TEXTS_APART = 0.7;

export class Room {
  private readonly lines: Line[] = [];
  private readonly texts: Polygon[] = [];

  /** Takes note of everything that is drawn in lines or words; hatches and fills do not count, they give way. */
  add(items: readonly Item[]): void {
    for (const it of walkItems(items)) {
      if (it.role === 'hatch' || it.role === 'fill') continue;
      if (it.kind === 'text') this.texts.push(textCorners(it));
      else if (it.kind === 'circle')
        this.addRing(circleCorners(it.centre, it.radius), true, (it.stroke?.width ?? 0) / 2);
      else if (it.kind === 'path') for (const r of it.rings) this.addRing(r, it.closed, (it.stroke?.width ?? 0) / 2);
    }
  }

  private addRing(ring: readonly Point[], closed: boolean, half: number): void {
    for (let i = 0; i + (closed ? 0 : 1) < ring.length; i++) {
      const line: Segment = [ring[i]!, ring[(i + 1) % ring.length]!];
      this.lines.push({ line, half, bounds: boundsOf(line) });
    }
  }

  /** What may be in the way of texts within the box about these points: asked of it, they are as free as in the whole room. */
  around(points: readonly Point[]): Room {
    const b = boundsOf(points);
    const near = new Room();
    for (const l of this.lines) if (!apart(l.bounds, b, TEXT_CLEAR + l.half)) near.lines.push(l);
    for (const t of this.texts) if (!apart(boundsOf(t), b, TEXTS_APART)) near.texts.push(t);
    return near;
  }

  /** True where a text with these corners keeps off all lines and all other texts. */
  freeForText(corners: Polygon): boolean {
    const b = boundsOf(corners);
    for (const l of this.lines) {
      const gap = TEXT_CLEAR + l.half;
      if (apart(l.bounds, b, gap)) continue;
      if (distanceToConvex(l.line, corners) < gap) return false;
    }
    return !this.texts.some((t) => convexTouch(t, corners, TEXTS_APART));
  }

  /** True where a line keeps `gap` mm off all texts. */
  freeForLine(line: Segment, gap: number): boolean {
    return this.texts.every((t) => distanceToConvex(line, t) >= gap);
  }

  /** The places of the texts so far, grown by `by`. */
  textHoles(by: number): Polygon[] {
    return this.texts.map((t) => insetConvex(t, -by));
  }
}

const apart = (a: Bounds, b: Bounds, gap: number): boolean =>
  a.maxX < b.minX - gap || a.minX > b.maxX + gap || a.maxY < b.minY - gap || a.minY > b.maxY + gap;

/** A circle as a polygon of 24 sides around it. */
export function circleCorners([x, y]: Point, radius: number): Point[] {
  const r = radius / Math.cos(Math.PI / 24);
  return Array.from({ length: 24 }, (_, k): Point => {
    const a = (k * Math.PI) / 12;
    return [x + r * Math.cos(a), y + r * Math.sin(a)];
  });
}
