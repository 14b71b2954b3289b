// Places on a piece's outline between which it can be divided: its corners, and the thirds and middles of its edges.
import type { Point, Polygon } from '../../../geometry/polygon.ts';

export interface NumberedPoint {
  readonly number: number;
  readonly at: Point;
}

export function pointsOn(outline: Polygon): readonly NumberedPoint[] {
  const points = outline.flatMap((a, i): Point[] => {
    const b = outline[(i + 1) % outline.length]!;
    const between = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    return [a, between(1 / 3), between(1 / 2), between(2 / 3)];
  });
  return points.map((at, i) => ({ number: i + 1, at }));
}
