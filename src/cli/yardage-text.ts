// The plan of what to buy for a terminal, and as JSON for machines.
import type { Shopping, Yardage } from '../data.ts';
import { formatLength, formatSize, type System } from '../units.ts';

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Columns as wide as their widest cell. */
function columns(rows: readonly (readonly string[])[]): string {
  const widths = rows.reduce<number[]>((w, r) => r.map((c, i) => Math.max(c.length, w[i] ?? 0)), []);
  return rows.map((r) => `  ${r.map((c, i) => c.padEnd(widths[i]!)).join('  ')}`.trimEnd()).join('\n');
}

const patchesIn = (f: Shopping['fabrics'][number]): number => f.strips.reduce((t, s) => t + s.patches.length, 0);

export function yardageText(plan: Yardage, system: System, files?: Readonly<Record<string, string>>): string {
  const { shopping, quilt } = plan;
  const names = new Map(plan.blocks.flatMap(({ block }) => block.fabrics.map((f) => [f.code, f.name] as const)));
  const out: string[] = [];
  for (const { block, copies, work } of plan.blocks)
    out.push(
      `${block.name}${copies > 1 ? ` (${copies} of it)` : ''}: ${count(work.pieces, 'piece')} in ${count(work.sections, 'section')}, ` +
        `${count(work.joins, 'join')}, ${count(work.points, 'point')} to match; ${work.level}, about ${work.hours[work.level]} hours of sewing`,
    );
  if (plan.class)
    out.push(
      `${count(plan.class.people, 'person', 'people')} and ${plan.class.spare} spare; ` +
        (plan.class.kit === 'patches'
          ? `precut kits, about ${plan.class.cuttingHours} hours of cutting`
          : 'each gets a length of every fabric'),
    );
  const each = plan.class?.kit === 'lengths' ? ' a person' : '';
  const money = (cost: number | undefined): string[] => (plan.cost === undefined ? [] : [(cost ?? 0).toFixed(2)]);
  out.push(
    '',
    columns(
      shopping.fabrics.map((f) => [
        f.code ?? f.id,
        names.get(f.code!) ?? '',
        f.buy,
        ...money(f.cost),
        `${count(patchesIn(f), 'patch', 'patches')} from ${count(f.strips.length, 'strip')}${each}`,
        `${formatLength(
          f.strips.reduce((t, x) => t + x.width, 0),
          system,
        )} of cloth ${formatLength(f.clothWidth ?? 0, system)} wide, by area alone ${formatLength((f.cut ?? 0) / (f.clothWidth ?? 1), system)}`,
      ]),
    ),
  );
  if (shopping.buy) out.push('', `To buy: ${shopping.buy}.`);
  if (quilt) {
    out.push(
      '',
      `Quilt of ${count(quilt.blocks, 'block')}${quilt.setting === 'on point' ? ' on point' : ''}, ${formatSize(quilt.size, system)} finished`,
      columns(quilt.cloths.map((c) => [c.what, c.buy, ...money(c.cost)])),
      `  batting  ${formatSize([quilt.batting.width, quilt.batting.height], system)}`,
    );
    for (const c of quilt.cuts) out.push(`  cut ${c.count} x ${formatSize([c.width, c.length], system)}  ${c.what}`);
    const { binding, backing } = quilt;
    out.push(
      `  cut ${count(binding.count, 'strip')} of ${formatSize([binding.width, binding.length], system)}  binding`,
      `  cut ${count(backing.count, 'panel')} of ${formatLength(backing.length, system)}, the whole width of the cloth  backing` +
        (backing.count > 1 ? `, seams run ${backing.seams}` : ''),
    );
  }
  if (plan.cost !== undefined) out.push('', `Together: ${plan.cost.toFixed(2)}`);
  if (files) out.push('', `Print ${files.plan}; the tables lie beside it.`);
  return `${out.join('\n')}\n`;
}

/** Lengths in mm. `patches` names each patch once, `strips` holds it as often as it is cut. */
export function yardageJson(plan: Yardage, files?: Readonly<Record<string, string>>): unknown {
  const { shopping, blocks, quilt, cost } = plan;
  const known = new Map(blocks.flatMap(({ block }) => block.fabrics.map((f) => [f.code, f] as const)));
  const { patches, fabrics, buy, notes } = shopping;
  const { shopping: _, ...kits } = plan.class ?? { shopping };
  return {
    unit: 'mm',
    blocks: blocks.map(({ block, copies, work }) => ({ name: block.name, size: block.size, copies, work })),
    patches,
    fabrics: fabrics.map((f) => {
      const { name, colour } = known.get(f.code!)!;
      return { ...f, name, colour };
    }),
    ...(buy && { buy }),
    ...(plan.class && { class: kits }),
    ...(quilt && { quilt }),
    ...(cost !== undefined && { cost }),
    notes: notes ?? [],
    ...(files && { files }),
  };
}
