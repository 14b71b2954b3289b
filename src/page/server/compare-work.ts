// One picture in several numbers of shades and pieces, as `seamwright compare` has it.
import { readFile } from 'node:fs/promises';
import { chooseCounts, comparePicture } from '../../compare/compare-picture.ts';
import type { CompareJobs } from '../../compare/jobs.ts';
import { readPicture } from '../../pipeline/figure.ts';
import { see } from '../../pipeline/shade.ts';
import type { Progress } from '../../pipeline/work.ts';
import { Pool } from '../../threads/pool.ts';
import { WORKER } from '../../worker-file.ts';
import type { WorkComparison } from '../api.ts';
import type { ToCompare } from './jobs.ts';

export async function compareWork(
  { picture, settings, asked, workers }: ToCompare,
  progress: Progress,
): Promise<WorkComparison> {
  progress.stage('looking at the picture');
  const bytes = new Uint8Array(await readFile(picture.path));
  const read = await see(await readPicture(bytes, picture.name, settings), settings);
  const counts = await chooseCounts(read, settings, asked);
  progress.stage('making blocks to compare');
  let done = 0;
  const pool = new Pool<CompareJobs>({ entry: WORKER, threads: workers });
  const { shades, pieces, cells, recommended } = await comparePicture(read, settings, counts, pool, {
    done: () => progress.done(++done / counts.shades.length),
  }).finally(() => pool.close());
  return {
    ...{ shades, pieces, recommended },
    cells: cells.map((row, r) =>
      row.map(({ block, misplaced, work, buy, shades: n, pieces: wished }) => ({
        block,
        summary: {
          pieces: work.pieces,
          sections: work.sections,
          joins: work.joins,
          points: work.points,
          narrowest: work.narrowest,
          ...{ misplaced, buy },
          hours: work.hours[settings.level],
        },
        settings: { shades: n, pieces: wished, grow: pieces.slice(0, r) },
      })),
    ),
  };
}
