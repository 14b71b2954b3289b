// What a series asks of its threads: the shades of each picture, then each block, then the sheets for all of them.
import { type JobTable, job } from '../threads/jobs.ts';
import type { Made } from './block-folder.ts';
import type { SheetToDraw } from './finish-series.ts';
import type { BlockToMake, PictureToShade, Shades } from './make-block.ts';

export interface SeriesJobs {
  shadeForSeries: { input: PictureToShade; output: Shades };
  makeSeriesBlock: { input: BlockToMake; output: Made };
  drawSeriesSheet: { input: SheetToDraw; output: Uint8Array };
}

async function loadMaking() {
  const { default: sharp } = await import('sharp');
  // each picture has its thread: one that decoded on several would take the cores from the others
  sharp.concurrency(1);
  return import('./make-block.ts');
}

export const seriesJobs: JobTable<SeriesJobs> = {
  shadeForSeries: job(loadMaking, ({ shadeForSeries }, input) => shadeForSeries(input)),
  makeSeriesBlock: job(loadMaking, ({ makeSeriesBlock }, input) => makeSeriesBlock(input)),
  drawSeriesSheet: job(
    () => import('./draw-sheet.ts'),
    ({ drawSheet }, input) => drawSheet(input),
  ),
};
