// Which patches that were cut for a block another edition of it has no use for, and which it needs anew.
import type { Block } from '../block.ts';
import type { FabricOptions } from './options.ts';
import { planFabric } from './plan-fabric.ts';

export interface ChangedPatches {
  /** pieces to cut again, "B3" */
  readonly cut: readonly string[];
  /** patches of the same cloth and size that another piece needs now: only their labels change */
  readonly relabel: readonly { readonly from: string; readonly to: string }[];
  /** cut patches that nothing needs any more */
  readonly unused: readonly string[];
}

export function changedPatches(before: Block, after: Block, options: Partial<FabricOptions>): ChangedPatches {
  const [old, now] = [patchesOf(before, options), patchesOf(after, options)];
  const unused = new Set([...old].filter(([name, patch]) => now.get(name) !== patch).map(([name]) => name));
  const cut: string[] = [];
  const relabel: { from: string; to: string }[] = [];
  for (const [name, patch] of now) {
    if (old.get(name) === patch) continue;
    const from = [...unused].find((u) => old.get(u) === patch);
    if (from === undefined) cut.push(name);
    else {
      unused.delete(from);
      relabel.push({ from, to: name });
    }
  }
  return { cut, relabel, unused: [...unused] };
}

/** Cloth and size by piece, "B3". */
const patchesOf = (block: Block, options: Partial<FabricOptions>): ReadonlyMap<string, string> =>
  new Map(
    planFabric([{ block }], options).patches.map((p) => [
      `${p.section}${p.piece}`,
      `${p.fabric} ${p.width} ${p.length}`,
    ]),
  );
