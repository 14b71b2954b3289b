// What a series asks of its threads: the shades of each picture, then each block, then the sheets for all of them.
import { type JobTable, job } from '../threads/jobs.ts';
import type { BlockBytes, BlockToMake, MadeBlock, PictureBytes, PictureToShade } from './block-bytes.ts';
import type { Made } from './block-folder.ts';
import type { SheetToDraw } from './finish-series.ts';
import type { ShadedPicture, Shades } from './kept-shades.ts';

/** What other computers are asked for: bytes in, bytes out, no files. */
export interface SentJobs {
  shadeSentPicture: { input: PictureBytes; output: ShadedPicture };
  makeSentBlock: { input: BlockBytes; output: MadeBlock };
}

export interface SeriesJobs extends SentJobs {
  shadeForSeries: { input: PictureToShade; output: Shades };
  makeSeriesBlock: { input: BlockToMake; output: Made };
  drawSeriesSheet: { input: SheetToDraw; output: Uint8Array };
}

/** Each picture has its thread: one that decoded on several would take the cores from the others. */
async function decodeAlone(): Promise<void> {
  const { default: sharp } = await import('sharp');
  sharp.concurrency(1);
}

async function loadMaking() {
  await decodeAlone();
  return import('./make-block.ts');
}

async function loadMakingInFolder() {
  await decodeAlone();
  return import('./make-in-folder.ts');
}

export const seriesJobs: JobTable<SeriesJobs> = {
  shadeForSeries: job(loadMakingInFolder, ({ shadeForSeries }, input) => shadeForSeries(input)),
  makeSeriesBlock: job(loadMakingInFolder, ({ makeSeriesBlock }, input) => makeSeriesBlock(input)),
  shadeSentPicture: job(loadMaking, ({ shadePicture }, input) => shadePicture(input)),
  makeSentBlock: job(loadMaking, ({ makeBlock }, input) => makeBlock(input)),
  drawSeriesSheet: job(
    () => import('./draw-sheet.ts'),
    ({ drawSheet }, input) => drawSheet(input),
  ),
};
