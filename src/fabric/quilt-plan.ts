// A quilt of blocks: straight in rows and columns or on point, with sashing, cornerstones, borders, binding, backing, batting.
// Takes finished sizes in mm, gives the finished size of the top and every cut, the long ones first, with the cloth they take.
import type { QuiltCloth, QuiltPlan } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { type FabricOptions, fabricOptions } from './options.ts';
import { type BackingOptions, type BindingOptions, planBacking, planBatting, planBinding } from './quilt.ts';
import { layCuts, layPieced, longFirst } from './quilt-cloth.ts';
import { lengthwise, onPoint, straight } from './quilt-setting.ts';
import { formatCloth, toMetres, toYards, withSafety } from './yardage.ts';

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
  if (![rows, columns].every((n) => Number.isInteger(n) && n >= 1)) throw new UserError('no-rows-or-columns', {}, 2);
  if (
    ![...block, usable].every((v) => v > 0 && Number.isFinite(v)) ||
    ![sashing, allowance, ...borders].every((v) => v >= 0 && Number.isFinite(v))
  )
    throw new UserError('sizes-under-zero', {}, 2);
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
