// A change by hand, checked: the block's next edition, or a sentence on why it cannot be sewn so.
import { changeBlock } from '../../commands/change.ts';
import type { Progress } from '../../pipeline/work.ts';
import { factsOf } from './facts.ts';
import type { Changed, ToChange } from './jobs.ts';

export async function changeWork({ block, change, settings }: ToChange, progress: Progress): Promise<Changed> {
  progress.stage('checking that it can be sewn');
  const next = changeBlock(block, [change], settings);
  return { block: next, ...factsOf(next, settings) };
}
