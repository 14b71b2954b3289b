// Convex templates -> places on sheets, turned and nested. A template may stand where the no-fit polygons of those already on
// the sheet leave room (for convex shapes a no-fit polygon is a Minkowski sum; Art 1966, Bennell & Oliveira 2008). The order
// of placing is improved by a seeded local search; the sheets are then put in the order of their first sections.
import { areaOf, type Polygon } from '../geometry/polygon.ts';
import type { Area, Place, Shape } from './pack-boxes.ts';
import { cornerBound, SpotFinder } from './spots.ts';
import { moved, type Ring, ringOf, type Turned, turnsOf } from './turned-shape.ts';

export interface NestOptions {
  /** mm between templates */
  readonly gap: number;
  /** what already stands on every sheet */
  readonly fixed: readonly Polygon[];
  /** how often a template is tried on a sheet, at most: the budget */
  readonly tries: number;
}

interface Item {
  readonly id: string;
  readonly area: number;
  turns: readonly Turned[];
}

interface Sheet {
  /** every placed part, grown by the gap */
  readonly grown: Ring[];
  free: number;
  readonly places: { item: number; turned: Turned; x: number; y: number }[];
}

/** mm: a template is tried with only its longer edges along a side of the sheet: that leaves tries for more orders of placing.
 *  441 layouts: all edges 2227 sheets, from 25 mm 2213, 50 mm 2193, 80 mm 2154, 120 mm 2132, none 2139 */
const LONG_EDGE = 120;
/** share of the sheets' room: to fill them more succeeds in 2 of 125 cases, so no better is searched for */
const FULLEST = 0.8;

/** A small seeded generator (Numerical Recipes' 32-bit linear congruence). */
function generator(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return s / 4294967296;
  };
}

class Nester {
  private readonly items: Item[];
  private readonly area: Area;
  private readonly options: NestOptions;
  private readonly fixed: Ring[];
  private readonly room: number;
  private readonly finder: SpotFinder;
  /** the items that go on a sheet at all */
  private readonly fitting: readonly number[];
  private tries = 0;

  constructor(shapes: readonly Shape[], area: Area, options: NestOptions) {
    this.area = area;
    this.finder = new SpotFinder(area);
    this.options = options;
    this.items = shapes.map((s) => ({
      id: s.id,
      area: areaOf(s.parts[0]!),
      turns: turnsOf(s, options.gap, LONG_EDGE),
    }));
    this.fixed = options.fixed.map((P) => ringOf(P));
    this.room = area.width * area.height - options.fixed.reduce((sum, P) => sum + areaOf(P), 0);
    this.fitting = this.findFitting(shapes);
  }

  private emptySheet(): Sheet {
    return { grown: [...this.fixed], free: this.room, places: [] };
  }

  /** The items that go on an empty sheet; those that only a turn along a shorter edge lets fit get all their turns. */
  private findFitting(shapes: readonly Shape[]): number[] {
    return this.items.flatMap((item, i) => {
      if (this.place(this.emptySheet(), i, -1, -1)) return [i];
      item.turns = turnsOf(shapes[i]!, this.options.gap, 0);
      return this.place(this.emptySheet(), i, -1, -1) ? [i] : [];
    });
  }

  private place(sheet: Sheet, item: number, dx: number, dy: number): boolean {
    const it = this.items[item]!;
    if (it.area > sheet.free) return false;
    this.tries++;
    let best: { x: number; y: number; cost: number } | undefined;
    let turned: Turned | undefined;
    // the most promising turns first: what they reach rules the others out
    const promising = it.turns
      .map((t) => ({ t, bound: cornerBound(t, this.area, dx, dy) }))
      .sort((a, b) => a.bound - b.bound);
    for (const { t } of promising) {
      const spot = this.finder.bestSpot(sheet.grown, t, dx, dy, best?.cost ?? Infinity);
      if (spot) [best, turned] = [spot, t];
    }
    if (!best || !turned) return false;
    const { x, y } = best;
    for (const g of turned.grown) sheet.grown.push(moved(g, x, y));
    sheet.free -= it.area;
    sheet.places.push({ item, turned, x, y });
    return true;
  }

  /** First sheet that has room, in the order given; undefined where that takes more than `most` sheets. */
  private pack(order: readonly number[], angle: () => number, most: number): Sheet[] | undefined {
    const sheets: Sheet[] = [];
    const angles: number[] = [];
    for (const item of order) {
      let done = false;
      for (let k = 0; !done; k++) {
        if (k === sheets.length) {
          if (sheets.length >= most) return undefined;
          sheets.push(this.emptySheet());
          angles.push(angle());
        }
        done = this.place(sheets[k]!, item, Math.cos(angles[k]!), Math.sin(angles[k]!));
      }
    }
    return sheets;
  }

  /** All items on few sheets: the largest first, then sheets are taken two or three at a time and packed anew so that one
   *  gets as full as it can; a sheet that ends up empty is saved. */
  solve(): Sheet[] {
    const byArea = [...this.fitting].sort((a, b) => this.items[b]!.area - this.items[a]!.area);
    if (!byArea.length) return [];
    const random = generator(20260 + byArea.length);
    const used = (s: Sheet): number => this.room - s.free;
    const total = byArea.reduce((sum, i) => sum + this.items[i]!.area, 0);
    const least = Math.ceil(total / (this.room * FULLEST));
    // towards the upper right, away from the ruler; later from any side
    let sheets = this.pack(byArea, () => Math.PI * 1.62, Infinity)!;
    this.tries = 0;
    while (this.tries < this.options.tries && sheets.length > least) {
      const many = sheets.length > 2 && random() < 0.4 ? 3 : 2;
      const order = sheets.map((s, i) => ({ i, key: used(s) * (0.6 + 0.8 * random()) })).sort((a, b) => a.key - b.key);
      const chosen = order.slice(0, many).map((o) => o.i);
      const items = chosen.flatMap((i) => sheets[i]!.places.map((p) => p.item));
      const shuffled = items
        .map((item) => ({ item, key: this.items[item]!.area * (0.5 + random()) }))
        .sort((a, b) => b.key - a.key)
        .map((e) => e.item);
      const anew = this.pack(shuffled, () => random() * 2 * Math.PI, many);
      if (!anew) continue;
      const worth = (list: readonly Sheet[]): number => list.reduce((sum, s) => sum + used(s) ** 2, 0);
      if (anew.length === many && worth(anew) < worth(chosen.map((i) => sheets[i]!))) continue;
      sheets = [...sheets.filter((_, i) => !chosen.includes(i)), ...anew];
    }
    return sheets;
  }
}

/** Places for all shapes that fit an empty sheet. Sheets in the order of their first shapes. */
export function nestShapes(shapes: readonly Shape[], area: Area, options: NestOptions): Place[] {
  const sheets = new Nester(shapes, area, options).solve();
  const ordered = sheets
    .map((s) => ({ s, first: Math.min(...s.places.map((p) => p.item)) }))
    .sort((a, b) => a.first - b.first);
  return ordered
    .flatMap(({ s }, sheet) =>
      s.places.map((p) => ({
        item: p.item,
        place: { id: shapes[p.item]!.id, sheet, turn: p.turned.turn, dx: p.x, dy: p.y },
      })),
    )
    .sort((a, b) => a.item - b.item)
    .map((p) => p.place);
}
