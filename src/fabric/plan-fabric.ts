// What to cut and what to buy for one block or many. Takes blocks and how often each is sewn, gives patches, strips with a
// cutting plan, and yardage, fabric by fabric. Fabrics of several blocks are one where their codes are.
import type { Block, Fabric } from '../block.ts';
import type { Patch, Shopping } from '../data.ts';
import { areaOf } from '../geometry/polygon.ts';
import { UserError } from '../problems/problem.ts';
import { chooseStrips, clothOf, type Lot } from './choose-strips.ts';
import { type FabricOptions, fabricOptions } from './options.ts';
import { planPatches } from './patch.ts';
import type { CutStrip } from './strips.ts';
import { formatCloth, precuts, sumUp, toMetres, toYards, withSafety } from './yardage.ts';

export interface Order {
  readonly block: Block;
  /** how often it is sewn; 1 unless given */
  readonly copies?: number;
}

/** Foundation piecing eats this many times the finished area; outside of it something is odd [house rule]. */
const USUAL = [2.5, 6] as const;

/** The whole shopping list. `patches` names each patch once; the strips hold it as often as it is cut.
 *  Throws UserError for values that make no sense, no blocks, or one fabric code that stands for two colours. */
export function planFabric(orders: readonly Order[], given: Partial<FabricOptions> = {}): Shopping {
  const o = fabricOptions(given);
  if (!orders.length) throw new UserError('no-blocks', {}, 2);
  const wrong = orders.find((r) => r.copies !== undefined && !(Number.isInteger(r.copies) && r.copies >= 1));
  if (wrong) throw new UserError('no-copies', { block: wrong.block.name }, 2);
  const fabrics = new Fabrics();
  const patches: Patch[] = [];
  const lists = new Map<string, { lots: Lot[]; finished: number; cut: number }>();
  const several = orders.length > 1;
  for (const { block, copies = 1 } of orders) {
    const ids = new Map(block.fabrics.map((f) => [f.id, fabrics.add(f, block.name)]));
    const areas = new Map(
      block.sections.flatMap((s) => s.pieces.map((p) => [`${s.id} ${p.number}`, areaOf(p.outline)] as const)),
    );
    const upright = block.fabrics
      .filter((f) => o.upright.includes(f.code) || o.upright.includes(ids.get(f.id)!))
      .map((f) => f.id);
    for (const found of planPatches(block, { ...o, upright })) {
      const patch = { ...found, fabric: ids.get(found.fabric)! };
      const index = patches.push(patch) - 1;
      const name = `${several ? `${block.name} ` : ''}${patch.section}${patch.piece}`;
      const list = lists.get(patch.fabric) ?? { lots: [], finished: 0, cut: 0 };
      lists.set(patch.fabric, list);
      list.finished += copies * areas.get(`${patch.section} ${patch.piece}`)!;
      list.cut += copies * patch.width * patch.length;
      const item = { name, patch: index, width: patch.width, length: patch.length, upright: patch.along === 'upright' };
      list.lots.push({ item, copies });
    }
  }
  const single = !several && (orders[0]!.copies ?? 1) === 1;
  // of several blocks: by code, so that a fabric is found whichever block it came with
  const inOrder = several ? [...fabrics.list].sort((a, b) => byCode(a.code, b.code)) : fabrics.list;
  const plans = inOrder
    .filter((f) => lists.has(f.id))
    .map((f) => {
      const { lots, finished, cut } = lists.get(f.id)!;
      const strips = chooseStrips(lots, o.widths, o.mostWidths, o.usable, { layers: o.layers });
      const cloth = clothOf(strips);
      const length = withSafety(cloth, Math.max(...strips.map((s) => s.width)), o);
      const [yards, metres] = [toYards(length), toMetres(length)];
      // One block is cut from what is bought for it: strips as long as a fat quarter is wide.
      const precut = single ? buyPrecut(lots, o) : undefined;
      return {
        id: f.id,
        code: f.code,
        strips: (precut?.strips ?? strips).map((s, i) => writeStrip(s, precut?.from?.[i])),
        yards,
        metres,
        bound: cut / o.usable,
        clothWidth: precut?.width ?? o.usable,
        buy: precut?.buy ?? formatCloth(yards, metres, o.system),
        cloth,
        finished,
        cut,
        ...(o.price !== undefined && {
          cost: Math.round(o.price * (o.system === 'inch' ? yards : metres) * 100) / 100,
        }),
      };
    });
  const notes: string[] = [];
  const [finished, cut] = [plans.reduce((t, p) => t + p.finished, 0), plans.reduce((t, p) => t + p.cut, 0)];
  const times = cut / finished;
  if (times < USUAL[0] || times > USUAL[1])
    notes.push(
      `The patches take ${times.toFixed(1)} times the finished area; ${USUAL[0]} to ${USUAL[1]} is usual [house rule]. ${
        times > USUAL[1]
          ? 'Many pieces are small: fewer pieces, or a larger block, would waste less.'
          : 'Look at the margins again.'
      }`,
    );
  return {
    patches,
    fabrics: plans,
    ...(single && { buy: sumUp(plans.map((p) => p.buy)) }),
    ...(o.price !== undefined && { cost: Math.round(plans.reduce((t, p) => t + p.cost!, 0) * 100) / 100 }),
    notes,
  };
}

