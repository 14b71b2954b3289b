// Where along its seam a patch goes: how far it reaches past an end of the seam, in words that a hand can follow.
import type { Piece } from '../block.ts';
import type { Patch } from '../data.ts';
import { distance, type Point } from '../geometry/polygon.ts';
import { formatLength, type System } from '../units.ts';

/** A patch whose side runs within this of its seam's direction lies along it: sine of half a degree */
const PARALLEL = 0.009;

export type End = 'left' | 'right' | 'top' | 'bottom';

export interface PatchPlace {
  /** mm past the seam's ends, the first and the second as the block has them */
  readonly past: readonly [number, number];
  /** what to call the two ends, as the finished block is seen */
  readonly ends: readonly [End, End];
}

/** Of a patch that is laid along its seam; undefined where it is not. */
export function placeAlongSeam(piece: Pick<Piece, 'seam'>, patch: Pick<Patch, 'lies'>): PatchPlace | undefined {
  if (!piece.seam || !patch.lies) return undefined;
  const [a, b] = piece.seam as [Point, Point];
  const length = distance(a, b);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const [p, q, , s] = patch.lies as [Point, Point, Point, Point];
  const along = [q, s].some((r) => {
    const d = distance(p, r);
    return d > 0 && Math.abs(((r[0] - p[0]) * uy - (r[1] - p[1]) * ux) / d) < PARALLEL;
  });
  if (!along) return undefined;
  const reach = patch.lies.map(([x, y]) => (x - a[0]) * ux + (y - a[1]) * uy);
  const steep = Math.abs(uy) > Math.abs(ux);
  const ends: [End, End] = steep ? ['top', 'bottom'] : ['left', 'right'];
  if (steep ? uy < 0 : ux < 0) ends.reverse();
  return { past: [-Math.min(...reach), Math.max(...reach) - length], ends };
}

/** Lengths are said in steps that a hand can keep to. */
const step = (system: System): number => (system === 'inch' ? 25.4 / 8 : 5);

/** "1/2 in past left": past the left end of its seam, where the patch is not centred on its seam; undefined where it is. The end past which it reaches farther
 *  is named: the patch's length does the rest. */
export function placeWords(place: PatchPlace, system: System): string | undefined {
  const [one, other] = place.past;
  // centred within half of what a hand may be off: then nothing need be said
  if (Math.abs(one - other) / 2 < step(system) / 2) return undefined;
  return `${formatLength(saidPast(place, system), system)} past ${place.ends[one > other ? 0 : 1]}`;
}

/** What is said, in mm: to the nearest step. */
export function saidPast({ past }: PatchPlace, system: System): number {
  const by = step(system);
  return Math.max(by, Math.round(Math.max(...past) / by) * by);
}
