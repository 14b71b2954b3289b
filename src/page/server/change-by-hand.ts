// A change by hand as a step of a work. The block is there in a moment; what it takes to buy is worked out after.
import type { Block } from '../../block.ts';
import { UserError } from '../../problems/problem.ts';
import { Cancelled } from '../../threads/call.ts';
import type { Change } from '../api.ts';
import { readCloth } from './cloth-box.ts';
import { editionAfter } from './editions.ts';
import { dressed, fabricOf } from './first-step.ts';
import type { Held } from './held.ts';
import type { OpenWorks } from './open-works.ts';
import { sayDone } from './say-done.ts';
import { blockSettings } from './settings.ts';

export async function changeByHand(held: Held, change: Change, works: OpenWorks): Promise<void> {
  const { step, id } = held;
  if (!step.block) throw new UserError('still-worked-out', {});
  const cloth = change.kind === 'cloth' ? await readCloth(id, change.cloth, works.folder) : undefined;
  const settings = blockSettings(step.settings);
  const one =
    change.kind === 'cloth' ? ({ kind: 'colour', fabric: change.fabric, colour: cloth!.colour } as const) : change;
  const made = await works.crew.askHand({ block: step.block, change: one, settings }).answer;
  const shown = { ...step.shown };
  const from = { by: step.by, edition: step.block.edition };
  let block: Block = { ...made.block, edition: editionAfter(from, made.block.edition!, held.file.out ?? {}) };
  if (change.kind === 'cloth') {
    // the cloth's name is part of the same change: one edition for both
    const own = fabricOf(block, change.fabric);
    block = { ...block, fabrics: block.fabrics.map((f) => (f === own ? dressed(f, cloth!) : f)) };
    shown[own.id] = change.cloth;
  } else if (change.kind === 'paint' && change.cloth) {
    await readCloth(id, change.cloth, works.folder);
    const own = block.fabrics.find((f) => f.colour === change.colour.toLowerCase() && f.name.startsWith(change.name));
    if (own) shown[own.id] = change.cloth;
  } else if (change.kind === 'colour') delete shown[fabricOf(block, change.fabric).id];
  const buy = step.summary?.buy ?? '';
  await works.add(held, {
    ...{ number: 0, settings: step.settings, did: sayDone(change, step.block), by: 'change', block, shown },
    ...{ summary: { ...made.summary, buy }, notes: [], minds: made.minds },
    hand: step.by === 'change' ? (step.hand ?? 1) + 1 : 1,
    ...(step.choices && { choices: step.choices }),
  });
  planCloth(held, works);
}

/** What to buy for the block as it is now; called off by the next change. */
function planCloth(held: Held, works: OpenWorks): void {
  const { step, id } = held;
  held.planning?.cancel();
  const asked = works.crew.askWhenFree('tellFacts', { block: step.block!, settings: blockSettings(step.settings) }, id);
  held.planning = asked;
  asked.answer.then(
    ({ summary, minds }) =>
      works.queue(id, async () => {
        if (held.planning !== asked || held.step.number !== step.number) return;
        const told = { ...held.step, summary, minds };
        await works.folder.writeStep(id, told);
        [held.step, held.planning] = [told, undefined];
        await works.write(held);
      }),
    (e: Error) => {
      if (held.planning === asked) held.planning = undefined;
      if (!(e instanceof Cancelled)) process.stderr.write(`seamwright: ${id}: ${e.message}\n`);
    },
  );
}
