// A worker thread: takes one job after another, answers each with its result or its error. What a kind of job needs is loaded
// with the first of it, so that a thread is there soon for whatever comes first.
import { parentPort, workerData } from 'node:worker_threads';
import type { CompareJob } from '../compare/job.ts';
import { UserError } from '../errors.ts';
import type { SheetJob } from '../series/finish-series.ts';
import type { MakeJob, ShadeJob } from '../series/job.ts';
import type { BesideJob } from './beside.ts';
import type { Said } from './pool.ts';

export type Job = ShadeJob | MakeJob | SheetJob | CompareJob | BesideJob;

/** What a thread gets ready for: whole blocks, the pieces of one, or first to look at its picture. */
export type Ready = 'blocks' | 'pieces' | 'look, pieces' | 'look, blocks';

const say = (said: Said): void => parentPort!.postMessage(said);

async function forBlocks(): Promise<void> {
  const { default: sharp } = await import('sharp');
  // each picture has its thread: one that decoded on several would take the cores from the others
  sharp.concurrency(1);
  await Promise.all([import('../series/job.ts'), import('../compare/job.ts')]);
}

/** What the one block's thread does after it has looked at the picture, or, where it is a drawing, at once. */
async function forPieces(): Promise<void> {
  const [{ loadEngine }] = await Promise.all([
    import('../fit/cutting.ts'),
    import('../fit/fit-partition.ts'),
    import('../packet/preview.ts'),
    import('../quality/measure-quality.ts'),
    import('../fabric/plan-fabric.ts'),
  ]);
  loadEngine();
}

async function answer(job: Job): Promise<unknown> {
  switch (job.kind) {
    case 'network': {
      const { runNetwork } = await import('../shade/run-network.ts');
      return runNetwork(...job.args);
    }
    case 'fit': {
      const { fitPartitions } = await import('../fit/fit-partition.ts');
      return fitPartitions(job.shading, job.options, job.counts, (share) => say({ share }));
    }
    case 'preview': {
      const { previewOf } = await import('../packet/preview.ts');
      return previewOf(job.block);
    }
    case 'png': {
      const { writePng } = await import('../drawing/png.ts');
      return writePng(job.drawing, job.dpi);
    }
    case 'cloth': {
      const { planFabric } = await import('../fabric/plan-fabric.ts');
      return planFabric([{ block: job.block }], job.options);
    }
    case 'quality': {
      const { measureQuality } = await import('../quality/measure-quality.ts');
      return measureQuality(...job.args);
    }
    case 'sheet':
      return (await import('../series/draw-sheet.ts')).drawSheet(job);
    case 'compare':
      await forBlocks();
      return (await import('../compare/job.ts')).judgeFitted(job);
    default:
      await forBlocks();
      return (await import('../series/job.ts')).runSeriesJob(job);
  }
}

// the pool imports this file's types only; here alone is it run
parentPort?.on('message', async (job: Job) => {
  try {
    say({ result: await answer(job) });
  } catch (e) {
    const { message } = e as Error;
    if (e instanceof UserError) say({ error: message, exitCode: e.exitCode });
    else say({ error: `a fault of the program: ${message}` });
  }
  if (job.kind === 'network' && ready === 'look, blocks') void forBlocks();
});

const ready = workerData as Ready;
async function getReady(): Promise<void> {
  if (ready === 'blocks') return forBlocks();
  if (ready !== 'pieces') await (await import('../shade/run-network.ts')).loadNetwork();
  if (ready !== 'look, blocks') await forPieces();
}
if (parentPort) void getReady();
