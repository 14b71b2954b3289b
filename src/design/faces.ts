// Corners and edges -> the faces between them. Takes a net, straightens lines that run through corners, takes loose ends off
// and says where they are, gives each face as a loop of corners.
import { cross, distance, offLine, type Point, signedArea } from '../geometry/polygon.ts';
import type { Net } from './lines.ts';

export interface LooseEnd {
  /** where the line stops */
  readonly at: Point;
  /** where it would meet the next line if it went on, where it does */
  readonly to?: Point;
}

export interface Faces {
  readonly loops: readonly (readonly number[])[];
  readonly corners: readonly Point[];
  readonly loose: readonly LooseEnd[];
  /** a corner of each group of lines that is joined to nothing else */
  readonly islands: readonly Point[];
}

/** Rounds of straightening; what is left after them is under a micrometre. */
const ROUNDS = 12;

export function findFaces(net: Net, near: number): Faces {
  const next = new Map<number, Set<number>>();
  const link = (a: number, b: number): void => {
    next.set(a, (next.get(a) ?? new Set()).add(b));
  };
  for (const [a, b] of net.edges) {
    link(a, b);
    link(b, a);
  }
  const loose = takeLooseEnds(net, next, near);
  const corners = straighten(net.corners, next, near);
  const islands = takeIslands(corners, next);
  return { loops: walkFaces(corners, next), corners, loose, islands };
}

type Links = Map<number, Set<number>>;

/** Takes off lines that end in nothing, corner by corner. A stub no longer than `near` is a line drawn a little too far: no fault. */
function takeLooseEnds(net: Net, next: Links, near: number): LooseEnd[] {
  const loose: LooseEnd[] = [];
  for (const start of [...next.keys()]) {
    let end = start;
    let length = 0;
    let from: number | undefined;
    while (next.get(end)?.size === 1) {
      const on = [...next.get(end)!][0]!;
      if (from === undefined) from = on;
      length += distance(net.corners[end]!, net.corners[on]!);
      next.get(on)!.delete(end);
      next.delete(end);
      end = on;
    }
    if (next.get(end)?.size === 0) next.delete(end);
    if (from === undefined || length <= near) continue;
    const at = net.corners[start]!;
    const to = goOn(net, net.corners[from]!, at);
    loose.push({ at, ...(to && { to }) });
  }
  return loose;
}

/** Where a line from `a` through its end meets the next edge. */
function goOn(net: Net, a: Point, end: Point): Point | undefined {
  const length = distance(a, end);
  const [dx, dy] = [(end[0] - a[0]) / length, (end[1] - a[1]) / length];
  let best = Infinity;
  for (const [i, j] of net.edges) {
    const [c, d] = [net.corners[i]!, net.corners[j]!];
    const [vx, vy] = [d[0] - c[0], d[1] - c[1]];
    const den = dx * vy - dy * vx;
    if (Math.abs(den) < 1e-9) continue;
    const far = ((c[0] - end[0]) * vy - (c[1] - end[1]) * vx) / den;
    const share = ((c[0] - end[0]) * dy - (c[1] - end[1]) * dx) / den;
    if (far > 1e-6 && share >= 0 && share <= 1 && far < best) best = far;
  }
  return best < Infinity ? [end[0] + dx * best, end[1] + dy * best] : undefined;
}

/** Lines through corners made straight: each corner moves onto the lines that run through it, until nothing moves. A hand that
 *  draws a seam in two strokes bends it by less than `near` where they meet. The result is on the grid of 1 µm. */
function straighten(given: readonly Point[], next: Links, near: number): Point[] {
  const corners = [...given];
  const lines = straightLines(corners, next, near);
  const through = new Map<number, number[][]>();
  for (const line of lines) for (const c of line.slice(1, -1)) through.set(c, [...(through.get(c) ?? []), line]);
  for (let round = 0; round < ROUNDS; round++)
    for (const [c, [first, second]] of through) {
      const [a, b] = [corners[first![0]!]!, corners[first!.at(-1)!]!];
      const p = corners[c]!;
      const meet = second && meetingOf(a, b, corners[second[0]!]!, corners[second.at(-1)!]!);
      if (meet && distance(meet, p) <= 3 * near) corners[c] = meet;
      else {
        const share = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / distance(a, b) ** 2;
        corners[c] = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
      }
    }
  return corners.map((p) => [Math.round(p[0] * 1000) / 1000 + 0, Math.round(p[1] * 1000) / 1000 + 0]);
}

