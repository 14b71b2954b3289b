// A quilt of blocks: straight in rows and columns or on point, with sashing, cornerstones, borders, binding, backing, batting.
// Takes finished sizes in mm, gives the finished size of the top and every cut, the long ones first, with the cloth they take.
import type { QuiltCloth, QuiltCut, QuiltPlan } from '../data.ts';
import { UserError } from '../errors.ts';
import { type FabricOptions, fabricOptions } from './options.ts';
import {
  type BackingOptions,
  type BindingOptions,
  onPointTriangles,
  planBacking,
  planBatting,
  planBinding,
} from './quilt.ts';
import { layCuts, layPieced, longFirst } from './quilt-cloth.ts';
import { formatCloth, stripsFor, toMetres, toYards, withSafety } from './yardage.ts';

export interface QuiltOptions {
  /** finished size of one block */
  readonly block: readonly [width: number, height: number];
  readonly rows: number;
  readonly columns: number;
  readonly setting?: 'straight' | 'on point';
  /** finished width between the blocks; 0 for none */
  readonly sashing?: number;
  /** sashing also round the outside */
  readonly sashingAround?: boolean;
  /** squares where sashing crosses */
  readonly cornerstones?: boolean;
  /** finished widths, from the blocks outward */
  readonly borders?: readonly number[];
  readonly usable?: number;
  readonly allowance?: number;
  readonly binding?: BindingOptions;
  readonly backing?: BackingOptions;
  /** safety, system, price, usable width and allowance, unless they are given above */
  readonly cloth?: Partial<FabricOptions>;
}

/** Plans the whole quilt. Borders and sashing are cut lengthwise first, in one piece each; side borders before top and bottom. */
export function planQuilt(o: QuiltOptions): QuiltPlan {
  const { block, rows, columns, setting = 'straight', sashing = 0, borders = [] } = o;
  const cloth = fabricOptions(o.cloth);
  const usable = o.usable ?? cloth.usable;
  const allowance = o.allowance ?? cloth.allowance;
  if (![rows, columns].every((n) => Number.isInteger(n) && n >= 1))
    throw new UserError('A quilt has at least one row and one column of blocks.', 2);
  if (
    ![...block, usable].every((v) => v > 0 && Number.isFinite(v)) ||
    ![sashing, allowance, ...borders].every((v) => v >= 0 && Number.isFinite(v))
  )
    throw new UserError(
      'The sizes of blocks, sashing, borders and cloth must be zero or more, and blocks and cloth have some size.',
      2,
    );
  const inner = setting === 'on point' ? onPoint(o, allowance, usable) : straight(o, allowance, usable);
  const cuts = [...inner.cuts];
  let [w, h] = inner.size;
  borders.forEach((border, i) => {
    if (border === 0) return;
    const from = borders.length > 1 ? `border ${i + 1}` : 'border';
    cuts.push(lengthwise(`${from}, sides`, from, 2, border, h, allowance, usable));
    cuts.push(lengthwise(`${from}, top and bottom`, from, 2, border, w + 2 * border, allowance, usable));
    w += 2 * border;
    h += 2 * border;
  });
  const binding = planBinding(w, h, { usable, ...o.binding });
  const backing = planBacking(w, h, { usable, ...o.backing });
  const froms = [...new Set(cuts.map((c) => c.from))];
  cuts.sort(longFirst);
  const buy = (what: string, laid: Pick<QuiltCloth, 'cuts' | 'cloth'>, length: number): QuiltCloth => {
    const [yards, metres] = [toYards(length), toMetres(length)];
    return {
      what,
      ...laid,
      yards,
      metres,
      buy: formatCloth(yards, metres, cloth.system),
      ...(cloth.price !== undefined && { cost: money(cloth.price * (cloth.system === 'inch' ? yards : metres)) }),
    };
  };
  const safe = (laid: Pick<QuiltCloth, 'cuts' | 'cloth'>): number =>
    withSafety(laid.cloth, Math.max(0, ...laid.cuts.filter((c) => c.strips).map((c) => c.width)), cloth);
  const cloths = froms.map((from) => {
    const laid = layCuts(
      cuts.filter((c) => c.from === from),
      usable,
    );
    const pieced = layPieced(laid.cuts, usable, allowance);
    const enough = withSafety(pieced, Math.max(...laid.cuts.map((c) => c.width)), cloth);
    return {
      ...buy(from, laid, safe(laid)),
      ...(toYards(enough) < toYards(safe(laid)) && {
        pieced: formatCloth(toYards(enough), toMetres(enough), cloth.system),
      }),
    };
  });
  cloths.push(
    buy('binding', { cuts: [], cloth: binding.cloth }, withSafety(binding.cloth, binding.width, cloth)),
    // Its overhang is its safety [house rule].
    buy('backing', { cuts: [], cloth: backing.cloth }, backing.cloth),
  );
  return {
    size: [w, h],
    setting,
    rows,
    columns,
    block,
    sashing,
    sashingAround: o.sashingAround ?? false,
    cornerstones: o.cornerstones ?? false,
    borders: borders.filter((b) => b > 0),
    blocks: inner.blocks,
    cuts,
    cloths,
    binding,
    backing,
    batting: planBatting(w, h, o.backing?.overhang),
    ...(cloth.price !== undefined && { cost: money(cloths.reduce((t, c) => t + c.cost!, 0)) }),
  };
}

