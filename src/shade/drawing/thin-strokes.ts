// Takes a mask of ink; gives the middle lines of its strokes, their loose ends, and the strokes as lines of points.
import type { Point } from '../../geometry/polygon.ts';

/** Where a stroke ends and which way it was going. */
export interface StrokeEnd {
  readonly at: Point;
  /** unit vector, out of the stroke */
  readonly toward: Point;
  /** half the stroke's width here */
  readonly radius: number;
}

/** The eight neighbours, clockwise from above. */
const AROUND: readonly Point[] = [
  [0, -1],
  [1, -1],
  [1, 0],
  [1, 1],
  [0, 1],
  [-1, 1],
  [-1, 0],
  [-1, -1],
];

/** The middle lines of a mask, one pixel wide (Zhang & Suen 1984). What lies beyond the mask's rim counts as outside. */
export function thinStrokes(mask: Uint8Array, w: number, h: number): Uint8Array {
  const thin = Uint8Array.from(mask);
  for (let x = 0; x < w; x++) thin[x] = thin[(h - 1) * w + x] = 0;
  for (let y = 0; y < h; y++) thin[y * w] = thin[y * w + w - 1] = 0;
  const offset = AROUND.map(([x, y]) => y * w + x);
  let left: number[] = [];
  for (let i = 0; i < thin.length; i++) if (thin[i]) left.push(i);
  for (let changed = true; changed; ) {
    changed = false;
    for (const pass of [0, 1]) {
      const drop: number[] = [];
      for (const i of left) {
        const n = offset.map((o) => thin[i + o]!);
        const count = n.reduce((t, v) => t + v, 0);
        if (count < 2 || count > 6) continue;
        let turns = 0;
        for (let q = 0; q < 8; q++) if (!n[q] && n[(q + 1) % 8]) turns++;
        if (turns !== 1) continue;
        const [up, right, down, side] = [n[0]!, n[2]!, n[4]!, n[6]!];
        if (pass ? up * right * side || up * down * side : up * right * down || right * down * side) continue;
        drop.push(i);
      }
      for (const i of drop) thin[i] = 0;
      if (drop.length) {
        changed = true;
        left = left.filter((i) => thin[i]);
      }
    }
  }
  return thin;
}

export interface Stroke {
  /** pixels of the middle line, in order */
  readonly cells: readonly number[];
  /** whether its first and last pixel is a loose end */
  readonly loose: readonly [boolean, boolean];
}

/** The strokes between loose ends and crossings. Stubs hardly longer than the stroke is wide are what thinning leaves at corners:
 *  they are taken off `thin` first. `depth` is each pixel's distance to what is no ink. */
export function traceStrokes(thin: Uint8Array, w: number, depth: Float32Array): Stroke[] {
  for (let round = 0; round < 2; round++) {
    const strokes = followStrokes(thin, w);
    let cut = false;
    for (const { cells, loose } of strokes) {
      if (loose[0] === loose[1]) continue;
      const joint = loose[0] ? cells.at(-1)! : cells[0]!;
      if (cells.length > 1.3 * depth[joint]! + 2) continue;
      for (const i of cells) if (i !== joint) thin[i] = 0;
      cut = true;
    }
    if (!cut) return strokes;
  }
  return followStrokes(thin, w);
}

function followStrokes(thin: Uint8Array, w: number): Stroke[] {
  const offset = [0, 2, 4, 6, 1, 3, 5, 7].map((q) => AROUND[q]![1] * w + AROUND[q]![0]);
  const neighbours = (i: number): number[] => offset.map((o) => i + o).filter((j) => thin[j]);
  // how many arms leave a pixel: runs of neighbours round it
  const arms = (i: number): number => {
    let runs = 0;
    for (let q = 0; q < 8; q++) {
      const at = (k: number): number => thin[i + AROUND[k % 8]![1] * w + AROUND[k % 8]![0]]!;
      if (!at(q) && at(q + 1)) runs++;
    }
    return runs;
  };
  const used = new Uint8Array(thin.length);
  const node = new Uint8Array(thin.length);
  const list: number[] = [];
  for (let i = 0; i < thin.length; i++) {
    if (!thin[i]) continue;
    list.push(i);
    const n = arms(i);
    node[i] = n === 1 || n === 0 ? 1 : n > 2 ? 2 : 0;
  }
  const strokes: Stroke[] = [];
  const walk = (from: number, first: number): void => {
    const cells = [from, first];
    let last = from;
    let i = first;
    while (!node[i]) {
      used[i] = 1;
      const next = neighbours(i).find((j) => j !== last && !used[j] && !cells.slice(-3).includes(j));
      if (next === undefined) break;
      last = i;
      i = next;
      cells.push(i);
    }
    strokes.push({ cells, loose: [node[from] === 1, node[i] === 1] });
  };
  for (const i of list)
    if (node[i]) {
      used[i] = 1;
      for (const j of neighbours(i)) if (!used[j] || (node[j] && j > i)) walk(i, j);
    }
  // rings without an end or a crossing
  for (const i of list)
    if (!used[i] && !node[i]) {
      used[i] = 1;
      const first = neighbours(i)[0];
      if (first !== undefined) walk(i, first);
    }
  return strokes;
}

/** The loose ends of strokes, at the end of their ink, with the way they point. */
export function looseEnds(strokes: readonly Stroke[], w: number, depth: Float32Array): StrokeEnd[] {
  const ends: StrokeEnd[] = [];
  for (const { cells, loose } of strokes)
    for (const which of [0, 1] as const) {
      if (!loose[which] || cells.length < 2) continue;
      const from = which ? [...cells].reverse() : cells;
      const tip = from[0]!;
      const radius = Math.max(0.5, depth[tip]! - 0.5);
      const back = from[Math.min(from.length - 1, Math.max(4, Math.round(2 * radius)))]!;
      const dx = (tip % w) - (back % w);
      const dy = Math.floor(tip / w) - Math.floor(back / w);
      const length = Math.hypot(dx, dy) || 1;
      const toward: Point = [dx / length, dy / length];
      ends.push({ at: [tip % w, Math.floor(tip / w)], toward, radius });
    }
  return ends;
}
