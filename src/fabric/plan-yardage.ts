// All that is asked about some blocks, in one plan. Takes blocks and what they are for: one of each, so many of each, a class, a
// quilt. Gives what to cut and buy, and how much work it is.
import type { Block } from '../block.ts';
import type { QuiltPlan, Shopping, Yardage } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { measureEffort } from './effort.ts';
import { planClass } from './kits.ts';
import type { FabricOptions } from './options.ts';
import { type Order, planFabric } from './plan-fabric.ts';
import { planQuilt, type QuiltOptions } from './quilt-plan.ts';

export interface YardageOptions {
  readonly cloth?: Partial<FabricOptions>;
  /** how often each block is sewn, or by each person of a class; 1 unless given */
  readonly copies?: number;
  readonly class?: { readonly people: number; readonly spare?: number; readonly kit?: 'patches' | 'lengths' };
  readonly quilt?: Omit<QuiltOptions, 'block' | 'cloth'>;
}

/** More patches than a cutting table ever sees; the plan would take minutes. */
const MOST_PATCHES = 300_000;

/** Throws UserError for no blocks, for what excludes each other, and whatever the plans throw. */
export function planYardage(given: readonly Block[], o: YardageOptions = {}): Yardage {
  if (!given.length) throw new UserError('no-blocks', {}, 2);
  if (o.class && o.quilt) throw new UserError('class-or-quilt', { class: 'people', quilt: 'quilt' }, 2);
  if (o.quilt && o.copies !== undefined) throw new UserError('quilt-counts-blocks', { field: 'copies' }, 2);
  const blocks = nameApart(given);
  const upright = o.cloth?.upright?.map((f) => codeOf(f, blocks));
  const cloth = { ...o.cloth, ...(upright && { upright }) };
  const quilt = o.quilt && planQuilt({ ...o.quilt, block: oneSize(blocks), cloth });
  if (quilt && quilt.blocks < blocks.length)
    throw new UserError('too-many-blocks-for-quilt', { room: quilt.blocks, blocks: blocks.length }, 2);
  const orders = blocks.map((block, i): Order & { copies: number } => ({
    block,
    copies: quilt ? shareOf(quilt, i, blocks.length) : (o.copies ?? 1),
  }));
  const sets = o.class ? o.class.people + (o.class.spare ?? o.class.people / 10) : 1;
  const patches = sets * orders.reduce((t, r) => t + r.copies * r.block.sections.flatMap((s) => s.pieces).length, 0);
  if (patches > MOST_PATCHES) throw new UserError('too-many-patches', { patches: Math.round(patches) });
  const kits = o.class && planClass(orders, { ...cloth, ...o.class });
  const shopping: Shopping = kits?.shopping ?? planFabric(orders, cloth);
  const cost = shopping.cost === undefined ? undefined : shopping.cost + (quilt?.cost ?? 0);
  return {
    blocks: orders.map((r) => ({ ...r, work: measureEffort(r.block) })),
    shopping,
    ...(kits && { class: kits }),
    ...(quilt && { quilt }),
    ...(cost !== undefined && { cost: Math.round(cost * 100) / 100 }),
  };
}

/** The quilt's blocks dealt out in turn. */
const shareOf = ({ blocks }: QuiltPlan, index: number, of: number): number =>
  Math.floor(blocks / of) + (index < blocks % of ? 1 : 0);

/** Patches are labelled with their block's name: a name that comes again is numbered. */
function nameApart(blocks: readonly Block[]): Block[] {
  const taken = new Set<string>();
  return blocks.map((block) => {
    let name = block.name;
    for (let n = 2; taken.has(name); n++) name = `${block.name} (${n})`;
    taken.add(name);
    return { ...block, name };
  });
}

function oneSize(blocks: readonly Block[]): readonly [number, number] {
  const size = blocks[0]!.size;
  const other = blocks.find((b) => b.size.some((v, k) => Math.abs(v - size[k]!) > 0.01));
  if (other) throw new UserError('blocks-of-two-sizes', { blocks: [other.name, blocks[0]!.name] }, 2);
  return size;
}

/** A fabric by its code, name or id. */
function codeOf(fabric: string, blocks: readonly Block[]): string {
  const all = blocks.flatMap((b) => b.fabrics);
  const wanted = fabric.trim().toLowerCase();
  const found = [
    (f: (typeof all)[number]) => f.code,
    (f: (typeof all)[number]) => f.name,
    (f: (typeof all)[number]) => f.id,
  ]
    .map((key) => all.find((f) => key(f).toLowerCase() === wanted))
    .find((f) => f);
  if (found) return found.code;
  const known = [...new Map(all.map((f) => [f.code, `${f.code} (${f.name})`])).values()];
  throw new UserError('no-such-fabric', { fabric, fabrics: known }, 2);
}
