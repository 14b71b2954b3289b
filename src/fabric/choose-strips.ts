// Chooses the strip widths of a fabric: of the sets of widths that a rotary cutter's ruler offers, the one whose strips take the
// least cloth, whole layers cut at once where there are copies.
import { bestWay, type CutStrip, HAIR, type Item, packStrips, type Sharing } from './strips.ts';

export const clothOf = (strips: readonly CutStrip[]): number => strips.reduce((t, s) => t + s.width, 0);
const usedOf = (strips: readonly CutStrip[]): number => strips.reduce((t, s) => t + s.width * s.used, 0);

/** How many sets of widths are packed in full after all have been estimated: estimates are good where there are many patches. */
const triedOf = (patches: number): number => Math.max(3, Math.min(30, Math.round(6000 / patches)));

/** What cloth of the piece that is at hand costs, and what lies beyond it, as a share of strip used: a rest in one piece is worth
 *  more than the ends of strips. */
const AT_HAND = 0.3;
const BEYOND = 10;

/** An item and how often it is cut. */
export interface Lot {
  readonly item: Item;
  readonly copies: number;
}

/** A strip that is used to this share of the cloth's width is worth cutting from several layers at once. */
const FULL = 0.93;

/** Strips for all copies. As many as can be are cut from `layers` lying on one another: those strips stand in the list that often,
 *  one after another, each with the same patches. What does not fill a strip in layers is cut singly, so that no cloth is lost. */
function packLots(
  lots: readonly Lot[],
  widths: readonly number[],
  widest: number,
  usable: number,
  layers: number,
  share?: Sharing,
): CutStrip[] {
  const times = (item: Item, n: number): Item[] => Array<Item>(n).fill(item);
  const thick = layers > 1 ? lots.flatMap((l) => times(l.item, Math.floor(l.copies / layers))) : [];
  const single = lots.flatMap((l) => times(l.item, layers > 1 ? l.copies % layers : l.copies));
  const strips: CutStrip[] = [];
  for (const strip of packStrips(thick, widths, widest, usable)) {
    if (strip.used >= FULL * usable) strips.push(...Array<CutStrip>(layers).fill(strip));
    else single.push(...strip.cells.flatMap((c) => times(c.item, layers)));
  }
  strips.push(...packStrips(single, widths, widest, usable, share));
  // Widest first: what is left of the cloth can still become narrow strips.
  return strips.sort((a, b) => b.width - a.width);
}

/** The set of at most `most` widths, and the packing, that take the least cloth: what is bought and what is used count alike.
 *  With `enough` mm of cloth at hand only what goes beyond it counts in full. */
export function chooseStrips(
  lots: readonly Lot[],
  offered: readonly number[],
  most: number,
  usable: number,
  { layers = 1, enough }: { readonly layers?: number; readonly enough?: number } = {},
): CutStrip[] {
  if (!lots.length) return [];
  const sorted = [...new Set(offered)].sort((a, b) => a - b);
  const widest = sorted.at(-1)!;
  const kinds = new Map<string, { item: Item; count: number }>();
  for (const { item, copies } of lots) {
    const key = `${item.width} ${item.length} ${item.upright}`;
    const kind = kinds.get(key);
    if (kind) kind.count += copies;
    else kinds.set(key, { item, count: copies });
  }
  const estimate = (widths: readonly number[]): number => {
    const along = new Map<number, number>();
    for (const { item, count } of kinds.values()) {
      const w = bestWay(item, widths, widest, usable);
      if (!w) return Infinity;
      along.set(w.strip, (along.get(w.strip) ?? 0) + w.way.length * count);
    }
    let cost = 0;
    for (const [strip, length] of along) cost += strip * (length + usable * Math.ceil(length / usable - HAIR));
    return cost;
  };
  const sets = subsets(sorted, most)
    .map((widths) => ({ widths, cost: estimate(widths) }))
    .filter((s) => s.cost < Infinity);
  sets.sort((a, b) => a.cost - b.cost);
  // with strips shared, and without where that is not the same
  const packings = (widths: readonly number[]): CutStrip[][] => {
    const sharing = { used: false };
    const shared = packLots(lots, widths, widest, usable, layers, sharing);
    return sharing.used ? [packLots(lots, widths, widest, usable, layers), shared] : [shared];
  };
  let best: { strips: CutStrip[]; cost: number } | undefined;
  const tried = triedOf(lots.reduce((t, l) => t + l.copies, 0));
  for (const { widths } of sets.slice(0, tried))
    for (const strips of packings(widths)) {
      const cloth = clothOf(strips);
      const bought = enough === undefined ? cloth : AT_HAND * cloth + BEYOND * Math.max(0, cloth - enough);
      const cost = usedOf(strips) + usable * bought;
      if (!best || cost < best.cost - HAIR) best = { strips, cost };
    }
  return best!.strips;
}

/** All sets of one to `most` of the widths, each small to large. */
function subsets(widths: readonly number[], most: number): number[][] {
  const sets: number[][] = [];
  const extend = (from: number, chosen: readonly number[]): void => {
    if (chosen.length) sets.push([...chosen]);
    if (chosen.length === most) return;
    for (let i = from; i < widths.length; i++) extend(i + 1, [...chosen, widths[i]!]);
  };
  extend(0, []);
  return sets;
}
