// Blocks for tests: random straight cuts grouped into sections, numbered and joined as the block file says; and a letter F.
import { type Block, onGrid, sectionLetters } from '../../src/block.ts';
import {
  areaOf,
  boundsOf,
  centroid,
  clipHalf,
  distance,
  narrowestWidth,
  type Point,
} from '../../src/geometry/polygon.ts';

type Corner = [number, number];
type Seam = [Corner, Corner];
type Tree = Leaf | Cut;
interface Leaf {
  ring: Corner[];
  fabric: number;
}
interface Cut {
  ring: Corner[];
  seam: Seam;
  left: Tree;
  right: Tree;
}

/** A small seeded generator (mulberry32). */
export function randomFrom(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const grid = (P: readonly Point[]): Corner[] => P.map((q) => [onGrid(q[0]), onGrid(q[1])]);
const isCut = (t: Tree): t is Cut => 'seam' in t;

/** Both halves of a ring cut by the line a -> b, and the seam between them. */
function cutRing(ring: Corner[], a: Point, b: Point): { left: Corner[]; right: Corner[]; seam: Seam } | undefined {
  const left = grid(clipHalf(ring, a, b, 1));
  const right = grid(clipHalf(ring, a, b, -1));
  if (left.length < 3 || right.length < 3) return undefined;
  const shared = left.filter((q) => right.some((r) => r[0] === q[0] && r[1] === q[1]));
  if (shared.length !== 2) return undefined;
  return { left, right, seam: [shared[0]!, shared[1]!] };
}

const sharpest = (P: readonly Point[]): number =>
  Math.min(
    ...P.map((b, i) => {
      const [a, c] = [P[(i + P.length - 1) % P.length]!, P[(i + 1) % P.length]!];
      const u = Math.atan2(a[1] - b[1], a[0] - b[0]) - Math.atan2(c[1] - b[1], c[0] - b[0]);
      const d = (Math.abs(u) * 180) / Math.PI;
      return Math.min(d, 360 - d);
    }),
  );
const shortest = (P: readonly Point[]): number => Math.min(...P.map((q, i) => distance(q, P[(i + 1) % P.length]!)));

/** Random blocks with `pieces` pieces: first cut into regions, then pieces taken off each region one by one. */
export function randomBlock(
  seed: number,
  pieces: number,
  options: { size?: [number, number]; smallest?: number; fabrics?: number; corner?: number } = {},
): Block {
  const { size = [304.8, 304.8], smallest = 12.7, fabrics = 5, corner = 25 } = options;
  const random = randomFrom(seed);
  const whole: Corner[] = [[0, 0], [size[0], 0], [...size], [0, size[1]]];
  const fabric = (): number => Math.floor(random() * fabrics);
  const goodPiece = (P: Corner[]): boolean =>
    narrowestWidth(P) >= smallest && sharpest(P) >= corner && shortest(P) >= smallest / 2;

  const halve = (ring: Corner[], share: [number, number], good: (P: Corner[]) => boolean) => {
    for (let tries = 0; tries < 300; tries++) {
      const c = centroid(ring);
      const b = boundsOf(ring);
      const p: Point = [
        c[0] + (random() - 0.5) * (b.maxX - b.minX) * 0.8,
        c[1] + (random() - 0.5) * (b.maxY - b.minY) * 0.8,
      ];
      const a = random() < 0.3 ? Math.floor(random() * 2) * (Math.PI / 2) : random() * Math.PI;
      const cut = cutRing(ring, p, [p[0] + Math.cos(a), p[1] + Math.sin(a)]);
      if (!cut) continue;
      const part = areaOf(cut.left) / areaOf(ring);
      if (part >= share[0] && part <= share[1] && good(cut.left) && good(cut.right)) return cut;
    }
    return undefined;
  };

  const trees: Tree[] = [{ ring: whole, fabric: fabric() }];
  const replace = (root: Tree, leaf: Leaf, by: Tree): Tree => {
    if (root === leaf) return by;
    if (isCut(root)) {
      root.left = replace(root.left, leaf, by);
      root.right = replace(root.right, leaf, by);
    }
    return root;
  };
  let root = trees[0]!;
  const leaves = (t: Tree): Leaf[] => (isCut(t) ? [...leaves(t.left), ...leaves(t.right)] : [t]);
  const regions = Math.max(1, Math.round(pieces / 6));
  const goodRegion = (P: Corner[]): boolean => narrowestWidth(P) >= 3 * smallest && sharpest(P) >= corner + 5;
  for (let k = 1; k < regions; k++) {
    for (const leaf of leaves(root).sort((a, b) => areaOf(b.ring) - areaOf(a.ring))) {
      const cut = halve(leaf.ring, [0.3, 0.7], goodRegion);
      if (!cut) continue;
      root = replace(root, leaf, {
        ring: leaf.ring,
        seam: cut.seam,
        left: { ring: cut.left, fabric: fabric() },
        right: { ring: cut.right, fabric: fabric() },
      });
      break;
    }
  }
  // take pieces off the largest leaf whose section is not full
  const core = new Map<Leaf, number>(leaves(root).map((l) => [l, 1]));
  for (let k = leaves(root).length; k < pieces; k++) {
    let done = false;
    for (const [leaf, count] of [...core].sort((a, b) => areaOf(b[0].ring) / b[1] - areaOf(a[0].ring) / a[1])) {
      if (count >= 9) continue;
      const cut = halve(leaf.ring, [0.08, 0.92], goodPiece);
      if (!cut) continue;
      const two: Leaf[] = [cut.left, cut.right].map((ring) => ({ ring, fabric: fabric() }));
      root = replace(root, leaf, { ring: leaf.ring, seam: cut.seam, left: two[0]!, right: two[1]! });
      core.delete(leaf);
      core.set(areaOf(cut.left) > areaOf(cut.right) ? two[0]! : two[1]!, count + 1);
      done = true;
      break;
    }
    if (!done) break;
  }
  return blockOf(root, size, `random-${seed}`, fabrics, smallest);
}

const COLOURS = ['#f4efe6', '#d9c7a3', '#b08a57', '#7a5637', '#3b3129', '#8fa3ad', '#5d7785', '#c98f7a', '#222222'];
const NAMES = ['cream', 'straw', 'camel', 'chestnut', 'charcoal', 'mist', 'slate', 'rose', 'black'];

function blockOf(root: Tree, size: [number, number], name: string, fabrics: number, smallest: number): Block {
  const count = (t: Tree): number => (isCut(t) ? count(t.left) + count(t.right) : 1);
  const isSection = (t: Tree): boolean =>
    !isCut(t) || (count(t) <= 10 && ((!isCut(t.left) && isSection(t.right)) || (!isCut(t.right) && isSection(t.left))));
  const block: Block = {
    format: 'seamwright-block',
    version: 1,
    name,
    unit: 'mm',
    size,
    smallest,
    fabrics: Array.from({ length: fabrics }, (_, i) => ({
      id: `f${i + 1}`,
      code: `c${i + 1}`,
      name: NAMES[i % NAMES.length]!,
      colour: COLOURS[i % COLOURS.length]!,
      hatch: i,
    })),
    sections: [],
    joins: [],
  };
  const piecesOf = (t: Tree): { leaf: Leaf; seam: Seam | null }[] => {
    if (!isCut(t)) return [{ leaf: t, seam: null }];
    const [first, last] = isCut(t.left) ? [t.left, t.right] : [t.right, t.left];
    return [...piecesOf(first), { leaf: last as Leaf, seam: t.seam }];
  };
  const visit = (t: Tree): string[] => {
    if (isSection(t)) {
      const id = sectionLetters(block.sections.length);
      block.sections.push({
        id,
        outline: t.ring,
        pieces: piecesOf(t).map(({ leaf, seam }, i) => ({
          number: i + 1,
          fabric: `f${leaf.fabric + 1}`,
          outline: leaf.ring,
          seam,
        })),
      });
      return [id];
    }
    const cut = t as Cut;
    const [first, second] = count(cut.left) >= count(cut.right) ? [cut.left, cut.right] : [cut.right, cut.left];
    const left = visit(first);
    const right = visit(second);
    block.joins.push({ number: block.joins.length + 1, left, right, seam: cut.seam });
    return [...left, ...right];
  };
  visit(root);
  return block;
}

/** A block of straight cuts given by hand: [axis, position, first part, second part] or a fabric's index. */
export type Plan = number | readonly ['x' | 'y', number, Plan, Plan];

export function plannedBlock(plan: Plan, size: [number, number], name: string, fabrics = 2): Block {
  const grow = (p: Plan, ring: Corner[]): Tree => {
    if (typeof p === 'number') return { ring, fabric: p };
    const [axis, at, first, second] = p;
    const cut = axis === 'x' ? cutRing(ring, [at, 1], [at, 0]) : cutRing(ring, [0, at], [1, at]);
    if (!cut) throw new Error('the plan cuts outside its region');
    const [low, high] = axis === 'x' ? [cut.right, cut.left] : [cut.right, cut.left];
    return { ring, seam: cut.seam, left: grow(first, low), right: grow(second, high) };
  };
  const whole: Corner[] = [[0, 0], [size[0], 0], [...size], [0, size[1]]];
  return blockOf(grow(plan, whole), size, name, fabrics, 12.7);
}

/** The face reads F: fabric 1 (dark) on fabric 0. One section of 7 pieces, 6 in. */
export function letterF(): Block {
  const rows: Plan = ['y', 36, 1, ['y', 64, 0, ['y', 94, 1, 0]]];
  const plan: Plan = ['x', 30, 0, ['x', 62, 1, ['x', 122, rows, 0]]];
  const block = plannedBlock(plan, [152.4, 152.4], 'letter-f', 2);
  block.fabrics[1]!.colour = '#202020';
  block.fabrics[1]!.hatch = 6;
  return block;
}
