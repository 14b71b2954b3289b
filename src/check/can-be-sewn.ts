// Whether bare pieces can be sewn at all, without set-in or partial seams, in as many sections as it takes. Takes outlines in mm
// that cover a rectangle, gives the parts that no straight seam divides any more.
import { Border, CornerTable, type Loop } from './corners.ts';
import { bend, type Micro, notConvexAt, offSegment, toMicro, toMm } from './exact.ts';
import type { Outline } from './sewing-orders.ts';
import { findMisfits } from './tiling.ts';

export interface Sewability {
  readonly sewable: boolean;
  /** sets of pieces that lock into each other: no seam runs straight across any of them */
  readonly locked: readonly { readonly pieces: readonly number[]; readonly at: readonly [x: number, y: number] }[];
  /** pieces that are not convex, with the place */
  readonly dented: readonly { readonly piece: number; readonly at: readonly [x: number, y: number] }[];
  /** places where the pieces do not cover the rectangle exactly once */
  readonly misfits: readonly {
    readonly kind: 'gap' | 'overlap' | 'outside';
    readonly pieces: readonly number[];
    readonly at: readonly [x: number, y: number];
  }[];
}

/** Looks for straight cuts from edge to edge until every piece is alone. Which cut is taken first does not matter: a cut
 *  leaves every other one whole or shortens it. O(edges x pieces) a cut. */
export function canBeSewn(outlines: readonly Outline[], size: readonly [number, number]): Sewability {
  const table = new CornerTable();
  const frame = table.loop([[0, 0], [size[0], 0], size, [0, size[1]]].map((p) => toMicro([p[0]!, p[1]!])));
  const raw = outlines.map((o) => table.loop(o.map(toMicro)));
  const loops = raw.map((loop) => table.refine(loop));
  const dented = loops.flatMap((loop, piece) => {
    const at = loop.length < 3 ? table.at(loop[0]!) : notConvexAt(corners(table, loop), bend(table.slack));
    return at ? [{ piece, at: toMm(at) }] : [];
  });
  const misfits = dented.length
    ? []
    : findMisfits(table, loops, table.refine(frame)).map((m) => ({ kind: m.kind, pieces: m.parts, at: toMm(m.at) }));
  const locked: { pieces: readonly number[]; at: readonly [number, number] }[] = [];
  if (!dented.length && !misfits.length) {
    const open = [loops.map((_, i) => i)];
    for (let set = open.pop(); set; set = open.pop()) {
      if (set.length === 1) continue;
      const parts = divide(table, loops, set);
      if (parts) open.push(...parts);
      else locked.push({ pieces: set, at: toMm(middle(table, loops, set)) });
    }
  }
  return { sewable: !locked.length && !dented.length && !misfits.length, locked, dented, misfits };
}

export const corners = (table: CornerTable, loop: Loop): Micro[] => loop.map((c) => table.at(c));

/** The two sides of the first straight cut across a set of pieces, or undefined where there is none. */
function divide(table: CornerTable, loops: readonly Loop[], set: readonly number[]): [number[], number[]] | undefined {
  const outer = new Border();
  const edges = new Map<number, Set<number>>();
  for (const i of set) {
    const loop = loops[i]!;
    outer.add(loop);
    loop.forEach((a, k) => {
      const b = loop[(k + 1) % loop.length]!;
      edges.set(a, (edges.get(a) ?? new Set()).add(b));
      edges.set(b, (edges.get(b) ?? new Set()).add(a));
    });
  }
  const rim = new Set(outer.edges().flat());
  // Every cut ends at the rim, so it is enough to start there.
  for (const start of rim)
    for (const next of edges.get(start) ?? []) {
      if (outer.has(start, next) || outer.has(next, start)) continue;
      const path = follow(table, edges, rim, start, next);
      const parts = path && sides(table, loops, set, path);
      if (parts) return parts;
    }
  return undefined;
}

/** The straight walk along edges from a corner of the rim until the rim is met again; undefined where it stops inside. */
function follow(
  table: CornerTable,
  edges: ReadonlyMap<number, ReadonlySet<number>>,
  rim: ReadonlySet<number>,
  start: number,
  next: number,
): Loop | undefined {
  const path = [start, next];
  while (!rim.has(path.at(-1)!)) {
    const at = path.at(-1)!;
    let best: number | undefined;
    let least = 1;
    for (const c of edges.get(at) ?? []) {
      const bent = kink(table, [...path, c]) / bend(table.slack);
      if (bent < least) [best, least] = [c, bent];
    }
    if (best === undefined) return undefined;
    path.push(best);
  }
  return path;
}

/** How far the corners of a walk lie off the straight line between its ends, in µm; Infinity where it turns back. */
export function kink(table: CornerTable, path: Loop): number {
  const [a, b] = [table.at(path[0]!), table.at(path.at(-1)!)];
  let worst = 0;
  let reached = 0;
  for (const c of path.slice(1)) {
    const { off, along } = offSegment(a, b, table.at(c));
    if (along <= reached) return Infinity;
    reached = along;
    worst = Math.max(worst, Math.abs(off));
  }
  return worst;
}

function sides(
  table: CornerTable,
  loops: readonly Loop[],
  set: readonly number[],
  path: Loop,
): [number[], number[]] | undefined {
  const [a, b] = [table.at(path[0]!), table.at(path.at(-1)!)];
  const parts: [number[], number[]] = [[], []];
  for (const i of set) {
    let most = 0;
    let least = 0;
    for (const c of loops[i]!) {
      const { off } = offSegment(a, b, table.at(c));
      most = Math.max(most, off);
      least = Math.min(least, off);
    }
    if (Math.min(most, -least) > 2 * bend(table.slack)) return undefined;
    parts[most > -least ? 0 : 1].push(i);
  }
  return parts[0].length && parts[1].length ? parts : undefined;
}

function middle(table: CornerTable, loops: readonly Loop[], set: readonly number[]): Micro {
  const all = set.flatMap((i) => corners(table, loops[i]!));
  const mean = (k: 0 | 1): number => Math.round(all.reduce((t, p) => t + p[k], 0) / all.length);
  return [mean(0), mean(1)];
}
