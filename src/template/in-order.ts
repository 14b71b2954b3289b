// Templates on sheets in the order of their sections: A B C on the first sheet, D E on the next. Who sews takes one sheet after
// another, and finds a template without searching.
import type { Polygon } from '../geometry/polygon.ts';
import { areaOf } from '../geometry/polygon.ts';
import { nestShapes } from './nest.ts';
import type { Area, Place, Shape } from './pack-boxes.ts';

/** how often a template is tried on a sheet before one more is given up for this sheet */
const TRIES = 250;
/** share of a sheet's room that templates ever fill */
const FULLEST = 0.93;
/** share of that which they fill without much trying */
const USUAL = 0.6;

export interface OrderOptions {
  /** mm between templates */
  readonly gap: number;
  /** what already stands on every sheet */
  readonly fixed: readonly Polygon[];
}

/** Places for all shapes, as many as go on each sheet, none before its turn; [] where one fits no sheet. */
export function nestInOrder(shapes: readonly Shape[], area: Area, options: OrderOptions): Place[] {
  const room = (area.width * area.height - options.fixed.reduce((sum, P) => sum + areaOf(P), 0)) * FULLEST;
  const size = (s: Shape): number => areaOf(s.parts[0]!);
  const onOne = (list: readonly Shape[]): Place[] | undefined => {
    if (list.length > 1 && list.reduce((sum, s) => sum + size(s), 0) > room) return undefined;
    const places = nestShapes(list, area, { ...options, tries: TRIES });
    return places.length === list.length && places.every((p) => p.sheet === 0) ? places : undefined;
  };
  const out: Place[] = [];
  let sheet = 0;
  for (let i = 0; i < shapes.length; sheet++) {
    // as many as surely go on a sheet; from there one more or one less at a time
    let n = 1;
    let area = size(shapes[i]!);
    while (i + n < shapes.length && area + size(shapes[i + n]!) < USUAL * room) area += size(shapes[i + n++]!);
    let best = onOne(shapes.slice(i, i + n));
    if (best)
      for (let more: Place[] | undefined; i + n < shapes.length; n++) {
        more = onOne(shapes.slice(i, i + n + 1));
        if (!more) break;
        best = more;
      }
    else while (!best && n > 1) best = onOne(shapes.slice(i, i + --n));
    if (!best) return [];
    out.push(...best.map((p) => ({ ...p, sheet })));
    i += n;
  }
  return out;
}
