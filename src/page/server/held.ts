// A work that is open: what of it lies on disk, what is being made of it, and how it is told to the view.
import type { Block } from '../../block.ts';
import { changeLimits } from '../../pipeline/change.ts';
import type { Foreseen } from '../../pipeline/look.ts';
import type { Stage, Work } from '../api.ts';
import type { Asked } from './crew.ts';
import type { Facts, MadeWork } from './jobs.ts';
import type { Step, WorkFile } from './keep.ts';
import { sayChange } from './settings.ts';

/** Nothing of that name is here. */
export class NotHere extends Error {}

export interface Held {
  readonly id: string;
  file: WorkFile;
  step: Step;
  /** whether the last step could not be read, and this is the one before it */
  lost: boolean;
  /** the steps before and after, for the words on the way there */
  before: Step | undefined;
  after: Step | undefined;
  /** a first look at the block that is being made */
  look: MadeWork | undefined;
  /** the last block that was shown, until there is another */
  last: Block | undefined;
  making: Asked<MadeWork> | undefined;
  /** what it takes to buy, of a block that was changed by hand */
  planning: Asked<Facts> | undefined;
  /** where its subject is, if that was found before it was asked for; `false` while it is being looked for */
  foreseen: Foreseen | false | undefined;
  /** why the last try failed, where another may not */
  failed: string | undefined;
}

const LOST = 'The last change of this work could not be read any more; this is the work as it was before it.';

export const stageOf = ({ step, look, failed }: Pick<Held, 'step' | 'look' | 'failed'>): Stage => {
  if (step.block) return step.by === 'picture' ? 'full' : 'changed';
  if (step.failed || failed) return 'failed';
  return look ? 'coarse' : 'waiting';
};

export function tellWork(held: Held): Work {
  const { id, file, step, look } = held;
  const made = step.block ? step : look;
  const block = step.block ?? look?.block ?? held.last;
  const failed = step.failed ?? held.failed;
  const stage = stageOf(held);
  return {
    ...{ id, name: step.settings.name, revision: file.revision, settings: step.settings, stage },
    ...(file.picture && { picture: file.picture }),
    ...(stage === 'failed' && failed && { failed }),
    ...(block && { block, limits: changeLimits(block, step.settings) }),
    ...(made?.choices && { choices: made.choices }),
    ...(made?.summary && { summary: made.summary }),
    notes: [...(held.lost ? [LOST] : []), ...(made ? [...made.notes, ...made.minds] : [])],
    ...(held.before && { undo: sayBack(held.before, step) }),
    ...(held.after && { redo: sayOn(held.after) }),
    ...(step.by === 'change' && { byHand: step.hand ?? 1 }),
    shown: block ? shownIn(block, step) : {},
  };
}

function sayBack(before: Step, now: Step): string {
  return now.keys ? `back to ${sayChange(now.keys, before.settings)}` : `take back: ${now.did}`;
}
const sayOn = (after: Step): string => (after.keys ? `on to ${after.did}` : `again: ${after.did}`);

/** Fabrics whose cloth was photographed: those that a change named, and those that the fit gave by name. */
function shownIn(block: Block, { shown, settings }: Pick<Step, 'shown' | 'settings'>): Record<string, string> {
  const byName = new Map(settings.cloths.flatMap((c) => (c.id ? [[c.name, c.id] as const] : [])));
  const found: Record<string, string> = {};
  for (const f of block.fabrics) {
    const cloth = shown[f.id] ?? byName.get(f.name);
    if (cloth) found[f.id] = cloth;
  }
  return found;
}

export const piecesIn = (block: Block): number => block.sections.reduce((n, s) => n + s.pieces.length, 0);
