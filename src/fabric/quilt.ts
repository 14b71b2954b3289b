// A quilt's arithmetic beyond its blocks: binding, backing, batting, settings on point, triangles. Lengths in mm, as always;
// the published rules are in inches. Every allowance is a parameter, since published examples differ in them.
import type { Panels } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { inches } from '../units.ts';

const HAIR = 1e-6;
const EIGHTH = inches(1 / 8);

const roundUp = (v: number, step: number): number => Math.round(Math.ceil(v / step - HAIR) * step * 1000) / 1000;

function demand(values: Readonly<Record<string, number>>, least = 0): void {
  for (const [name, v] of Object.entries(values))
    if (!(Number.isFinite(v) && v >= least && (least > 0 || v >= 0)))
      throw new UserError('quantity-too-small', { what: name, value: v, aboveZero: least > 0 }, 2);
}

export interface BindingOptions {
  /** 2 1/2 in */
  readonly strip?: number;
  /** for corners and the last join; 10 in */
  readonly overage?: number;
  /** usable width of the cloth; 40 in */
  readonly usable?: number;
  /** what each diagonal join costs; a strip's width */
  readonly perJoin?: number;
}

/** Binding strips: the fewest n with n · usable - (n - 1) · perJoin >= perimeter + overage. */
export function planBinding(width: number, height: number, o: BindingOptions = {}): Panels & { total: number } {
  const { strip = inches(2.5), overage = inches(10), usable = inches(40), perJoin = strip } = o;
  demand(
    {
      'width of the quilt': width,
      'height of the quilt': height,
      'binding strip': strip,
      'width of the cloth': usable,
    },
    HAIR,
  );
  demand({ overage, 'loss at a join': perJoin });
  if (perJoin >= usable) throw new UserError('join-costs-a-strip', {}, 2);
  const total = 2 * (width + height) + overage;
  const count = Math.ceil((total - perJoin) / (usable - perJoin) - HAIR);
  return { count, width: strip, length: usable, cloth: count * strip, total };
}

export interface BackingOptions {
  /** on every side; 4 in */
  readonly overhang?: number;
  readonly usable?: number;
  /** what each seam between widths takes; 1/2 in */
  readonly perSeam?: number;
  /** which way the seams run on the quilt; best: whichever takes less cloth */
  readonly seams?: 'up' | 'across' | 'best';
}

/** Backing from whole widths of cloth sewn together. Seams that run up the quilt: panels as long as it is high, beside each
 *  other; across: panels as long as it is wide, one above the other. Panels are counted, area alone is never enough:
 *  (W + 4)(H + 4) / 36 are square inches by inches and no yards. */
export function planBacking(
  width: number,
  height: number,
  o: BackingOptions = {},
): Panels & { seams: 'up' | 'across' } {
  const { overhang = inches(4), usable = inches(40), perSeam = inches(0.5), seams = 'best' } = o;
  demand({ 'width of the quilt': width, 'height of the quilt': height, 'width of the cloth': usable }, HAIR);
  demand({ overhang, 'loss at a seam': perSeam });
  if (perSeam >= usable) throw new UserError('seam-takes-a-width', {}, 2);
  const [w, h] = [width + 2 * overhang, height + 2 * overhang];
  const panels = (over: number): number => Math.max(1, Math.ceil((over - perSeam) / (usable - perSeam) - HAIR));
  const up = { count: panels(w), width: usable, length: h, cloth: panels(w) * h, seams: 'up' as const };
  const across = { count: panels(h), width: usable, length: w, cloth: panels(h) * w, seams: 'across' as const };
  if (seams !== 'best') return seams === 'up' ? up : across;
  return across.cloth < up.cloth - HAIR ? across : up;
}

/** Batting: one piece, as large as the backing. */
export const planBatting = (
  width: number,
  height: number,
  overhang: number = inches(4),
): { width: number; height: number } => ({
  width: width + 2 * overhang,
  height: height + 2 * overhang,
});

/** Squares to cut for the triangles that fill the sides and corners of a setting on point, for blocks of this finished side.
 *  Sides: side · 1.414 + 1 1/4 in, cut twice across into four; corners: side / 1.414 + 7/8 in, cut once into two; rounded up to
 *  1/8 in (christaquilts.com/quilty-math). The side triangles' long edge and the corners' two short ones are on the grain. */
export const onPointTriangles = (side: number): { side: number; corner: number } => ({
  side: roundUp(side * Math.SQRT2 + inches(1.25), EIGHTH),
  corner: roundUp(side / Math.SQRT2 + inches(7 / 8), EIGHTH),
});

/** Square to cut for two half-square triangles of this finished side: + 7/8 in (north-hampshire-quilters.org.uk). */
export const halfSquare = (side: number): number => side + inches(7 / 8);
/** Square to cut for four quarter-square triangles of this finished long side: + 1 1/4 in (the same). */
export const quarterSquare = (side: number): number => side + inches(1.25);
