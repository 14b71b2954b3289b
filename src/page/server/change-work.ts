// A change by hand, checked: the block's next edition, or a sentence on why it cannot be sewn so.
import { changeBlock } from '../../commands/change.ts';
import { changeLimits, nextEdition } from '../../pipeline/change.ts';
import type { Progress } from '../../pipeline/work.ts';
import { moveSeam } from '../../section/move-seam.ts';
import { paintPieces } from '../../section/new-fabric.ts';
import { factsOf } from './facts.ts';
import type { Changed, ToChange } from './jobs.ts';

export async function changeWork({ block, change, settings }: ToChange, progress: Progress): Promise<Changed> {
  progress.stage('checking that it can be sewn');
  const next =
    change.kind === 'shift'
      ? shifted(block, change, settings)
      : change.kind === 'paint'
        ? nextEdition(block, (b) => paintPieces(b, change.pieces, change))
        : changeBlock(block, [change], settings);
  return { block: next, ...factsOf(next, settings, { cloth: false }) };
}

const shifted = (
  block: ToChange['block'],
  { seam, by, degrees }: Extract<ToChange['change'], { kind: 'shift' }>,
  settings: ToChange['settings'],
): ToChange['block'] => nextEdition(block, (b) => moveSeam(b, seam, { by, turn: degrees }, changeLimits(b, settings)));
