// A block -> what is said of it beside its picture: numbers, hours, what to buy, what to mind.
import type { Block } from '../../block.ts';
import { narrowWarnings } from '../../cli/block-command.ts';
import { measureEffort } from '../../fabric/effort.ts';
import { planFabric } from '../../fabric/plan-fabric.ts';
import type { BlockSettings } from '../../pipeline.ts';
import { missingLetters } from '../../print-block.ts';
import type { Facts } from './jobs.ts';

/** The options of a block's fabric plan, as its packet has them. */
export const clothOf = (block: Block, { system, allowance, slack }: BlockSettings) => ({
  ...{ system, allowance, slack },
  upright: block.fabrics.filter((f) => f.print).map((f) => f.id),
});

/** Without `cloth` the plan of what to buy, which takes longest, is left for later. */
export function factsOf(
  block: Block,
  settings: BlockSettings,
  { misplaced, cloth = true }: { readonly misplaced?: number; readonly cloth?: boolean } = {},
): Facts {
  const work = measureEffort(block);
  const shopping = cloth ? planFabric([{ block }], clothOf(block, settings)) : undefined;
  const { pieces, sections, joins, points, narrowest } = work;
  return {
    summary: {
      ...{ pieces, sections, joins, points, narrowest },
      ...(misplaced !== undefined && { misplaced }),
      hours: work.hours[settings.level],
      buy: shopping?.buy ?? '',
    },
    minds: [...narrowWarnings(settings), ...(shopping?.notes ?? []), ...missingLetters(block, settings.designer)],
  };
}