/** "fb" before "fc", "f2" before "f10". */
const byCode = (a: string, b: string): number => {
  const [x, y] = [a, b].map((c) => /^(\D*)(\d*)(.*)$/.exec(c)!);
  const words = (u: string, v: string): number => (u < v ? -1 : u > v ? 1 : 0);
  return words(x![1]!, y![1]!) || Number(x![2]) - Number(y![2]) || words(a, b);
};

/** What a shop's cuts or scraps do for one fabric of one block, or undefined where it is better bought off the bolt. */
function buyPrecut(
  lots: readonly Lot[],
  o: FabricOptions,
): { buy: string; width: number; strips: CutStrip[]; from?: number[] } | undefined {
  const [scrap, eighth, quarter] = precuts(o.system);
  const area = lots.reduce((t, { item: i, copies }) => t + copies * i.width * i.length, 0);
  const fits = (height: number, width: number, enough: number): CutStrip[] | undefined => {
    if (lots.some(({ item: i }) => Math.min(i.width, i.length) > height || Math.max(i.width, i.length) > width))
      return undefined;
    return chooseStrips(lots, o.widths, o.mostWidths, width, { enough });
  };
  const squaring = o.safety ? o.squaring / 2 : 0;
  const room = (p: { height: number }): number => (p.height - squaring) / (1 + o.safety);
  for (const p of [scrap, eighth, quarter]) {
    // what is larger by its area alone need not be packed
    if (area > p.width * room(p) + 1) continue;
    const strips = fits(p.height, p.width, room(p));
    if (strips && clothOf(strips) <= room(p) + 1e-6) return { buy: `1 ${p.name}`, width: p.width, strips };
  }
  // Two of them: each strip goes to the first that still holds it. Where the loosest packing leaves one over, a closer one is tried.
  if (area > quarter.width * 2 * room(quarter) + 1) return undefined;
  for (const share of [2, 1.9, 1.75, 0]) {
    const strips = fits(quarter.height, quarter.width, share * room(quarter));
    if (!strips) return undefined;
    const used = [0, 0];
    const from = strips.map((s) => {
      const i = used.findIndex((u) => u + s.width <= room(quarter) + 1e-6);
      if (i >= 0) used[i]! += s.width;
      return i;
    });
    if (from.includes(-1)) continue;
    const order = strips.map((strip, i) => ({ strip, from: from[i]! })).sort((x, y) => x.from - y.from);
    return {
      buy: `2 ${quarter.names}`,
      width: quarter.width,
      strips: order.map((s) => s.strip),
      from: order.map((s) => s.from + 1),
    };
  }
  return undefined;
}

function writeStrip(s: CutStrip, from?: number): Shopping['fabrics'][number]['strips'][number] {
  const mm = (v: number): number => Math.round(v * 1000) / 1000;
  return {
    width: mm(s.width),
    length: mm(s.used),
    patches: s.cells.map((c) => c.item.name),
    ...(from && { from }),
    cells: s.cells.map((c) => ({
      name: c.item.name,
      patch: c.item.patch,
      along: mm(c.along),
      across: mm(c.across),
      length: mm(c.length),
      width: mm(c.width),
      leaving: c.leaving,
    })),
  };
}

/** Fabrics of all blocks, one a code. */
class Fabrics {
  readonly list: { id: string; code: string; colour: string; block: string }[] = [];

  /** The id under which a block's fabric is planned. */
  add(f: Fabric, block: string): string {
    const known = this.list.find((k) => k.code === f.code);
    if (known) {
      if (known.colour !== f.colour)
        throw new UserError('one-code-two-colours', {
          code: f.code,
          colours: [known.colour, f.colour],
          blocks: [known.block, block],
        });
      return known.id;
    }
    const taken = this.list.some((k) => k.id === f.id);
    const id = taken ? `${f.id}-${f.code}` : f.id;
    this.list.push({ id, code: f.code, colour: f.colour, block });
    return id;
  }
}