const money = (v: number): number => Math.round(v * 100) / 100;

interface Inner {
  readonly size: readonly [number, number];
  readonly blocks: number;
  readonly cuts: readonly QuiltCut[];
}

function straight(o: QuiltOptions, allowance: number, usable: number): Inner {
  const { block, rows, columns, sashing = 0, sashingAround = false, cornerstones = false } = o;
  const lines = (n: number): number => (sashing ? n - 1 + (sashingAround ? 2 : 0) : 0);
  const [across, down] = [lines(columns), lines(rows)];
  const size = [columns * block[0] + across * sashing, rows * block[1] + down * sashing] as const;
  const cuts: QuiltCut[] = [];
  if (across)
    cuts.push(
      fromStrips('sashing between blocks, upright', 'sashing', across * rows, sashing, block[1], allowance, usable),
    );
  if (down && cornerstones) {
    cuts.push(
      fromStrips('sashing between blocks, level', 'sashing', down * columns, sashing, block[0], allowance, usable),
    );
    if (across)
      cuts.push(fromStrips('cornerstones', 'cornerstones', across * down, sashing, sashing, allowance, usable));
  } else if (down) cuts.push(lengthwise('sashing between rows', 'sashing', down, sashing, size[0], allowance, usable));
  return { size, blocks: rows * columns, cuts };
}

function onPoint(o: QuiltOptions, allowance: number, usable: number): Inner {
  const { block, rows, columns, sashing = 0 } = o;
  if (Math.abs(block[0] - block[1]) > 0.01)
    throw new UserError('Only square blocks can be set on point: make the block as wide as it is high.', 2);
  if (sashing > 0)
    throw new UserError(
      'Sashing is planned for straight settings only: set the blocks straight, or leave the sashing out.',
      2,
    );
  const diagonal = block[0] * Math.SQRT2;
  const { side, corner } = onPointTriangles(block[0]);
  const sides = 2 * (rows - 1) + 2 * (columns - 1);
  // The squares have their allowance already: four side triangles from one, two corner triangles from one.
  const square = (what: string, count: number, size: number): QuiltCut =>
    fromStrips(what, 'setting triangles', count, size - 2 * allowance, size - 2 * allowance, allowance, usable);
  return {
    size: [columns * diagonal, rows * diagonal],
    blocks: rows * columns + (rows - 1) * (columns - 1),
    cuts: [
      ...(sides ? [square('squares for side triangles, cut twice across', Math.ceil(sides / 4), side)] : []),
      square('squares for corner triangles, cut once across', 2, corner),
    ],
  };
}

/** Long pieces along the selvage, as many beside each other as the cloth is wide. */
function lengthwise(
  what: string,
  from: string,
  count: number,
  width: number,
  length: number,
  allowance: number,
  usable: number,
): QuiltCut {
  const [w, l] = [width + 2 * allowance, length + 2 * allowance];
  const beside = Math.floor(usable / w + 1e-6);
  if (!beside) throw new UserError(`The ${what} would be wider than the cloth: choose a smaller width.`, 2);
  return { what, from, count, width: w, length: l, way: 'lengthwise', cloth: Math.ceil(count / beside) * l };
}

/** Short pieces cut from strips across the cloth; lengthwise where one is longer than the cloth is wide. */
function fromStrips(
  what: string,
  from: string,
  count: number,
  width: number,
  length: number,
  allowance: number,
  usable: number,
): QuiltCut {
  const [w, l] = [width + 2 * allowance, length + 2 * allowance];
  if (l > usable) return lengthwise(what, from, count, width, length, allowance, usable);
  return { what, from, count, width: w, length: l, way: 'across', cloth: stripsFor(count, l, usable).strips * w };
}
