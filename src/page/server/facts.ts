// A block -> what is said of it beside its picture: numbers, hours, what to buy, what to mind.
import type { Block } from '../../block.ts';
import { narrowWarnings } from '../../commands/block.ts';
import { measureEffort } from '../../fabric/effort.ts';
import { planFabric } from '../../fabric/plan-fabric.ts';
import { clothOf, missingLetters } from '../../pipeline/print.ts';
import type { Settings } from '../../settings/settings.ts';
import type { Facts } from './jobs.ts';

/** Without `cloth` the plan of what to buy, which takes longest, is left for later. */
export function factsOf(
  block: Block,
  settings: Settings,
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
