// Cuts patches from strips. Takes rectangles in mm, gives strips with every patch in its place, in an order that cuts straight:
// the strip off the cloth, columns off the strip, patches off the column, smaller ones from what is left beside them.
// Assumes patches in steps (1/4 in or 0.5 cm); a strip runs across the cloth, selvage to selvage.
import { UserError } from '../problems/problem.ts';

export interface Item {
  readonly name: string;
  /** index handed through */
  readonly patch: number;
  readonly width: number;
  readonly length: number;
  /** may not be turned: its width stands along the selvage */
  readonly upright: boolean;
}

export interface PlacedItem {
  readonly item: Item;
  readonly along: number;
  readonly across: number;
  readonly length: number;
  readonly width: number;
  readonly leaving: boolean;
}

export interface CutStrip {
  readonly width: number;
  used: number;
  readonly cells: PlacedItem[];
}

/** mm: lengths nearer than this are one */
export const HAIR = 1e-6;

interface Free {
  readonly strip: CutStrip;
  readonly along: number;
  readonly across: number;
  readonly length: number;
  readonly width: number;
}

interface Way {
  /** across the strip and along it */
  readonly width: number;
  readonly length: number;
}

/** How an item may lie. Asked for thousands of times an item, so it is worked out once. */
const known = new WeakMap<Item, readonly Way[]>();
function ways(i: Item): readonly Way[] {
  let list = known.get(i);
  if (!list) {
    const asGiven = { width: i.width, length: i.length };
    const turned = { width: i.length, length: i.width };
    list = i.upright || Math.abs(i.width - i.length) < HAIR ? [asGiven] : [asGiven, turned];
    known.set(i, list);
  }
  return list;
}

/** The strip width and the way round that cost least cloth for one item. An item wider than the widest strip offered gets a strip of
 *  its own width; undefined where one of the offered widths would hold it, but none of the chosen. */
export function bestWay(
  item: Item,
  chosen: readonly number[],
  widest: number,
  usable: number,
): { way: Way; strip: number } | undefined {
  let best: Way | undefined;
  let bestStrip = 0;
  const offer = (strip: number, w: Way): void => {
    if (w.length > usable + HAIR) return;
    const cost = strip * w.length;
    const least = best ? bestStrip * best.length : Infinity;
    if (cost < least - HAIR || (cost < least + HAIR && strip < bestStrip)) [best, bestStrip] = [w, strip];
  };
  const all = ways(item);
  for (const w of all) {
    const strip = chosen.find((s) => s >= w.width - HAIR);
    if (strip !== undefined) offer(strip, w);
  }
  if (best) return { way: best, strip: bestStrip };
  if (all.some((w) => w.width <= widest + HAIR && w.length <= usable + HAIR)) return undefined;
  for (const w of all) offer(w.width, w);
  if (best) return { way: best, strip: bestStrip };
  const inCm = (length: number): number => Math.round(length / 10);
  throw new UserError('patch-too-long', { patch: item.name, lengthCm: inCm(item.length), clothCm: inCm(usable) });
}

/** Keeps free places and open strips by their size, so that thousands of equal patches are placed as fast as a few. */
class Shelf<T> {
  private readonly sizes = new Map<number, { width: number; length: number; list: T[] }>();

  put(width: number, length: number, value: T): void {
    // whole micrometres of both in one number: quicker than words
    const key = Math.round(width * 1000) * 2 ** 26 + Math.round(length * 1000);
    const size = this.sizes.get(key);
    if (size) size.list.push(value);
    else this.sizes.set(key, { width, length, list: [value] });
  }

  /** The length of all places together. */
  lengths(): number {
    let sum = 0;
    for (const size of this.sizes.values()) sum += size.length * size.list.length;
    return sum;
  }

  /** Takes the place with the least `waste` that holds one of the ways; Infinity refuses a place. */
  take(
    options: readonly Way[],
    waste: (width: number, length: number, w: Way) => number,
  ): { value: T; way: Way } | undefined {
    let best: { key: number; way: Way; cost: number } | undefined;
    for (const [key, size] of this.sizes)
      for (const way of options) {
        if (way.width > size.width + HAIR || way.length > size.length + HAIR) continue;
        const cost = waste(size.width, size.length, way);
        if (cost < (best?.cost ?? Infinity)) best = { key, way, cost };
      }
    if (!best) return undefined;
    const size = this.sizes.get(best.key)!;
    const value = size.list.pop()!;
    if (!size.list.length) this.sizes.delete(best.key);
    return { value, way: best.way };
  }
}

