// A class or a shop: what to cut and buy for many people, and what goes into each bag. Takes orders and the number of people,
// gives the shopping list for all, what one person gets of each fabric, tickets, labels and a supply list as plain data.
import type { ClassPlan, Shopping, Ticket } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { inches } from '../units.ts';
import { measureEffort } from './effort.ts';
import { type FabricOptions, fabricOptions } from './options.ts';
import { type Order, planFabric } from './plan-fabric.ts';
import { formatCloth, toMetres, toYards, withSafety } from './yardage.ts';

export interface ClassOptions extends Partial<FabricOptions> {
  readonly people: number;
  /** whole sets more than people; default one in ten, rounded up [house rule] */
  readonly spare?: number;
  /** patches: all is cut together and bagged; lengths: each person gets a length of each fabric and cuts at home */
  readonly kit?: 'patches' | 'lengths';
}

/** House rules: minutes to cut a strip off the bolt, and seconds to cut a patch off it, in as many layers as are cut at once. */
const STRIP_MINUTES = 3;
const PATCH_SECONDS = 20;

/** Plans a class. Throws UserError for numbers that make no sense, and whatever planFabric throws. */
export function planClass(orders: readonly Order[], given: ClassOptions): ClassPlan {
  const { people, spare = Math.ceil(people / 10), kit = 'patches', ...rest } = given;
  if (!(Number.isInteger(people) && people >= 1))
    throw new UserError('number-too-small', { what: 'people', least: 1 }, 2);
  if (!(Number.isInteger(spare) && spare >= 0))
    throw new UserError('number-too-small', { what: 'spare sets', least: 0 }, 2);
  const o = fabricOptions(rest);
  const sets = people + spare;
  const shopping =
    kit === 'patches'
      ? planFabric(
          orders.map((r) => ({ ...r, copies: (r.copies ?? 1) * sets })),
          rest,
        )
      : byLengths(planFabric(orders, rest), sets, o);
  const fabrics = new Map(orders.flatMap((r) => r.block.fabrics.map((f) => [f.code, f] as const)));
  const counts = new Map<string, number>();
  for (const { block, copies = 1 } of orders)
    for (const s of block.sections)
      for (const p of s.pieces) {
        const code = block.fabrics.find((f) => f.id === p.fabric)!.code;
        counts.set(code, (counts.get(code) ?? 0) + copies);
      }
  const nameOf = (code: string): string => fabrics.get(code)!.name;
  const card = shopping.fabrics.map((f) => {
    const what = kit === 'lengths' ? f.each! : `${counts.get(f.code!)} patches`;
    return `${f.code} ${nameOf(f.code!)}: ${what}`;
  });
  const tickets = shopping.fabrics.map((f): Ticket => {
    const widths = [...new Set(f.strips.map((s) => s.width))].sort((a, b) => b - a);
    return {
      fabric: f.id,
      code: f.code!,
      name: nameOf(f.code!),
      strips: widths.map((width) => {
        const own = f.strips.filter((s) => s.width === width);
        return { count: own.length, width, length: Math.max(...own.map((s) => s.length)) };
      }),
      patches: f.strips.reduce((t, s) => t + s.patches.length, 0),
      buy: f.buy,
      bolt: '',
      price: '',
    };
  });
  const labels = orders.flatMap(({ block }) =>
    block.sections.map((s) => ({
      block: block.name,
      section: s.id,
      patches: [...s.pieces]
        .sort((a, b) => a.number - b.number)
        .map((p) => ({ name: `${s.id}${p.number}`, code: block.fabrics.find((f) => f.id === p.fabric)!.code })),
    })),
  );
  const strips = shopping.fabrics.reduce((t, f) => t + f.strips.length, 0);
  const patches = shopping.fabrics.reduce((t, f) => t + f.strips.reduce((n, s) => n + s.patches.length, 0), 0);
  const minutes =
    strips * STRIP_MINUTES + (patches * PATCH_SECONDS) / 60 / Math.min(o.layers, kit === 'patches' ? sets : 1);
  const metres = orders.reduce((t, r) => t + (r.copies ?? 1) * measureEffort(r.block).metres, 0);
  return {
    people,
    spare,
    kit,
    shopping,
    card,
    tickets,
    labels,
    supplies: supplies(metres),
    packets: sets,
    cuttingHours: Math.ceil(minutes / 30) / 2,
  };
}

/** What one person takes home of a fabric: the precut the plan names, or its own length off the bolt. Two fat quarters lie side by
 *  side in 18 in of cloth, two fat eighths in 9 in. */
function lengthFor(
  f: Shopping['fabrics'][number],
  o: FabricOptions,
): { text: string; cloth: (sets: number) => number } {
  const metric = o.system === 'metric';
  const quarter = metric ? 500 : inches(18);
  if (/fat quarter/.test(f.buy)) {
    const n = Number(f.buy.split(' ')[0]);
    return { text: f.buy, cloth: (sets) => Math.ceil((n * sets) / 2) * quarter };
  }
  if (/fat eighth|scrap/.test(f.buy))
    return { text: '1 fat eighth', cloth: (sets) => Math.ceil(sets / 2) * (quarter / 2) };
  const widest = Math.max(...f.strips.map((s) => s.width));
  const each = withSafety(f.cloth!, widest, o);
  const [yards, metres] = [toYards(each), toMetres(each)];
  return {
    text: formatCloth(yards, metres, o.system),
    cloth: (sets) => sets * (metric ? metres * 1000 : yards * 914.4),
  };
}

function byLengths(alone: Shopping, sets: number, o: FabricOptions): Shopping {
  const fabrics = alone.fabrics.map((f) => {
    const { text: each, cloth: clothOf } = lengthFor(f, o);
    const cloth = clothOf(sets);
    const [yards, metres] = [toYards(cloth), toMetres(cloth)];
    const cost =
      o.price === undefined ? {} : { cost: Math.round(o.price * (o.system === 'inch' ? yards : metres) * 100) / 100 };
    return {
      ...f,
      ...cost,
      each,
      cloth,
      yards,
      metres,
      bound: f.bound * sets,
      buy: formatCloth(yards, metres, o.system),
    };
  });
  const { buy: _, cost: __, ...rest } = alone;
  const total = o.price === undefined ? {} : { cost: Math.round(fabrics.reduce((t, f) => t + f.cost!, 0) * 100) / 100 };
  return { ...rest, fabrics, ...total };
}

/** What each person needs at the table (common practice). Thread: two threads a stitch line and loss, about four times the seam [house rule]. */
function supplies(seamMetres: number): string[] {
  return [
    `sewing machine with a 90/14 needle, stitch length 1.5 mm`,
    `neutral thread, about ${Math.ceil((4 * seamMetres) / 10) * 10} m`,
    'rotary cutter with a sharp blade, mat, and a ruler with a 1/4 in line',
    'iron and pressing board, or a seam roller',
    'thin card to fold the paper on, flat pins or a glue stick, seam ripper, small scissors',
    'paper for the templates, printed at 100 %',
    'Blades, needles and irons hurt: close the cutter whenever it is put down, keep fingers behind the ruler and away from the needle, let nobody who has not been shown use them alone, and follow the rules of the room.',
  ];
}
