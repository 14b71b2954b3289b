// Random blocks that can be sewn, made from random cutting trees with arithmetic of this file's own, so that neither the
// fitter nor the checker is judged by itself. Takes a seed, gives a valid Block.
import type { Block, Join, Section } from '../../src/block.ts';
import { sectionLetters } from '../../src/block.ts';

type P = [number, number];
interface Node {
  shape: P[];
  seam?: [P, P];
  a?: Node;
  b?: Node;
}

/** A small seeded generator of numbers 0 … 1 (mulberry32, public domain). */
export function randomNumbers(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (s + 0x6d2b79f5) >>> 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const grid = (v: number): number => Math.round(v * 1000) / 1000;

/** Cuts a convex shape by the line through p in direction angle; undefined where a part would be narrower than `smallest`. */
function cut(shape: P[], p: P, angle: number, smallest: number): { a: P[]; b: P[]; seam: [P, P] } | undefined {
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  const side = (q: P): number => {
    const s = dx * (q[1] - p[1]) - dy * (q[0] - p[0]);
    return Math.abs(s) < 0.0006 ? 0 : s;
  };
  const a: P[] = [];
  const b: P[] = [];
  const ends: P[] = [];
  shape.forEach((q, i) => {
    const r = shape[(i + 1) % shape.length]!;
    const [s, t] = [side(q), side(r)];
    if (s >= 0) a.push(q);
    if (s <= 0) b.push(q);
    if (s === 0) ends.push(q);
    if (s * t < 0) {
      const k = s / (s - t);
      const m: P = [grid(q[0] + k * (r[0] - q[0])), grid(q[1] + k * (r[1] - q[1]))];
      for (const list of [a, b, ends]) list.push(m);
    }
  });
  if (ends.length !== 2 || a.length < 3 || b.length < 3) return undefined;
  if (width(a) < smallest || width(b) < smallest) return undefined;
  return { a, b, seam: [ends[0]!, ends[1]!] };
}

/** Narrowest width of a convex shape: the least extent square to one of its edges. */
function width(shape: P[]): number {
  const extents = shape.map((p, i) => {
    const q = shape[(i + 1) % shape.length]!;
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
    const v = shape.map((r) => ((q[0] - p[0]) * r[1] - (q[1] - p[1]) * r[0]) / length);
    return length < 0.05 ? Infinity : Math.max(...v) - Math.min(...v);
  });
  return Math.min(...extents);
}

const leaves = (n: Node): number => (n.a ? leaves(n.a) + leaves(n.b!) : 1);
const isSection = (n: Node): boolean => !n.a || (!n.a.a && isSection(n.b!)) || (!n.b!.a && isSection(n.a));

export interface RandomOptions {
  pieces?: number;
  most?: number;
  smallest?: number;
  /** share of cuts that are straight down or across, or start at a corner of the shape */
  square?: number;
}

/** A block of about `pieces` pieces that can be sewn. */
export function randomBlock(
  seed: number,
  { pieces = 24, most = 8, smallest = 4, square = 0.4 }: RandomOptions = {},
): Block {
  const random = randomNumbers(seed);
  const size: P = [grid(150 + 250 * random()), grid(150 + 250 * random())];
  const root: Node = { shape: [[0, 0], [size[0], 0], size, [0, size[1]]] };
  const open = [root];
  for (let tries = 0; open.length < pieces && tries < pieces * 40; tries++) {
    const i = Math.floor(random() * open.length);
    const n = open[i]!;
    const weights = n.shape.map(() => random());
    const sum = weights.reduce((t, w) => t + w, 0);
    let p: P = [0, 1].map((k) => n.shape.reduce((t, q, j) => t + (weights[j]! / sum) * q[k]!, 0)) as P;
    let angle = random() * Math.PI;
    if (random() < square) {
      const kind = random();
      if (kind < 0.4) angle = 0;
      else if (kind < 0.8) angle = Math.PI / 2;
      else {
        const corner = n.shape[Math.floor(random() * n.shape.length)]!;
        angle = Math.atan2(p[1] - corner[1], p[0] - corner[0]);
        p = corner;
      }
    }
    const parts = cut(n.shape, p, angle, smallest);
    if (!parts) continue;
    n.seam = parts.seam;
    n.a = { shape: parts.a };
    n.b = { shape: parts.b };
    open.splice(i, 1, n.a, n.b);
  }
  const fabrics = ['#f4efe6', '#b9a48a', '#6b5a4a', '#23211f'].map((colour, i) => ({
    id: `f${i + 1}`,
    code: `c${i + 1}`,
    name: `shade ${i + 1}`,
    colour,
    hatch: i,
  }));
  const sections: Section[] = [];
  const joins: Join[] = [];
  const walk = (n: Node): string[] => {
    if (isSection(n) && leaves(n) <= most) {
      const id = sectionLetters(sections.length);
      const order: { n: Node; seam: [P, P] | null }[] = [];
      let at = n;
      while (at.a) {
        const last = !at.b!.a ? at.b! : at.a;
        order.push({ n: last, seam: at.seam! });
        at = last === at.b ? at.a : at.b!;
      }
      order.push({ n: at, seam: null });
      order.reverse();
      sections.push({
        id,
        outline: n.shape,
        pieces: order.map((o, i) => ({
          number: i + 1,
          fabric: fabrics[Math.floor(random() * 4)]!.id,
          outline: o.n.shape,
          seam: o.seam,
        })),
      });
      return [id];
    }
    const left = walk(n.a!);
    const right = walk(n.b!);
    joins.push({ number: joins.length + 1, left, right, seam: n.seam! });
    return [...left, ...right];
  };
  walk(root);
  return {
    format: 'seamwright-block',
    version: 1,
    name: `random ${seed}`,
    unit: 'mm',
    size,
    smallest,
    fabrics,
    sections,
    joins,
  };
}
