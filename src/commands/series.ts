// A folder of pictures -> a block of each in its own folder, and the sheets that belong to all of them.
import { crewOfThreads, type SeriesCrew } from '../series/crew.ts';
import type { SeriesJobs } from '../series/jobs.ts';
import type { OddOne } from '../series/odd-ones.ts';
import type { SeriesOptions, SeriesRun } from '../series/run-series.ts';
import type { SeriesSettings } from '../series/settings.ts';
import type { Settings } from '../settings/settings.ts';
import type { PoolOf } from '../threads/pool.ts';
import { parseLength } from '../units.ts';

export interface SeriesOutput {
  readonly series: SeriesRun;
  /** blocks that stand out of the series */
  readonly odd: readonly OddOne[];
  /** by what follows the series' name; none where no block was made */
  readonly files: ReadonlyMap<SeriesFile, Uint8Array>;
}

/** In the order in which they are written, and what each is. */
export const SERIES_FILES = {
  'series.pdf': 'Contact sheet and common key',
  'contact.png': 'All blocks in one picture',
  'yardage.pdf': 'What to buy and cut, and the quilt',
} as const;
export type SeriesFile = keyof typeof SERIES_FILES;

/** dots an inch of the contact sheet's picture */
const CONTACT_DPI = 110;

/** In the threads of `pool`, or by `crew`, or else in threads of its own. `first`: settings that hold for all, for the sheets. */
export async function makeSeries(
  options: SeriesOptions,
  first: Settings,
  { pool, crew = pool && crewOfThreads(pool) }: { readonly pool?: PoolOf<SeriesJobs>; readonly crew?: SeriesCrew } = {},
): Promise<SeriesOutput> {
  const [{ runSeries }, { finishSeries }] = await Promise.all([
    import('../series/run-series.ts'),
    import('../series/finish-series.ts'),
  ]);
  const series = await runSeries(options, crew);
  if (!series.blocks.length) return { series, odd: [], files: new Map() };
  options.progress.stage('drawing the sheets for all', 0);
  const finish = { ...first, name: options.name, quilt: quiltOf(options.settings), dpi: CONTACT_DPI };
  const { pdf, contact, yardage, odd } = await finishSeries(series, finish, pool);
  const files = new Map<SeriesFile, Uint8Array>([
    ['series.pdf', pdf],
    ['contact.png', contact],
    ['yardage.pdf', yardage],
  ]);
  return { series, odd, files };
}

const quiltOf = ({ quilt }: SeriesSettings) => ({
  ...(quilt.across && { across: quilt.across }),
  ...{ setting: quilt.setting, cornerstones: quilt.cornerstones, sashingAround: quilt['sashing-around'] },
  ...(quilt.sashing && { sashing: parseLength(quilt.sashing, 'quilt.sashing') }),
  borders: quilt.borders.map((b) => parseLength(b, 'quilt.borders')),
});
