// What can be set about cutting and buying, its defaults, and the refusal of values that make no sense.
import { UserError } from '../problems/problem.ts';
import { inches, type System } from '../units.ts';

export interface FabricOptions {
  readonly system: System;
  /** 1/4 in; mm */
  readonly allowance: number;
  /** beyond the allowance on each side; mm. Beginners 1/2 in, else 1/4 in [house rule] */
  readonly slack: number;
  /** slack of patches longer than `large`; mm */
  readonly largeSlack: number;
  readonly large: number;
  /** how far off and how much turned a patch may be laid and still cover; mm, degrees */
  readonly laidOff: number;
  readonly laidTurned: number;
  /** edge: pieces on the block's outer edge lie parallel to it; seam: all lie along their seam */
  readonly grain: 'edge' | 'seam';
  /** codes or ids of fabrics whose print must stand upright */
  readonly upright: readonly string[];
  /** strip widths offered; mm, any list */
  readonly widths: readonly number[];
  /** most widths a fabric */
  readonly mostWidths: number;
  /** cloth lying on cloth that is cut through at once, where a block is sewn more than once [house rule] */
  readonly layers: number;
  /** usable width of the cloth; mm */
  readonly usable: number;
  /** safety: the larger of this share and one more strip of the widest, plus `squaring`; 0 switches all three off */
  readonly safety: number;
  readonly squaring: number;
  /** a yard (inch system) or a metre */
  readonly price?: number;
}

const INCH: FabricOptions = {
  system: 'inch',
  allowance: inches(1 / 4),
  slack: inches(1 / 4),
  largeSlack: inches(3 / 8),
  large: inches(6),
  laidOff: inches(1 / 8),
  laidTurned: 3,
  grain: 'edge',
  upright: [],
  widths: [1.5, 2, 2.5, 3, 3.5, 4, 5, 6].map(inches),
  mostWidths: 3,
  layers: 4,
  usable: inches(40),
  safety: 0.1,
  squaring: inches(1),
};

/** The same in whole and half centimetres; the allowance stays 1/4 in, as the templates have it. */
const METRIC: FabricOptions = {
  ...INCH,
  system: 'metric',
  widths: [40, 50, 60, 75, 90, 100, 125, 150],
  usable: 1020,
  squaring: 25,
};

/** More are beyond a rotary cutter [house rule]. */
const MOST_LAYERS = 8;

/** Patches are rounded up to this step. */
export const cutStep = (system: System): number => (system === 'inch' ? inches(1 / 4) : 5);

/** Fills in the defaults. Throws UserError (exit 2) for a value that no cloth allows. */
export function fabricOptions(given: Partial<FabricOptions> = {}): FabricOptions {
  const base = given.system === 'metric' ? METRIC : INCH;
  const o: FabricOptions = { ...base, ...given };
  for (const [name, value] of [
    ['seam allowance', o.allowance],
    ['margin beyond the allowance', o.slack],
    ['margin beyond the allowance of large patches', o.largeSlack],
    ['safety', o.safety],
    ['price', o.price ?? 0],
  ] as const)
    if (!(value >= 0 && Number.isFinite(value)))
      throw new UserError('quantity-too-small', { what: name, value, aboveZero: false }, 2);
  if (!(o.usable > 0 && Number.isFinite(o.usable))) throw new UserError('no-usable-width', {}, 2);
  if (!o.widths.length || o.widths.some((w) => !(w > 0))) throw new UserError('no-strip-widths', {}, 2);
  const wide = o.widths.find((w) => w > o.usable);
  const shown = (width: number): string => inchOrCm(width, o.system);
  if (wide !== undefined)
    throw new UserError('strip-wider-than-cloth', { strip: shown(wide), cloth: shown(o.usable) }, 2);
  if (!(o.mostWidths >= 1)) throw new UserError('no-widths-per-fabric', {}, 2);
  if (!(Number.isInteger(o.layers) && o.layers >= 1 && o.layers <= MOST_LAYERS))
    throw new UserError('layers-out-of-range', { layers: o.layers, most: MOST_LAYERS }, 2);
  return o;
}

const inchOrCm = (v: number, system: System): string =>
  system === 'inch' ? `${Math.round((v / 25.4) * 100) / 100} in` : `${Math.round(v) / 10} cm`;
