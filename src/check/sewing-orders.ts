// Counts the orders in which the pieces of one section can be sewn. Takes outlines in mm, gives a number.
// Reverse sewing: pluck off pieces that one straight seam holds, one after another, until one is left.
import { Border, CornerTable, contact, type Loop } from './corners.ts';
import { bend, notConvexAt, offSegment, toMicro } from './exact.ts';

export type Outline = readonly (readonly [x: number, y: number])[];

/** All orders in which the pieces can be sewn on one paper; 0 where they are not one section. Exact up to 2^53.
 *  The union of all pieces must be convex, as it is for a section or a block. Method: pluck in reverse (Leake et al., ACM TOG
 *  40(4), 2021), each set of pieces looked at once; the sets that can arise are few, since all are convex. */
export function sewingOrders(pieces: readonly Outline[]): number {
  const table = new CornerTable();
  const raw = pieces.map((p) => table.loop(p.map(toMicro)));
  const loops = raw.map((loop) => table.refine(loop));
  if (loops.some((loop) => loop.length < 3 || dented(table, loop))) return 0;
  const whole = unionOf(loops);
  if (!whole || dented(table, whole)) return 0;
  const known = new Map<string, number>();
  const count = (left: readonly number[]): number => {
    if (left.length === 1) return 1;
    const key = left.join();
    const seen = known.get(key);
    if (seen !== undefined) return seen;
    let orders = 0;
    for (const piece of left) {
      const rest = left.filter((i) => i !== piece);
      if (canPluck(table, loops, piece, rest)) orders += count(rest);
    }
    known.set(key, orders);
    return orders;
  };
  return count(loops.map((_, i) => i));
}

/** Whether one straight seam parts the piece from the rest, which is convex without it. */
function canPluck(table: CornerTable, loops: readonly Loop[], piece: number, rest: readonly number[]): boolean {
  const union = unionOf(rest.map((i) => loops[i]!));
  if (!union || dented(table, union)) return false;
  const run = contact(new Border().add(loops[piece]!), new Border().add(union));
  if (!run || run.length < 2) return false;
  const [a, b] = [table.at(run[0]!), table.at(run.at(-1)!)];
  return run.every((c) => Math.abs(offSegment(a, b, table.at(c)).off) <= bend(table.slack));
}

function unionOf(loops: readonly Loop[]): Loop | undefined {
  const border = new Border();
  for (const loop of loops) border.add(loop);
  return border.loop();
}

const dented = (table: CornerTable, loop: Loop): boolean =>
  notConvexAt(
    loop.map((c) => table.at(c)),
    bend(table.slack),
  ) !== undefined;
