// Places on a piece's outline between which it can be divided: its corners, and the thirds and middles of its edges.
import { distance, type Point, type Polygon } from '../../../geometry/polygon.ts';

/** edges under this share of the way round get their middle only */
const SHORT = 0.15;

export interface NumberedPoint {
  readonly number: number;
  readonly at: Point;
}

export function pointsOn(outline: Polygon): readonly NumberedPoint[] {
  const around = outline.reduce((sum, a, i) => sum + distance(a, outline[(i + 1) % outline.length]!), 0);
  const points = outline.flatMap((a, i): Point[] => {
    const b = outline[(i + 1) % outline.length]!;
    const between = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    return distance(a, b) < around * SHORT ? [a, between(1 / 2)] : [a, between(1 / 3), between(1 / 2), between(2 / 3)];
  });
  return points.map((at, i) => ({ number: i + 1, at }));
}
