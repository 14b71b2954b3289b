// Other settings of a work: a step with another fit; or, where they are for the paper alone, the same block with other words.
import type { Block } from '../../block.ts';
import { checkBlock } from '../../check/check-block.ts';
import { changedSettings } from '../../pipeline/change.ts';
import { UserError } from '../../problems/problem.ts';
import { keptSettings } from '../../settings/settings.ts';
import { templateArea } from '../../template/template-area.ts';
import { type Mm, mm } from '../../units.ts';
import type { Settings } from '../api.ts';
import { sameKeys } from './first-step.ts';
import type { Held } from './held.ts';
import type { Step } from './keep.ts';
import type { OpenWorks } from './open-works.ts';
import { blockSettings, changedKeys, changeSettings, isForPaper, isForWords, sayChange } from './settings.ts';

/** Another fit would set changes by hand aside, and nobody has said that it may. */
export class HandChanges extends Error {
  readonly count: number;
  constructor(count: number) {
    super(`${count === 1 ? 'Your change' : `Your ${count} changes`} by hand would be set aside.`);
    this.count = count;
  }
}

export async function setSettings(
  held: Held,
  given: Partial<Settings>,
  over: boolean,
  works: OpenWorks,
): Promise<void> {
  const before = held.step;
  const settings = changeSettings(before.settings, given);
  blockSettings(settings);
  const keys = changedKeys(before.settings, settings);
  if (!keys.length) return;
  const did = sayChange(keys, settings);
  const { block } = before;
  if (block && staysSewable(before, block, settings, keys)) {
    const step = { ...before, number: 0, settings, did, keys, block: worded(block, settings, before.by) };
    const regions = await works.folder.readRegions(held.id, before.number);
    await works.add(held, step, false, before.by === 'picture' ? regions : undefined);
    return;
  }
  if (!held.file.picture) throw new UserError('came-as-a-file', {});
  const hand = before.by === 'change' ? (before.hand ?? 1) : 0;
  if (hand && !over) throw new HandChanges(hand);
  const carry = block && before.by === 'change' ? before.number : block ? undefined : before.carry;
  const step: Step = {
    ...{ number: 0, settings, did, keys, by: 'picture', notes: [], minds: [], shown: {} },
    ...(carry !== undefined && { carry }),
  };
  // while a slider is being drawn, what is passed through on the way is no step to go back to
  const through = !block && before.keys !== undefined && sameKeys(before.keys, keys);
  // what is being made is the same block under other words
  if (held.making && isForWords(keys)) await works.reword(held, step, through);
  else await works.add(held, step, through);
}

/** Whether a block needs no other fit for these settings. */
function staysSewable({ by }: Step, block: Block, settings: Settings, keys: readonly (keyof Settings)[]): boolean {
  if (isForWords(keys)) return true;
  if (by !== 'picture') return isForPaper(keys);
  if (!isForPaper(keys) || keys.includes('level') || keys.includes('mostPieces')) return false;
  // another paper or allowance: the same block, where all its templates still have room
  const { smallest, allowance, paper, margin, mostPieces } = changedSettings(block, settings);
  const room = templateArea(paper, margin).map(mm) as [Mm, Mm];
  return !checkBlock(block, { smallest, most: mostPieces, paper: room, allowance }).faults.length;
}

/** The same pieces under another name, and with what is kept of its settings. */
export function worded(block: Block, settings: Settings, by: Step['by']): Block {
  const { name } = settings;
  const { source } = block;
  if (by !== 'picture' || !source) return { ...block, name };
  const { sheet, tilt } = source.settings as Record<string, unknown>;
  const kept = {
    ...keptSettings(settings),
    ...(sheet !== undefined && { sheet }),
    ...(tilt !== undefined && { tilt }),
  };
  return { ...block, name, source: { ...source, settings: kept } };
}
