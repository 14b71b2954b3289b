// The block of the step that a work stands at: asked of the crew, shown as soon as there is a first look, kept when it is whole.
import { Cancelled } from '../../threads/call.ts';
import type { Event } from '../api.ts';
import type { Crew } from './crew.ts';
import type { Held } from './held.ts';
import type { Folder } from './keep.ts';
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
}

/** Begins what is missing of a work, unless it is under way or has failed. */
export function pursue(held: Held, studio: Making): void {
  const { id, step } = held;
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
        const made = { ...step, block, choices, summary, notes, minds };
        await studio.folder.writeStep(id, made, regions);
        held.step = made;
        held.look = undefined;
        await studio.write(held);
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
