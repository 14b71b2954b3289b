// Joins the finished sections in the mind, in the order of the file. Takes each section's border, gives the faults.
// Assumes that the sections cover the block once (tiling.ts); without that only names and numbers are looked at.
import type { Block, Join } from '../block.ts';
import type { Fault } from '../data.ts';
import { Border, type CornerTable, contact } from './corners.ts';
import { bend, type Micro, notConvexAt, toMicro } from './exact.ts';
import { fault, list } from './fault.ts';
import { checkSeam, firstAcross } from './sew-section.ts';

interface Group {
  readonly ids: ReadonlySet<string>;
  readonly border: Border;
}

const same = (a: ReadonlySet<string>, b: readonly string[]): boolean =>
  a.size === b.length && b.every((id) => a.has(id));

/** Faults of the joins. `borders`: one a section, by its letter; undefined where their geometry is known to be broken. */
export function sewJoins(
  block: Block,
  table: CornerTable,
  borders: ReadonlyMap<string, Border> | undefined,
  shortest: number,
): Fault[] {
  const faults: Fault[] = [];
  const joins = [...block.joins].sort((a, b) => a.number - b.number);
  const middle = (j: Join): Micro => toMicro([(j.seam[0][0] + j.seam[1][0]) / 2, (j.seam[0][1] + j.seam[1][1]) / 2]);
  joins.forEach((j, i) => {
    if (j.number !== i + 1)
      faults.push(
        fault('number', middle(j), `The joins are not numbered 1 to ${joins.length}: there is no join ${i + 1}.`),
      );
  });
  let groups: Group[] = block.sections.map((s) => ({
    ids: new Set([s.id]),
    border: borders?.get(s.id)?.copy() ?? new Border(),
  }));
  for (const j of joins) {
    const name = `Join ${j.number}`;
    const at = middle(j);
    const [left, right] = [j.left, j.right].map((side) => groups.find((g) => g.ids.has(side[0]!)));
    if (!left || !right) {
      faults.push(fault('join', at, `${name} names a section that the block does not have.`));
      continue;
    }
    if (left === right) {
      faults.push(fault('join', at, `${name} joins ${list(j.left)} to ${list(j.right)}, which are joined already.`));
      continue;
    }
    for (const [group, side] of [
      [left, j.left],
      [right, j.right],
    ] as const)
      if (!same(group.ids, side))
        faults.push(
          fault(
            'join',
            at,
            `${name} speaks of ${list(side)}, but by then ${list([...group.ids])} ${group.ids.size > 1 ? 'are' : 'is'} one part.`,
          ),
        );
    if (borders) faults.push(...joinTwo(table, left.border, right.border, j, name, shortest));
    const joined: Group = { ids: new Set([...left.ids, ...right.ids]), border: left.border.copy().merge(right.border) };
    groups = [...groups.filter((g) => g !== left && g !== right), joined];
  }
  if (groups.length > 1) {
    const parts = groups.map((g) => list([...g.ids]));
    const id = [...groups[1]!.ids][0];
    const at = block.sections.find((s) => s.id === id)!.outline[0]!;
    faults.push(fault('join', toMicro(at), `${groups.length} parts are never joined: ${parts.join('; ')}.`));
  }
  return faults;
}

function joinTwo(table: CornerTable, left: Border, right: Border, j: Join, name: string, shortest: number): Fault[] {
  const at = toMicro(j.seam[0]);
  const run = contact(left, right);
  if (!run) return [fault('join', at, `${name}: its two sides touch in more than one place.`)];
  if (!run.length) return [fault('join', at, `${name}: its two sides do not touch.`)];
  const faults = checkSeam(table, run, [toMicro(j.seam[0]), toMicro(j.seam[1])], name, shortest);
  const [a, b] = [table.at(run[0]!), table.at(run.at(-1)!)];
  const ends = (border: Border): number[] => border.edges().map(([c]) => c);
  const across = firstAcross(table, a, b, ends(left), 1) ?? firstAcross(table, a, b, ends(right), -1);
  if (across) faults.push(fault('join', across, `${name}: one of its sides reaches across the seam.`));
  const union = left.copy().merge(right).loop();
  const dent = union
    ? notConvexAt(
        union.map((c) => table.at(c)),
        bend(table.slack),
      )
    : a;
  if (dent)
    faults.push(fault('join', dent, `${name}: its two sides do not meet edge to edge; a corner is left open here.`));
  return faults;
}
