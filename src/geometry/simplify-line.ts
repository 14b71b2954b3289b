// Drops points of a line that it can do without. Pure; the ends always stay.
import { distance, type Point } from './polygon.ts';

/** Distance of q from the segment a-b. */
function offSegment(q: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const length = dx * dx + dy * dy;
  const t = length ? Math.max(0, Math.min(1, ((q[0] - a[0]) * dx + (q[1] - a[1]) * dy) / length)) : 0;
  return distance(q, [a[0] + t * dx, a[1] + t * dy]);
}

/** Keeps every dropped point within `tolerance` of the line (Douglas & Peucker 1973). */
export function simplifyByDistance(line: readonly Point[], tolerance: number): Point[] {
  const keep = new Uint8Array(line.length);
  keep[0] = 1;
  keep[line.length - 1] = 1;
  const spans: [number, number][] = [[0, line.length - 1]];
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [from, to] = span;
    let far = tolerance;
    let at = -1;
    for (let i = from + 1; i < to; i++) {
      const d = offSegment(line[i]!, line[from]!, line[to]!);
      if (d > far) {
        far = d;
        at = i;
      }
    }
    if (at < 0) continue;
    keep[at] = 1;
    spans.push([from, at], [at, to]);
  }
  return line.filter((_, i) => keep[i]);
}
