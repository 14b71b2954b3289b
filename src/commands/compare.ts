// One picture in several numbers of shades and pieces -> a sheet to choose from, as a picture, as pages and for a browser.
import type { Comparison, Counts } from '../compare/compare-picture.ts';
import type { CompareJobs } from '../compare/jobs.ts';
import type { ReadPicture } from '../pipeline/figure.ts';
import type { BlockJobs } from '../pipeline/jobs.ts';
import type { Beside } from '../pipeline/work.ts';
import type { Settings } from '../settings/settings.ts';
import type { PoolOf } from '../threads/pool.ts';
import type { NamedFile } from './block.ts';

export type ComparePool = PoolOf<BlockJobs & CompareJobs>;

export interface CompareIo {
  readonly pool: ComparePool;
  /** one of the pool's threads for the picture, where there are several */
  readonly beside?: Beside | undefined;
  stage(name: string, jobs: number): void;
  step(name: string): void;
}

/** The numbers that someone asks for; chosen by the picture and the level where absent. */
export interface AskedCounts {
  readonly shades?: readonly number[];
  readonly pieces?: readonly number[];
}

export interface Looked {
  readonly read: ReadPicture;
  readonly counts: Counts;
}

/** dots an inch of the sheet as a picture */
const SHEET_DPI = 130;
const JOBS = ['fitPieces', 'judgeFitted'] as const;

/** Reads the picture, and chooses the columns and rows; `more`: the blocks are wanted too, so that threads may get ready. */
export async function lookToCompare(
  { bytes, name }: NamedFile,
  settings: Settings,
  asked: AskedCounts,
  { pool, beside, stage }: CompareIo,
  more = true,
): Promise<Looked> {
  // one looks at the picture while this one reads it
  if (beside) pool.start(1, ['runNetwork'], JOBS);
  const [{ readPicture }, { see }, { chooseCounts }] = await Promise.all([
    import('../pipeline/figure.ts'),
    import('../pipeline/shade.ts'),
    import('../compare/compare-picture.ts'),
  ]);
  stage('reading the picture', 1);
  const picture = await readPicture(bytes, name, settings, undefined, beside);
  const read = await see(picture, settings, beside && { networkBeside: beside.network });
  if (more) pool.start(pool.size, JOBS);
  return { read, counts: await chooseCounts(read, settings, asked) };
}

export interface CompareOutput {
  readonly comparison: Comparison;
  readonly files: Readonly<Record<'png' | 'pdf' | 'html', Uint8Array>>;
}

export async function makeComparison(
  { read, counts }: Looked,
  settings: Settings,
  { pool, stage, step }: CompareIo,
): Promise<CompareOutput> {
  const { comparePicture } = await import('../compare/compare-picture.ts');
  stage('making blocks to compare', counts.shades.length);
  const comparison = await comparePicture(read, settings, counts, pool, {
    done: (n) => step(`${n} shades`),
    // while the threads are at work; what fails here fails again below
    handedOn: () => void loadDrawing().catch(() => {}),
  });
  const { drawComparison, comparisonPage, writePdf } = await loadDrawing();
  const sheet = drawComparison(comparison, settings);
  // the picture in a thread, the pages here
  const [png, pdf] = await Promise.all([
    pool.ask('drawPng', { drawing: sheet, dpi: SHEET_DPI }).answer,
    writePdf([sheet], { title: sheet.title, subject: 'Blocks to choose from' }),
  ]);
  const html = new TextEncoder().encode(comparisonPage(comparison, settings));
  return { comparison, files: { png, pdf, html } };
}

/** What draws the sheet; a second call finds all of it there. */
async function loadDrawing() {
  const [{ drawComparison, comparisonPage }, { writePdf }, { openFonts }] = await Promise.all([
    import('../compare/comparison-sheet.ts'),
    import('../drawing/pdf.ts'),
    import('../drawing/fonts.ts'),
  ]);
  openFonts();
  return { drawComparison, comparisonPage, writePdf };
}
