// A change by hand, checked: the block's next edition, or a sentence on why it cannot be sewn so.
import { applyChange, changeLimits, nextEdition } from '../../change-file.ts';
import type { Progress } from '../../pipeline.ts';
import { factsOf } from './facts.ts';
import type { Changed, ToChange } from './jobs.ts';

export async function changeWork({ block, change, settings }: ToChange, progress: Progress): Promise<Changed> {
  progress.stage('checking that it can be sewn');
  const limits = changeLimits(block, settings);
  const next = nextEdition(block, (before) => applyChange(before, change, limits));
  return { block: next, ...factsOf(next, settings) };
}
