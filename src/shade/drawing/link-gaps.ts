// Takes the loose ends of strokes; gives the links that could close gaps between them: from end to end, or from an end on to the
// stroke that it points at. Which of them are taken is for those to say who know what they would enclose.
import type { Point } from '../../geometry/polygon.ts';
import type { StrokeEnd } from './thin-strokes.ts';

export interface Link {
  readonly from: Point;
  readonly to: Point;
  /** free length between the inks */
  readonly length: number;
  /** half its width */
  readonly radius: number;
}

/** How much longer a link counts that leaves its stroke square to the way it was going. */
const BEND = 0.8;

const bendOf = (end: StrokeEnd, to: Point): number => {
  const dx = to[0] - end.at[0];
  const dy = to[1] - end.at[1];
  const length = Math.hypot(dx, dy) || 1;
  return 1 + BEND * (1 - (dx * end.toward[0] + dy * end.toward[1]) / length);
};

/** Links whose free length is at most `most`, the shortest and smoothest first. */
export function findLinks(ends: readonly StrokeEnd[], ink: Uint8Array, w: number, h: number, most: number): Link[] {
  const found: { link: Link; cost: number }[] = [];
  ends.forEach((end, i) => {
    for (const other of ends.slice(i + 1)) {
      const length = Math.hypot(other.at[0] - end.at[0], other.at[1] - end.at[1]) - end.radius - other.radius;
      if (length > most) continue;
      const cost = Math.max(0, length) * Math.max(bendOf(end, other.at), bendOf(other, end.at));
      found.push({
        link: { from: end.at, to: other.at, length: Math.max(0, length), radius: Math.min(end.radius, other.radius) },
        cost,
      });
    }
    const ahead = lookAhead(end, ink, w, h, most);
    if (ahead) found.push({ link: ahead, cost: 1.3 * ahead.length * bendOf(end, ahead.to) });
  });
  found.sort((a, b) => a.cost - b.cost || a.link.from[1] - b.link.from[1] || a.link.from[0] - b.link.from[0]);
  return found.filter((f) => f.cost <= 1.6 * most).map((f) => f.link);
}

/** The nearest ink that an end points at, within 50 degrees of its course. */
function lookAhead(end: StrokeEnd, ink: Uint8Array, w: number, h: number, most: number): Link | undefined {
  const course = Math.atan2(end.toward[1], end.toward[0]);
  let best: Link | undefined;
  let least = Infinity;
  for (let a = -5; a <= 5; a++) {
    const angle = course + (a * Math.PI) / 18;
    const [cx, cy] = [Math.cos(angle), Math.sin(angle)];
    let out = false;
    for (let d = 0.5; d < end.radius + most + 2; d += 0.5) {
      const x = Math.round(end.at[0] + d * cx);
      const y = Math.round(end.at[1] + d * cy);
      if (x < 0 || y < 0 || x >= w || y >= h) break;
      const inside = ink[y * w + x]!;
      if (!inside) out = true;
      if (!out || !inside) continue;
      const length = Math.max(0, d - end.radius);
      const cost = length * (1 + 0.08 * Math.abs(a));
      if (cost < least && length <= most) {
        least = cost;
        best = { from: end.at, to: [x, y], length, radius: end.radius };
      }
      break;
    }
  }
  return best;
}

/** Draws a link into a mask, as wide as the stroke that it carries on but not more than a few cells. */
export function drawLink(mask: Uint8Array, w: number, h: number, { from, to, radius }: Link): void {
  const steps = Math.ceil(2 * Math.hypot(to[0] - from[0], to[1] - from[1])) + 1;
  const r = Math.min(3, Math.max(1, radius));
  for (let s = 0; s <= steps; s++) {
    const x = from[0] + ((to[0] - from[0]) * s) / steps;
    const y = from[1] + ((to[1] - from[1]) * s) / steps;
    for (let v = Math.max(0, Math.ceil(y - r)); v <= Math.min(h - 1, y + r); v++)
      for (let u = Math.max(0, Math.ceil(x - r)); u <= Math.min(w - 1, x + r); u++)
        if (Math.hypot(u - x, v - y) <= r) mask[v * w + u] = 1;
  }
}