function meetingOf(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const den = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  if (Math.abs(den) < 1e-6 * distance(a, b) * distance(c, d)) return undefined;
  const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / den;
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** Walks that go on straight through corners, each at least three corners long, each edge in one of them. */
function straightLines(corners: readonly Point[], next: Links, near: number): number[][] {
  const done = new Set<string>();
  const key = (a: number, b: number): string => (a < b ? `${a} ${b}` : `${b} ${a}`);
  const lines: number[][] = [];
  const extend = (line: number[]): void => {
    for (;;) {
      const [from, at] = [line.at(-2)!, line.at(-1)!];
      let best: number | undefined;
      let least = near;
      for (const c of next.get(at) ?? []) {
        if (c === from || done.has(key(at, c))) continue;
        const [p, q, r] = [corners[line[0]!]!, corners[at]!, corners[c]!];
        const ahead = (q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1]);
        const off = Math.max(...line.slice(1).map((k) => Math.abs(offLine(p, r, corners[k]!))));
        // Nearly straight to the eye as well as near: short edges turn far within a small distance.
        const bent = Math.abs(cross(p, q, r)) / (distance(p, q) * distance(q, r));
        if (ahead > 0 && off <= least && bent < 0.09) [best, least] = [c, off];
      }
      if (best === undefined) return;
      done.add(key(at, best));
      line.push(best);
    }
  };
  // Long edges first: they know their direction best.
  const edges = [...next].flatMap(([a, list]) => [...list].filter((b) => a < b).map((b) => [a, b] as const));
  edges.sort((s, t) => distance(corners[t[0]]!, corners[t[1]]!) - distance(corners[s[0]]!, corners[s[1]]!));
  for (const [a, b] of edges) {
    if (done.has(key(a, b))) continue;
    done.add(key(a, b));
    const line = [a, b];
    extend(line);
    line.reverse();
    extend(line);
    if (line.length > 2) lines.push(line);
  }
  return lines;
}

/** Takes off every group of lines that does not hang together with the frame (corner 0). */
function takeIslands(corners: readonly Point[], next: Links): Point[] {
  const seen = new Set<number>();
  const reach = (start: number): void => {
    const open = [start];
    for (let c = open.pop(); c !== undefined; c = open.pop()) {
      if (seen.has(c)) continue;
      seen.add(c);
      open.push(...(next.get(c) ?? []));
    }
  };
  reach(0);
  const islands: Point[] = [];
  for (const c of [...next.keys()]) {
    if (seen.has(c)) continue;
    islands.push(corners[c]!);
    reach(c);
  }
  const kept = new Set<number>();
  const open = [0];
  for (let c = open.pop(); c !== undefined; c = open.pop()) {
    if (kept.has(c)) continue;
    kept.add(c);
    open.push(...(next.get(c) ?? []));
  }
  for (const c of [...next.keys()]) if (!kept.has(c)) next.delete(c);
  return islands;
}

/** Every face once, in positive order: at each corner the next edge is the first one against the way of turning. */
function walkFaces(corners: readonly Point[], next: Links): number[][] {
  const around = new Map<number, number[]>();
  for (const [c, list] of next) {
    const angle = (o: number): number => Math.atan2(corners[o]![1] - corners[c]![1], corners[o]![0] - corners[c]![0]);
    around.set(
      c,
      [...list].sort((a, b) => angle(a) - angle(b)),
    );
  }
  const used = new Set<string>();
  const loops: number[][] = [];
  for (const [a, list] of around)
    for (const b of list) {
      if (used.has(`${a} ${b}`)) continue;
      const loop: number[] = [];
      let [from, at] = [a, b];
      while (!used.has(`${from} ${at}`)) {
        used.add(`${from} ${at}`);
        loop.push(from);
        const ring = around.get(at)!;
        const on = ring[(ring.indexOf(from) + ring.length - 1) % ring.length]!;
        [from, at] = [at, on];
      }
      if (signedArea(loop.map((c) => corners[c]!)) > 0) loops.push(loop);
    }
  return loops;
}
