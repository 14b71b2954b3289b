// Lays the parts of a quilt that come from one cloth: the long ones along the selvage first, beside each other; short ones from
// what lies beside those, column by column; the rest from strips across. Takes cuts in mm, gives the cloth they take.
import type { QuiltCloth, QuiltCut } from '../data.ts';
import { stripsFor } from './yardage.ts';

const HAIR = 1e-6;

/** Cutting order: lengthwise before across, long before short (common practice: what must be in one piece is cut while it can be). */
export const longFirst = (a: QuiltCut, b: QuiltCut): number =>
  Number(a.way === 'across') - Number(b.way === 'across') || b.length - a.length || b.width - a.width;

export function layCuts(cuts: readonly QuiltCut[], usable: number): Pick<QuiltCloth, 'cuts' | 'cloth'> {
  const order = [...cuts].sort(longFirst);
  // A shelf: as long as its first piece, filled across the cloth.
  const shelves: { length: number; room: number }[] = [];
  for (const c of order.filter((x) => x.way === 'lengthwise'))
    for (let i = 0; i < c.count; i++) {
      let shelf = shelves.find((s) => s.room >= c.width - HAIR && s.length >= c.length - HAIR);
      if (!shelf) {
        shelf = { length: c.length, room: usable };
        shelves.push(shelf);
      }
      shelf.room -= c.width;
    }
  let cloth = shelves.reduce((t, s) => t + s.length, 0);
  const laid = order.map((c) => {
    if (c.way === 'lengthwise') return { ...c, beside: 0, strips: 0 };
    let left = c.count;
    for (const s of shelves) {
      const inColumn = Math.floor(s.length / c.length + HAIR);
      if (!inColumn) continue;
      const columns = Math.min(Math.floor(s.room / c.width + HAIR), Math.ceil(left / inColumn));
      s.room -= columns * c.width;
      left = Math.max(0, left - columns * inColumn);
    }
    const { strips } = stripsFor(left, c.length, usable);
    cloth += strips * c.width;
    return { ...c, beside: c.count - left, strips };
  });
  return { cuts: laid, cloth };
}

/** The cloth it takes where long parts are pieced from strips across the cloth instead; each seam in them takes two allowances. */
export function layPieced(cuts: readonly QuiltCut[], usable: number, allowance: number): number {
  const across = cuts.filter((c) => c.way === 'across');
  const long = cuts.filter((c) => c.way === 'lengthwise');
  let cloth = layCuts(across, usable).cloth;
  for (const width of new Set(long.map((c) => c.width))) {
    const own = long.filter((c) => c.width === width);
    const length = own.reduce((t, c) => t + c.count * c.length, 0);
    // All strips sewn end to end, then cut into the parts.
    cloth += Math.ceil((length - 2 * allowance) / (usable - 2 * allowance) - HAIR) * width;
  }
  return cloth;
}
