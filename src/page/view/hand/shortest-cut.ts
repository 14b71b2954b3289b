// Where a piece is divided that is tapped twice: along the shortest line through the place of the tap.
import { distance, type Point, type Polygon, type Segment } from '../../../geometry/polygon.ts';

/** degrees between the lines that are tried */
const TURN = 5;

export function shortestCut(outline: Polygon, through: Point): Segment | undefined {
  let best: Segment | undefined;
  for (let degrees = 0; degrees < 180; degrees += TURN) {
    const t = (degrees * Math.PI) / 180;
    const ends = crossings(outline, through, [Math.cos(t), Math.sin(t)]);
    if (ends && (!best || distance(...ends) < distance(...best))) best = ends;
  }
  return best;
}

/** The two ends of a line in a convex outline. */
function crossings(outline: Polygon, [x, y]: Point, [dx, dy]: Point): Segment | undefined {
  const places = outline.flatMap((a, i): number[] => {
    const b = outline[(i + 1) % outline.length]!;
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    const det = dx * ey - dy * ex;
    if (Math.abs(det) < 1e-9) return [];
    const along = ((a[0] - x) * dy - (a[1] - y) * dx) / det;
    const t = ((a[0] - x) * ey - (a[1] - y) * ex) / det;
    return along >= 0 && along <= 1 ? [t] : [];
  });
  if (places.length < 2) return undefined;
  const [from, to] = [Math.min(...places), Math.max(...places)];
  return [
    [x + dx * from, y + dy * from],
    [x + dx * to, y + dy * to],
  ];
}
