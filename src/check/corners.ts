// One table of corners, and outlines as walks over it. Takes outlines in µm, gives loops of corner numbers in which every
// corner that lies on an edge is named (T junctions), so that borders can be added up and cancel exactly.
// Assumes no more than about 5000 corners: corners on edges are found by looking at all of them.
import { between, type Micro, OFF_LINE, offSegment, SAME_CORNER, twiceArea } from './exact.ts';

export type Loop = readonly number[];

export class CornerTable {
  readonly points: Micro[] = [];
  private readonly cells = new Map<string, number[]>();
  private readonly onEdge = new Map<number, number[]>();

  /** `slack`: how far in µm a corner may lie off an edge that it is on */
  constructor(readonly slack = OFF_LINE) {}

  /** The number of the corner at p, within SAME_CORNER of one already known or new. */
  corner(p: Micro): number {
    const [cx, cy] = [Math.floor(p[0] / SAME_CORNER), Math.floor(p[1] / SAME_CORNER)];
    let best = -1;
    let near: number = SAME_CORNER;
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (const i of this.cells.get(`${x},${y}`) ?? []) {
          const d = between(this.points[i]!, p);
          if (d <= near && (d < near || best < 0)) [best, near] = [i, d];
        }
    if (best >= 0) return best;
    const made = this.points.push(p) - 1;
    const cell = `${cx},${cy}`;
    this.cells.set(cell, [...(this.cells.get(cell) ?? []), made]);
    return made;
  }

  at(corner: number): Micro {
    return this.points[corner]!;
  }

  /** The loop of an outline in positive order, without repeated corners. Fewer than three corners: it has no area. */
  loop(outline: readonly Micro[]): Loop {
    const ids = withoutRepeats(outline.map((p) => this.corner(p)));
    return twiceArea(ids.map((c) => this.at(c))) < 0 ? ids.reverse() : ids;
  }

  /** The loop with every corner named that lies on one of its edges. Call only when all corners are known.
   *  A corner within the slack of two edges at once would be named twice, as x c x: the walk to c and back adds nothing. */
  refine(loop: Loop): Loop {
    const full = loop.flatMap((a, i) => [a, ...this.between(a, loop[(i + 1) % loop.length]!)]);
    for (let i = 0; i < full.length && full.length > 2; ) {
      const n = full.length;
      if (full[(i + n - 1) % n] !== full[(i + 1) % n]) i++;
      else {
        const [low, high] = [i, (i + 1) % n].sort((x, y) => x - y);
        full.splice(high!, 1);
        full.splice(low!, 1);
        i = 0;
      }
    }
    return full;
  }

  /** Corners on the edge a-b, in order from a. Found once for both directions, so that neighbours agree. */
  private between(a: number, b: number): number[] {
    const [low, high] = a < b ? [a, b] : [b, a];
    const key = low * 2 ** 20 + high;
    let found = this.onEdge.get(key);
    if (!found) {
      const [p, q] = [this.at(low), this.at(high)];
      const x0 = Math.min(p[0], q[0]) - this.slack;
      const x1 = Math.max(p[0], q[0]) + this.slack;
      const y0 = Math.min(p[1], q[1]) - this.slack;
      const y1 = Math.max(p[1], q[1]) + this.slack;
      const close: number[] = [];
      this.points.forEach((c, i) => {
        if (c[0] >= x0 && c[0] <= x1 && c[1] >= y0 && c[1] <= y1 && i !== low && i !== high) close.push(i);
      });
      found = this.divide(low, high, close);
      this.onEdge.set(key, found);
    }
    return a < b ? found : [...found].reverse();
  }

  /** Divides the edge at the corner that lies nearest to it, then both halves in the same way: so a long edge and the short
   *  ones across it come to the same corners, also where two corners lie a few µm from each other. */
  private divide(a: number, b: number, close: readonly number[]): number[] {
    const [p, q] = [this.at(a), this.at(b)];
    let best = -1;
    let least = Infinity;
    const on = close.filter((c) => {
      const { off, along, length } = offSegment(p, q, this.at(c));
      if (Math.abs(off) > this.slack || along <= 0 || along >= length) return false;
      if (Math.abs(off) < least) [best, least] = [c, Math.abs(off)];
      return true;
    });
    if (best < 0) return [];
    const rest = on.filter((c) => c !== best);
    return [...this.divide(a, best, rest), best, ...this.divide(best, b, rest)];
  }
}

const withoutRepeats = (loop: Loop): number[] => loop.filter((c, i) => c !== loop[(i + loop.length - 1) % loop.length]);

/** A sum of directed edges. An edge added in both directions is gone: what is left of several loops is the border of their union. */
export class Border {
  private readonly count = new Map<number, number>();

  add(loop: Loop): this {
    for (let i = 0; i < loop.length; i++) this.edge(loop[i]!, loop[(i + 1) % loop.length]!, 1);
    return this;
  }

  take(loop: Loop): this {
    for (let i = 0; i < loop.length; i++) this.edge(loop[(i + 1) % loop.length]!, loop[i]!, 1);
    return this;
  }

  edge(a: number, b: number, times: number): void {
    const there = this.count.get(b * 2 ** 20 + a) ?? 0;
    const back = Math.min(there, times);
    this.set(b, a, there - back);
    if (times > back) this.set(a, b, (this.count.get(a * 2 ** 20 + b) ?? 0) + times - back);
  }

  private set(a: number, b: number, times: number): void {
    if (times > 0) this.count.set(a * 2 ** 20 + b, times);
    else this.count.delete(a * 2 ** 20 + b);
  }

  has(a: number, b: number): boolean {
    return this.count.has(a * 2 ** 20 + b);
  }

  edges(): (readonly [number, number])[] {
    return [...this.count].map(([key]) => [Math.floor(key / 2 ** 20), key % 2 ** 20]);
  }

  /** The border as one loop, or undefined where it is in several parts, touches itself or lies twice on an edge. */
  loop(): Loop | undefined {
    const next = new Map(this.edges());
    if (next.size !== this.count.size || [...this.count.values()].some((n) => n !== 1)) return undefined;
    const [start] = next.keys();
    if (start === undefined) return undefined;
    const loop = [start];
    for (let c = next.get(start); c !== start; c = next.get(c)) {
      if (c === undefined || loop.length > next.size) return undefined;
      loop.push(c);
    }
    return loop.length === next.size ? loop : undefined;
  }

  merge(other: Border): this {
    for (const [key, n] of other.count) this.edge(Math.floor(key / 2 ** 20), key % 2 ** 20, n);
    return this;
  }

  copy(): Border {
    return new Border().merge(this);
  }
}

/** Where two borders lie on each other: one run of corners in the direction of `own`, [] where they do not touch,
 *  undefined where they touch in several places. */
export function contact(own: Border, other: Border): Loop | undefined {
  const shared = own.edges().filter(([a, b]) => other.has(b, a));
  if (!shared.length) return [];
  const next = new Map(shared);
  const ends = new Set(shared.map(([, b]) => b));
  const starts = shared.map(([a]) => a).filter((a) => !ends.has(a));
  if (starts.length !== 1) return undefined;
  const run = [starts[0]!];
  for (let c = next.get(run[0]!); c !== undefined; c = next.get(c)) run.push(c);
  return run.length === shared.length + 1 ? run : undefined;
}
