// A worker thread: takes one job after another, answers each with its result or its error.
import { parentPort } from 'node:worker_threads';
import sharp from 'sharp';
import { type CompareJob, compareShades } from '../compare/job.ts';
import { UserError } from '../errors.ts';
import type { SheetJob } from '../series/finish-series.ts';
import { type MakeJob, runSeriesJob, type ShadeJob } from '../series/job.ts';

export type Job = ShadeJob | MakeJob | SheetJob | CompareJob;

// each picture has its thread: one that decoded on several would take the cores from the others
if (parentPort) sharp.concurrency(1);

// the pool imports this file's types only; here alone is it run
parentPort?.on('message', async (job: Job) => {
  try {
    parentPort!.postMessage({ result: await answer(job) });
  } catch (e) {
    const { message } = e as Error;
    parentPort!.postMessage({ error: e instanceof UserError ? message : `a fault of the program: ${message}` });
  }
});

async function answer(job: Job): Promise<unknown> {
  switch (job.kind) {
    case 'compare':
      return compareShades(job);
    case 'sheet':
      return (await import('../series/draw-sheet.ts')).drawSheet(job);
    default:
      return runSeriesJob(job);
  }
}
