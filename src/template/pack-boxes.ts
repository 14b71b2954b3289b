// Templates -> places on sheets, each by the box around it, turned so that the box is smallest (maxrects-packer). Order of
// the sections is the order of filling.
import { MaxRectsPacker } from 'maxrects-packer';
import { placePoints } from '../drawing/drawing.ts';
import { boundsOf, convexHull, type Polygon } from '../geometry/polygon.ts';

export interface Shape {
  readonly id: string;
  /** convex parts */
  readonly parts: readonly Polygon[];
}

export interface Place {
  readonly id: string;
  /** from 0 */
  readonly sheet: number;
  /** turn about the shape's own origin, then move into the area [0, width] x [0, height] */
  readonly turn: number;
  readonly dx: number;
  readonly dy: number;
}

export interface Area {
  readonly width: number;
  readonly height: number;
}

interface Box {
  readonly turn: number;
  readonly width: number;
  readonly height: number;
}

/** The turns that lay an edge of the shape's hull, `least` mm long or longer, along a side of the sheet, words upright as far
 *  as may be. */
export function edgeTurns(parts: readonly Polygon[], least = 0): number[] {
  const hull = convexHull(parts.flat());
  const turns = hull.flatMap((a, i) => {
    const b = hull[(i + 1) % hull.length]!;
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < least) return [];
    const degrees = (-Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
    return (((((degrees % 90) + 90) % 90) + 45) % 90) - 45;
  });
  return [...new Set([0, ...turns].flatMap((t) => [t, t + 90, t - 90, t + 180]).map((t) => Math.round(t * 1e6) / 1e6))];
}

export function boxAt(parts: readonly Polygon[], turn: number) {
  return boundsOf(placePoints(parts.flat(), { turn, dx: 0, dy: 0 }));
}

/** The smallest box around the shape that fits the area; among equals the one with the words most upright. */
export function smallestBox(parts: readonly Polygon[], area: Area): Box | undefined {
  let best: (Box & { cost: number }) | undefined;
  for (const turn of edgeTurns(parts)) {
    const b = boxAt(parts, turn);
    const [width, height] = [b.maxX - b.minX, b.maxY - b.minY];
    if (width > area.width + 1e-6 || height > area.height + 1e-6) continue;
    const cost = width * height * (1 + Math.abs(turn) / 5000);
    if (!best || cost < best.cost) best = { turn, width, height, cost };
  }
  return best;
}

/** Every shape's place; shapes that fit no sheet are left out. `gap` mm between boxes. */
export function packBoxes(shapes: readonly Shape[], area: Area, gap: number): Place[] {
  const packer = new MaxRectsPacker(area.width, area.height, gap, {
    smart: false,
    pot: false,
    square: false,
    allowRotation: true,
    border: 0,
  });
  for (const s of shapes) {
    const box = smallestBox(s.parts, area);
    if (box) packer.add(box.width, box.height, { id: s.id, turn: box.turn });
  }
  const byId = new Map(shapes.map((s) => [s.id, s]));
  return packer.bins.flatMap((bin, sheet) =>
    bin.rects.map((r): Place => {
      const data = r.data as { id: string; turn: number };
      const turn = data.turn + (r.rot ? 90 : 0);
      const b = boxAt(byId.get(data.id)!.parts, turn);
      return { id: data.id, sheet, turn, dx: r.x - b.minX, dy: r.y - b.minY };
    }),
  );
}
