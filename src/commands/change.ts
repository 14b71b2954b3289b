// A block and changes of it -> its next edition, all that is printed for that, and what of the old print and cloth is void.
import type { Block } from '../block.ts';
import type { BlockChange } from '../data.ts';
import { applyChange, changedSettings, changeLimits, findVoid, nextEdition, type Void } from '../pipeline/change.ts';
import type { PacketSettings, PrintedBlock } from '../pipeline/print.ts';
import { outlinesOfBlock } from '../section/bare-pieces.ts';
import type { Io } from './io.ts';

/** The block after all changes, before anything is printed. `mostPieces` holds even for sections that are larger already where
 *  `strict`. Throws UserError for what cannot be sewn. */
export function changeBlock(
  before: Block,
  changes: readonly BlockChange[],
  settings: PacketSettings,
  strict = false,
): Block {
  const { mostPieces } = settings;
  const limits = { ...changeLimits(before, settings), ...(strict && { mostPieces }) };
  return nextEdition(before, (block) => changes.reduce((b, change) => applyChange(b, change, limits), block));
}

export async function printChanged(
  before: Block,
  after: Block,
  settings: PacketSettings,
  { progress }: Io,
): Promise<PrintedBlock & { readonly lost: Void }> {
  const own = changedSettings(after, settings);
  const { printProven } = await import('../pipeline/schedule.ts');
  const lost = findVoid(before, after, own);
  return { ...(await printProven(after, { outlines: outlinesOfBlock(after) }, own, [], progress)), lost };
}
