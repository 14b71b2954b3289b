// Follows the borders between labels once each. Takes a grid of region numbers, gives arcs between the corners where three
// or more regions (or the frame) meet, and for each region the arcs that bound it. Corners lie at whole cells.
import type { Point } from '../geometry/polygon.ts';

export interface Arc {
  /** corner points in cells, from junction to junction; a closed arc starts and ends at the same point */
  readonly points: readonly Point[];
  /** the regions on its left and right as it is walked, y down; -1 outside the block */
  readonly left: number;
  readonly right: number;
}

const STEPS: readonly Point[] = [
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
];

/** Every border edge is in exactly one arc. `region` is w x h. */
export function traceArcs(region: ArrayLike<number>, w: number, h: number): Arc[] {
  const at = (x: number, y: number): number => (x < 0 || y < 0 || x >= w || y >= h ? -1 : region[y * w + x]!);
  // the two cells beside the edge that leaves corner (x, y) in direction d: left and right of the walker
  const beside = (x: number, y: number, d: number): [number, number] => {
    if (d === 0) return [at(x, y - 1), at(x, y)];
    if (d === 1) return [at(x, y), at(x - 1, y)];
    if (d === 2) return [at(x - 1, y), at(x - 1, y - 1)];
    return [at(x - 1, y - 1), at(x, y - 1)];
  };
  const W = w + 1;
  const isBorder = (x: number, y: number, d: number): boolean => {
    const [l, r] = beside(x, y, d);
    return l !== r;
  };
  const degree = (x: number, y: number): number => {
    let n = 0;
    for (let d = 0; d < 4; d++) if (isBorder(x, y, d)) n++;
    return n;
  };
  // edge ids: 2 * corner for the one to the right, + 1 for the one down
  const edgeId = (x: number, y: number, d: number): number =>
    d === 0
      ? 2 * (y * W + x)
      : d === 1
        ? 2 * (y * W + x) + 1
        : d === 2
          ? 2 * (y * W + x - 1)
          : 2 * ((y - 1) * W + x) + 1;
  const done = new Uint8Array(2 * W * (h + 1));
  const arcs: Arc[] = [];
  const walk = (x0: number, y0: number, d0: number): void => {
    const [left, right] = beside(x0, y0, d0);
    const points: Point[] = [[x0, y0]];
    let [x, y, d] = [x0, y0, d0];
    for (;;) {
      done[edgeId(x, y, d)] = 1;
      x += STEPS[d]![0];
      y += STEPS[d]![1];
      const junction = degree(x, y) !== 2;
      if (junction || (x === x0 && y === y0)) {
        points.push([x, y]);
        break;
      }
      const next = [d, (d + 1) % 4, (d + 3) % 4].find((e) => isBorder(x, y, e) && !done[edgeId(x, y, e)])!;
      if (next !== d) points.push([x, y]);
      d = next;
    }
    arcs.push({ points, left, right });
  };
  for (let pass = 0; pass < 2; pass++)
    for (let y = 0; y <= h; y++)
      for (let x = 0; x <= w; x++) {
        if (pass === 0 && degree(x, y) === 2) continue; // closed borders without a junction come second
        for (let d = 0; d < 4; d++) if (isBorder(x, y, d) && !done[edgeId(x, y, d)]) walk(x, y, d);
      }
  return arcs;
}

/** The closed rings of every region out of arcs: outer rings run in positive order, holes the other way. */
export function ringsOf(
  arcs: readonly { points: readonly Point[]; left: number; right: number }[],
  regions: number,
): Point[][][] {
  const rings: Point[][][] = Array.from({ length: regions }, () => []);
  const key = (p: Point): string => `${p[0]},${p[1]}`;
  // each region walks its arcs with itself on the right, which is positive order with y down
  const parts: Point[][][] = Array.from({ length: regions }, () => []);
  for (const arc of arcs) {
    if (arc.right >= 0) parts[arc.right]!.push([...arc.points]);
    if (arc.left >= 0) parts[arc.left]!.push([...arc.points].reverse());
  }
  parts.forEach((list, id) => {
    const from = new Map<string, Point[][]>();
    for (const p of list) {
      const k = key(p[0]!);
      const there = from.get(k);
      if (there) there.push(p);
      else from.set(k, [p]);
    }
    for (const start of list) {
      const here = from.get(key(start[0]!))!;
      if (!here.includes(start)) continue;
      here.splice(here.indexOf(start), 1);
      const ring = [...start];
      while (key(ring.at(-1)!) !== key(ring[0]!)) {
        const options = from.get(key(ring.at(-1)!))!;
        // where a region touches itself at a corner, the sharpest turn towards itself keeps its rings apart
        const [a, b] = [ring.at(-2)!, ring.at(-1)!];
        const turn = (p: Point[]): number => {
          const c = p[1]!;
          const angle = Math.atan2(
            (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]),
            (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]),
          );
          return angle;
        };
        const next = options.reduce((m, p) => (turn(p) > turn(m) ? p : m));
        options.splice(options.indexOf(next), 1);
        ring.push(...next.slice(1));
      }
      ring.pop();
      rings[id]!.push(ring);
    }
  });
  return rings;
}
