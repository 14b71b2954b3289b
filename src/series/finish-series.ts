// A finished series -> the sheets that belong to all of its blocks, each drawn as a job of its own.
import type { Settings } from '../settings/settings.ts';
import { askAll } from '../threads/ask-all.ts';
import type { PoolOf } from '../threads/pool.ts';
import type { SeriesJobs } from './jobs.ts';
import { findOddOnes, type OddOne } from './odd-ones.ts';
import type { SeriesRun } from './run-series.ts';

export interface FinishOptions
  extends Pick<Settings, 'name' | 'level' | 'paper' | 'margin' | 'units' | 'allowance' | 'slack' | 'designer'> {
  readonly quilt: {
    readonly across?: number;
    readonly setting: 'straight' | 'on point';
    readonly sashing?: number;
    /** sashing round the outside too */
    readonly sashingAround: boolean;
    readonly cornerstones: boolean;
    readonly borders: readonly number[];
  };
  /** dots an inch of the contact sheet's picture */
  readonly dpi: number;
}

/** yardage and quilt; contact sheet and common key on pages; the contact sheet as a picture: the longest first */
const SHEETS = ['yardage', 'pages', 'contact'] as const;

/** One of the sheets, to be drawn in whatever thread; answered with its file's bytes. */
export interface SheetToDraw {
  readonly sheet: (typeof SHEETS)[number];
  readonly series: Pick<SeriesRun, 'blocks' | 'fabrics'>;
  readonly odd: readonly OddOne[];
  readonly options: FinishOptions;
}

/** Drawn side by side by the threads that made the blocks, or else one by one in this one: the bytes are the same. */
export async function finishSeries(
  { blocks, fabrics }: SeriesRun,
  options: FinishOptions,
  pool?: PoolOf<SeriesJobs>,
): Promise<{ pdf: Uint8Array; yardage: Uint8Array; contact: Uint8Array; odd: readonly OddOne[] }> {
  const odd = findOddOnes(blocks);
  const sheets = SHEETS.map((sheet): SheetToDraw => ({ sheet, series: { blocks, fabrics }, odd, options }));
  const answers = pool?.warm ? await askAll(pool, 'drawSeriesSheet', sheets) : undefined;
  const made: Uint8Array[] = [];
  // one that failed in a thread fails here too, and says what was wrong as it is
  for (const [i, sheet] of sheets.entries())
    made.push(answers?.[i]?.result ?? (await (await import('./draw-sheet.ts')).drawSheet(sheet)));
  const [yardage, pdf, contact] = made as [Uint8Array, Uint8Array, Uint8Array];
  return { pdf, yardage, contact, odd };
}
