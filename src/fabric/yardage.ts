// From lengths of cloth in mm to what shops cut. Rounding as the trade does it, with and without safety.
import { formatInches, inches, MM_PER_YARD, type System } from '../units.ts';
import type { FabricOptions } from './options.ts';

/** What a hair of floating point may add before a yardage is bumped to the next eighth: exactly 7/8 yd stays 7/8 yd. */
const HAIR = 1e-6;

const stepUp = (value: number, step: number): number => Math.ceil(value / step - HAIR) * step;

/** Yards as shops cut them: steps of 1/8, never under 1/4 unless `least` says so. House rule; published examples round to 1/8. */
export const toYards = (length: number, least = 1 / 4): number =>
  length <= 0 ? 0 : Math.max(least, stepUp(length / MM_PER_YARD, 1 / 8));

/** Metres as shops cut them: steps of 10 cm, never under 25 cm [house rule]. */
export const toMetres = (length: number, least = 0.25): number =>
  length <= 0 ? 0 : length <= least * 1000 + HAIR ? least : Math.round(stepUp(length / 100, 1)) / 10;

/** Cloth to buy in mm: what the strips take off the bolt and, with safety, the larger of 10 % and one more strip of the widest
 *  used, plus 1 in for squaring up. Published examples run with safety 0. */
export function withSafety(cloth: number, widest: number, o: Pick<FabricOptions, 'safety' | 'squaring'>): number {
  if (cloth <= 0 || o.safety === 0) return cloth;
  return cloth + Math.max(o.safety * cloth, widest) + o.squaring;
}

/** "2 3/8 yd" or "0.3 m". */
export const formatCloth = (yards: number, metres: number, system: System): string =>
  system === 'inch' ? `${formatInches(inches(yards), 8)} yd` : `${metres} m`;

/** How many rectangles of along x across come from one strip and how many strips it takes; all mm. */
export function stripsFor(count: number, along: number, usable: number): { perStrip: number; strips: number } {
  const perStrip = Math.floor(usable / along + HAIR);
  return { perStrip, strips: perStrip ? Math.ceil(count / perStrip) : Number.POSITIVE_INFINITY };
}

interface Precut {
  readonly name: string;
  readonly names: string;
  readonly height: number;
  readonly width: number;
}

/** Usable sizes: fat quarter 18 x 21 of 18 x 22 in, fat eighth 9 x 21 of 9 x 22 in (common practice); metric 50 x 55 and 25 x 55 cm
 *  less 2 cm of selvage [house rule]. A scrap is half a fat eighth [house rule]. Small to large. */
export function precuts(system: System): [scrap: Precut, eighth: Precut, quarter: Precut] {
  const inch = system === 'inch';
  const cut = (name: string, names: string, height: number, width: number): Precut => ({ name, names, height, width });
  return inch
    ? [
        cut('scrap of 9 x 11 in', 'scraps of 9 x 11 in', inches(9), inches(10.5)),
        cut('fat eighth', 'fat eighths', inches(9), inches(21)),
        cut('fat quarter', 'fat quarters', inches(18), inches(21)),
      ]
    : [
        cut('scrap of 25 x 28 cm', 'scraps of 25 x 28 cm', 250, 260),
        cut('fat eighth', 'fat eighths', 250, 530),
        cut('fat quarter', 'fat quarters', 500, 530),
      ];
}

/** "5 fat eighths and 1 fat quarter" from a list of what each fabric asks for, in the order they first come. */
export function sumUp(wants: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const w of wants) {
    const [, n, what] = /^(\d+) (.*)$/.exec(w) ?? [undefined, '1', w];
    // "1 fat quarter" and "2 fat quarters" are one kind; yardage is kept as it is.
    const one = what!.replace(/^fat (eighth|quarter)s$/, 'fat $1').replace(/^scraps of /, 'scrap of ');
    if (/yd$|m$/.test(w) && !/scrap/.test(w)) counts.set(w, (counts.get(w) ?? 0) + 1);
    else counts.set(one, (counts.get(one) ?? 0) + Number(n));
  }
  const parts = [...counts].map(([what, n]) => {
    if (/^[\d./ ]+ (yd|m)$/.test(what)) return n > 1 ? `${n} times ${what}` : what;
    return `${n} ${n > 1 ? what.replace(/^(fat (?:eighth|quarter))$/, '$1s').replace(/^scrap /, 'scraps ') : what}`;
  });
  return parts.length < 2 ? (parts[0] ?? 'nothing') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
