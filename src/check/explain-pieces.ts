// Why bare pieces cannot be sewn, with the place. Takes outlines in mm that cover a rectangle, gives faults.
// Where no seam runs across, seams stop each other: in a ring (a pinwheel), or several at one corner (a Y).
import type { Fault } from '../data.ts';
import type { Point } from '../geometry/polygon.ts';
import { canBeSewn, kink } from './can-be-sewn.ts';
import { Border, CornerTable, type Loop } from './corners.ts';
import { bend, toMicro, toMm } from './exact.ts';
import type { Outline } from './sewing-orders.ts';

/** Seams that stop each other. `ends`: where each would have to go on, and in which direction. */
export interface Lock {
  readonly kind: 'pinwheel' | 'y seam' | 'locked';
  readonly at: readonly [x: number, y: number];
  readonly ends: readonly { readonly from: Point; readonly at: Point }[];
}

/** All faults of bare pieces; none where they can be sewn. */
export function explainPieces(outlines: readonly Outline[], size: readonly [number, number]): Fault[] {
  const verdict = canBeSewn(outlines, size);
  const faults: Fault[] = [];
  for (const m of verdict.misfits) faults.push({ kind: m.kind, at: m.at, text: MISFITS[m.kind] });
  for (const d of verdict.dented)
    faults.push({
      kind: 'not convex',
      at: d.at,
      text: 'A piece turns inward here: no straight seam holds it. Carry one of the two seams on through it.',
    });
  for (const l of verdict.locked) {
    const lock = findLock(outlines, l.pieces);
    faults.push({ kind: lock.kind, at: lock.at, text: LOCKS[lock.kind](lock.ends.length) });
  }
  return faults;
}

const MISFITS = {
  gap: 'There is a hole between the pieces here.',
  overlap: 'Pieces lie on each other here.',
  outside: 'A piece reaches out of the block here.',
} as const;

const NUMBERS = ['No', 'One seam', 'Two seams', 'Three seams', 'Four seams', 'Five seams', 'Six seams'];
const LOCKS = {
  pinwheel: (n: number): string =>
    `${NUMBERS[n] ?? `${n} seams`} stop each other here like a pinwheel: none runs across, so none can be sewn last. Carry one of them on to the next.`,
  'y seam': (): string =>
    'Seams end here in one corner, and none runs through it: a set-in corner. Carry one of them on.',
  locked: (): string => 'Pieces lock into each other here: no seam runs across. Carry one on to the edge.',
} as const;

/** The shortest ring of seams that stop each other, among pieces that no seam divides. */
export function findLock(outlines: readonly Outline[], set: readonly number[]): Lock {
  const table = new CornerTable();
  const raw = set.map((i) => table.loop(outlines[i]!.map(toMicro)));
  const loops = raw.map((loop) => table.refine(loop));
  const outer = new Border();
  const next = new Map<number, Set<number>>();
  for (const loop of loops) {
    outer.add(loop);
    loop.forEach((a, k) => {
      const b = loop[(k + 1) % loop.length]!;
      next.set(a, (next.get(a) ?? new Set()).add(b));
      next.set(b, (next.get(b) ?? new Set()).add(a));
    });
  }
  const rim = new Set(outer.edges().flat());
  const walks = straightWalks(table, next, (a, b) => outer.has(a, b) || outer.has(b, a));
  const through = new Map<number, number>();
  walks.forEach((w, i) => {
    for (const c of w.slice(1, -1)) through.set(c, i);
  });
  const point = (c: number): Point => toMm(table.at(c));
  /** ends of a walk inside the set, with the walk each stops at */
  const stops = walks.map((w) =>
    [
      { from: w.at(-1)!, at: w[0]! },
      { from: w[0]!, at: w.at(-1)! },
    ]
      .filter((e) => !rim.has(e.at))
      .map((e) => ({ ...e, by: through.get(e.at) })),
  );
  const open = stops.flat().find((e) => e.by === undefined);
  if (open) {
    const ends = stops.flat().filter((e) => e.at === open.at);
    return {
      kind: 'y seam',
      at: toMm(table.at(open.at)),
      ends: ends.map((e) => ({ from: point(e.from), at: point(e.at) })),
    };
  }
  let ring: { from: number; at: number }[] = [];
  walks.forEach((_, start) => {
    const found = shortestRing(stops, start);
    if (found && (!ring.length || found.length < ring.length)) ring = found;
  });
  const ends = (ring.length ? ring : stops.flat()).map((e) => ({ from: point(e.from), at: point(e.at) }));
  const mean = (k: 0 | 1): number => Math.round((ends.reduce((t, e) => t + e.at[k], 0) / ends.length) * 1000) / 1000;
  return { kind: ring.length > 2 ? 'pinwheel' : 'locked', at: [mean(0), mean(1)], ends };
}

type Stop = { readonly from: number; readonly at: number; readonly by: number | undefined };

/** From a walk to the one it stops at, and on, until the first is met again. Breadth first. */
function shortestRing(stops: readonly (readonly Stop[])[], start: number): { from: number; at: number }[] | undefined {
  const came = new Map<number, { walk: number; stop: Stop }>();
  const queue = [start];
  for (let w = queue.shift(); w !== undefined; w = queue.shift())
    for (const stop of stops[w]!) {
      const by = stop.by!;
      if (came.has(by)) continue;
      came.set(by, { walk: w, stop });
      if (by !== start) {
        queue.push(by);
        continue;
      }
      const ring: { from: number; at: number }[] = [];
      let back = start;
      do {
        const step = came.get(back)!;
        ring.unshift({ from: step.stop.from, at: step.stop.at });
        back = step.walk;
      } while (back !== start);
      return ring;
    }
  return undefined;
}

/** Inner edges gathered into walks that go on straight, each edge in one. */
function straightWalks(
  table: CornerTable,
  next: ReadonlyMap<number, ReadonlySet<number>>,
  onRim: (a: number, b: number) => boolean,
): Loop[] {
  const done = new Set<string>();
  const key = (a: number, b: number): string => (a < b ? `${a} ${b}` : `${b} ${a}`);
  const walks: Loop[] = [];
  const extend = (walk: number[]): void => {
    for (;;) {
      const at = walk.at(-1)!;
      const free = [...(next.get(at) ?? [])].filter((c) => !done.has(key(at, c)) && !onRim(at, c));
      const best = free.map((c) => ({ c, off: kink(table, [...walk, c]) })).sort((a, b) => a.off - b.off)[0];
      if (!best || best.off > bend(table.slack)) return;
      done.add(key(at, best.c));
      walk.push(best.c);
    }
  };
  for (const [a, list] of next)
    for (const b of list) {
      if (done.has(key(a, b)) || onRim(a, b)) continue;
      done.add(key(a, b));
      const walk = [a, b];
      extend(walk);
      walk.reverse();
      extend(walk);
      walks.push(walk);
    }
  return walks;
}
