// Who does the work of a series: the threads of this computer, or whoever answers for them (crew-over-queue.ts). The same two rounds,
// the same outcomes.
import { type AskAllOptions, askAll, type Outcome } from '../threads/ask-all.ts';
import type { PoolOf } from '../threads/pool.ts';
import { prepareForMany } from '../threads/v8-flags.ts';
import type { BlockToMake, PictureToShade } from './block-bytes.ts';
import type { Made } from './block-folder.ts';
import type { SeriesJobs } from './jobs.ts';
import type { Shades } from './kept-shades.ts';

export interface SeriesCrew {
  /** Called once, before anything is read. `again`: the series was begun by a run before. */
  begin(pictures: number, again: boolean): Promise<void>;
  /** The first round. What is found is kept in each picture's cache too. */
  shade(pictures: readonly PictureToShade[], how: AskAllOptions): Promise<Outcome<Shades>[]>;
  /** The second round. Blocks are in their folders when it has ended. */
  make(blocks: readonly BlockToMake[], how: AskAllOptions): Promise<Outcome<Made>[]>;
}

export const crewOfThreads = (pool: PoolOf<SeriesJobs>): SeriesCrew => ({
  async begin(pictures, again) {
    prepareForMany(pool.size);
    if (!again) pool.start(pictures, ['shadeForSeries']);
  },
  shade: (pictures, how) => askAll(pool, 'shadeForSeries', pictures, how),
  make: (blocks, how) => askAll(pool, 'makeSeriesBlock', blocks, how),
});
