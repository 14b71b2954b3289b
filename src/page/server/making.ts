// The block of the step that a work stands at: asked of the crew, shown as soon as there is a first look, kept when it is whole.
import { Cancelled } from '../../threads/call.ts';
import type { Event } from '../api.ts';
import type { Crew } from './crew.ts';
import type { Held } from './held.ts';
import type { Folder, Step } from './keep.ts';
import { worded } from './set-settings.ts';
import { blockSettings } from './settings.ts';
import { inPageWords } from './voice.ts';

/** What the studio lends for it. */
export interface Making {
  readonly folder: Folder;
  readonly crew: Crew;
  readonly tell: (event: Event) => void;
  /** after everything that was asked of this work before */
  queue(id: string, run: () => Promise<void>): Promise<void>;
  /** it has something new that is kept, or that is only shown */
  write(held: Held): Promise<void>;
  told(held: Held): void;
  /** one more step of it */
  add(held: Held, step: Step): Promise<void>;
}

/** Begins what is missing of a work, unless it is under way or has failed. */
export function pursue(held: Held, studio: Making): void {
  const { id, step } = held;
  if (step.block) studio.crew.readyHand();
  if (step.block || step.failed || held.failed || held.making) return;
  const picture = { path: studio.folder.work(id, 'picture'), name: held.file.file };
  const { foreseen } = held;
  const input = { picture, settings: blockSettings(step.settings), look: true, ...(foreseen && { foreseen }) };
  const making = studio.crew.ask('makeWork', input, id, {
    part: (look) => {
      held.look = look;
      studio.told(held);
      foresee(held, studio);
    },
    progress: (stage, share) => studio.tell({ kind: 'progress', id, stage, share }),
  });
  held.making = making;
  const settle = (then: () => Promise<void>): void =>
    void studio
      .queue(id, async () => {
        if (held.making !== making) return;
        held.making = undefined;
        await then();
      })
      .catch((e: Error) => process.stderr.write(`seamwright: ${id}: ${e.message}\n`));
  making.answer.then(
    ({ regions, block, choices, summary, notes, minds }) =>
      settle(async () => {
        // it may have been given another name meanwhile
        const named = worded(block, blockSettings(held.step.settings), 'picture');
        const made = { ...held.step, block: named, choices, summary, notes, minds };
        await studio.folder.writeStep(id, made, regions);
        held.step = made;
        held.look = undefined;
        await studio.write(held);
        studio.crew.readyHand();
        if (held.step.carry !== undefined) await carry(held, held.step.carry, studio);
      }),
    (e: Error) => {
      if (e instanceof Cancelled) return;
      settle(async () => {
        held.look = undefined;
        // only in memory: after a restart, or another change, it is tried again
        held.failed = inPageWords(e);
        await studio.write(held);
      });
    },
  );
}

/** What was changed by hand before this fit, done again where the pieces are the same: as a step of its own. */
async function carry(held: Held, from: number, studio: Making): Promise<void> {
  const { folder, crew } = studio;
  const { step, id } = held;
  const changed = await folder.readStep(id, from).catch(() => undefined);
  const fitted = changed && (await folder.fittedBefore(id, from));
  if (!changed?.block || !fitted || !step.block) return;
  const settings = blockSettings(step.settings);
  const input = { fitted, changed: changed.block, block: step.block, settings };
  const carried = await crew.ask('carryOver', input, id).answer.catch(() => undefined);
  const were = changed.hand ?? 1;
  if (!carried) {
    const mind = `None of your ${were} changes by hand fits the new pieces. Undo brings them back.`;
    const told = { ...step, minds: [mind, ...step.minds] };
    await folder.writeStep(id, told);
    held.step = told;
    await studio.write(held);
    return;
  }
  const { block, summary, minds, pieces, fabrics } = carried;
  const parts = [
    ...(pieces.length ? [`the fabric of ${pieces.join(', ')}`] : []),
    ...(fabrics.length ? [`the look of ${fabrics.join(', ')}`] : []),
  ];
  const mind = `Carried over from your changes: ${parts.join('; ')}. Undo brings the others back.`;
  await studio.add(held, {
    ...{ number: 0, settings: step.settings, did: 'your changes carried over', by: 'change', shown: {} },
    ...{ block, summary, notes: step.notes, minds: [mind, ...minds], hand: pieces.length + fabrics.length },
    ...(step.choices && { choices: step.choices }),
  });
}

/** While the first block is being fitted, another thread finds the subject: it will be wanted next. */
function foresee(held: Held, { folder, crew }: Making): void {
  if (held.foreseen !== undefined) return;
  const picture = { path: folder.work(held.id, 'picture'), name: held.file.file };
  const asked = crew.askIdly('foresee', { picture }, `${held.id} ahead`);
  if (!asked) return;
  held.foreseen = false;
  asked.answer.then(
    (found) => {
      held.foreseen = found;
    },
    () => {},
  );
}