/** Asks for the last patches of a width at the ends of wider strips; tells whether it came to that. */
export interface Sharing {
  used: boolean;
}

/** Lays an item into the corner of a free place; what is left of that goes to the `leavings`. */
function place(leavings: Shelf<Free>, free: Free, item: Item, { width, length }: Way, leaving: boolean): void {
  free.strip.cells.push({ item, along: free.along, across: free.across, width, length, leaving });
  const [overAcross, overAlong] = [free.width - width, free.length - length];
  // The first cut goes right across on the side that leaves the larger whole piece.
  const columnFirst = overAcross * length >= overAlong * width;
  const beside = { width: overAcross, length: columnFirst ? free.length : length };
  const behind = { width: columnFirst ? width : free.width, length: overAlong };
  const { strip, along, across } = free;
  if (Math.min(beside.width, beside.length) > HAIR)
    leavings.put(beside.width, beside.length, { strip, along, across: across + width, ...beside });
  if (Math.min(behind.width, behind.length) > HAIR)
    leavings.put(behind.width, behind.length, { strip, along: along + length, across, ...behind });
}

/** Packs all items into strips of the given widths (small to large), each at most `usable` long. Large ones first; each goes
 *  beside a larger one where it fits, else into the fullest open strip of its width, else a new strip is cut. */
export function packStrips(
  items: readonly Item[],
  widths: readonly number[],
  widest: number,
  usable: number,
  share?: Sharing,
): CutStrip[] {
  const chosen = new Map<Item, { item: Item; way: Way; strip: number }>();
  const wanted = items.map((item) => {
    const before = chosen.get(item);
    if (before) return before;
    const best = bestWay(item, widths, widest, usable);
    if (!best) throw new Error(`no strip of ${widths.join(', ')} mm holds ${item.name}`);
    const own = { item, ...best };
    chosen.set(item, own);
    return own;
  });
  wanted.sort(
    (a, b) =>
      b.strip - a.strip || b.way.length - a.way.length || b.way.width - a.way.width || a.item.patch - b.item.patch,
  );
  const strips: CutStrip[] = [];
  const leavings = new Shelf<Free>();
  const open = new Map<number, Shelf<CutStrip>>();
  // What is still to come of the same strip width, as a length of strip.
  const rest = new Float64Array(wanted.length);
  for (let i = wanted.length - 1; i >= 0; i--) {
    const next = wanted[i + 1];
    rest[i] = wanted[i]!.way.length + (next?.strip === wanted[i]!.strip ? rest[i + 1]! : 0);
  }
  for (const [i, { item, strip: width, way }] of wanted.entries()) {
    const beside = leavings.take(ways(item), (w, l, x) => w * l - x.width * x.length);
    if (beside) {
      place(leavings, beside.value, item, beside.way, true);
      continue;
    }
    const shelf = open.get(width) ?? new Shelf<CutStrip>();
    open.set(width, shelf);
    let strip = shelf.take([way], (_, room, x) => room - x.length)?.value;
    if (!strip && share) {
      // The last few go to the ends of wider strips, where these have room for all of them, before a strip is cut for them.
      const wider = [...open].filter(([w]) => w > width + HAIR).sort((a, b) => a[0] - b[0]);
      if (wider.reduce((t, [, s]) => t + s.lengths(), 0) >= rest[i]! - HAIR)
        for (const [, s] of wider) strip ??= s.take([way], (_, room, x) => room - x.length)?.value;
      share.used ||= strip !== undefined;
    }
    strip ??= { width, used: 0, cells: [] };
    if (!strip.cells.length) strips.push(strip);
    const column: Free = { strip, along: strip.used, across: 0, length: way.length, width: strip.width };
    strip.used += way.length;
    place(leavings, column, item, way, false);
    const own = open.get(strip.width) ?? shelf;
    if (usable - strip.used > HAIR) own.put(strip.width, usable - strip.used, strip);
  }
  for (const s of strips) s.cells.sort((a, b) => a.along - b.along || a.across - b.across);
  return strips;
}
