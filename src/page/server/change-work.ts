// A change by hand, checked: the block's next edition, or a sentence on why it cannot be sewn so.
import { readBlock, writeBlock } from '../../block.ts';
import { applyChange, changeLimits, nextEdition } from '../../change-file.ts';
import type { Progress } from '../../pipeline.ts';
import { factsOf } from './facts.ts';
import type { Changed, ChangeJob } from './jobs.ts';

export async function changeWork({ block, change, settings }: ChangeJob, progress: Progress): Promise<Changed> {
  progress.stage('checking that it can be sewn');
  // as the command reads it from its file, so that the next file is the same
  const before = readBlock(writeBlock(block), block.name);
  const limits = changeLimits(before, settings);
  const next = nextEdition(before, (b) => applyChange(b, change, limits));
  return { block: next, ...factsOf(next, settings) };
}
