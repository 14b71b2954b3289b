// `seamwright compare PICTURE`: how many shades, how much detail? One sheet of blocks to choose from, and on with the one chosen.
import { join } from 'node:path';
import type { Command } from 'commander';
import { besideIn } from '../beside.ts';
import type { BlockJobs } from '../block-jobs.ts';
import type { CompareJobs } from '../compare/jobs.ts';
import { UserError } from '../errors.ts';
import { Pool } from '../threads/pool.ts';
import { prepareForFew } from '../threads/v8-flags.ts';
import { WORKER } from '../worker-file.ts';
import { addBlockOptions, type BlockGiven, runBlock, settingsOf } from './block-command.ts';
import { readInput, refuseToOverwrite, writeOutputs } from './files.ts';
import { defaultWorkers, wholeNumber } from './options.ts';
import { clothsOf } from './own-fabrics.ts';
import { showSeries } from './progress.ts';

interface Given extends BlockGiven {
  pick?: string;
  workers?: string;
}

const SHEET_DPI = 130;
const MOST = 6;

export function addCompareCommand(program: Command): void {
  const command = program
    .command('compare')
    .description('one sheet of the same picture with more and fewer shades and pieces, to choose from')
    .argument('<picture>', 'photo, drawing or flat picture')
    .option('--pieces <numbers>', 'rows of the sheet: 40,60,80 (default: about the level)');
  addBlockOptions(command)
    .option('--pick <column x row>', 'go on with one: 3x2 is the third column, second row; writes what `block` writes')
    .option('--workers <number>', 'columns worked on at once (default: as many as the machine has cores, 4 at most)')
    .option('--fabrics <file|folder>', 'your own: a list "name,#rrggbb" or snapshots of cloth')
    .option('--again', 'one of your own fabrics may serve for several shades')
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action(run);
}

async function run(picture: string, given: Given): Promise<void> {
  const { shades, pieces, ...rest } = given;
  const asked = {
    ...(shades && shades !== 'auto' && { shades: listOf(shades, '--shades', 2, 12) }),
    ...(pieces && { pieces: listOf(pieces, '--pieces', 2, 600) }),
  };
  const settings = { ...settingsOf(rest, picture), ...(await clothsOf(given)) };
  const bytes = await readInput(picture);
  const at = (ending: string): string => join(given.out, `${settings.name}.compare.${ending}`);
  const files = { png: at('png'), pdf: at('pdf'), html: at('html') };
  if (!given.pick) refuseToOverwrite(Object.values(files), given.force === true);
  const workers = given.workers ? wholeNumber(given.workers, '--workers', 1, 32) : defaultWorkers();
  const stop = new AbortController();
  const stopped = (): void => stop.abort(new UserError('Stopped; nothing was written.', 130));
  process.once('SIGINT', stopped);
  const progress = showSeries(given.timings);
  const pool = new Pool<BlockJobs & CompareJobs>({ entry: WORKER, threads: workers, signal: stop.signal });
  prepareForFew(pool.size);
  const beside = workers > 1 ? besideIn(pool) : undefined;
  try {
    // one looks at the picture while this one reads it
    if (beside) pool.start(1, ['runNetwork'], ['fitPieces', 'judgeFitted']);
    const [{ readForBlock, seeRead }, { chooseCounts, comparePicture }] = await Promise.all([
      import('../pipeline.ts'),
      import('../compare/compare-picture.ts'),
    ]);
    progress.stage('reading the picture', 1);
    const read = await seeRead(
      await readForBlock(bytes, picture, settings, undefined, beside),
      settings,
      beside && { networkBeside: beside.network },
    );
    if (!given.pick) pool.start(workers, ['fitPieces', 'judgeFitted']);
    const counts = await chooseCounts(read, settings, asked);
    if (given.pick) {
      const { column, row } = placeOf(given.pick, counts);
      progress.finish();
      await pool.close();
      const grow = counts.pieces.slice(0, row).join();
      return await runBlock(
        picture,
        { ...rest, shades: `${counts.shades[column]}`, pieces: `${counts.pieces[row]}`, ...(grow && { grow }) },
        { chosen: true },
      );
    }
    progress.stage('making blocks to compare', counts.shades.length);
    const comparison = await comparePicture(read, settings, counts, pool, {
      done: (n) => progress.step(`${n} shades`),
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
    const page = new TextEncoder().encode(comparisonPage(comparison, settings));
    await writeOutputs(
      new Map([
        [files.png, png],
        [files.pdf, pdf],
        [files.html, page],
      ]),
    );
    progress.finish();
    const { recommended, cells } = comparison;
    const pick = `${recommended.column + 1}x${recommended.row + 1}`;
    if (given.json)
      process.stdout.write(
        `${JSON.stringify({
          files,
          shades: counts.shades,
          pieces: counts.pieces,
          recommended: { pick, because: recommended.because },
          cells: cells.map((line) =>
            line.map(({ shades: n, pieces: wished, misplaced, off, work, buy, block }) => ({
              ...{ shades: n, wished, fabrics: block.fabrics.length, misplaced, off, buy },
              ...{ pieces: work.pieces, sections: work.sections, narrowest: work.narrowest },
              hours: work.hours[settings.level],
            })),
          ),
        })}\n`,
      );
    else
      process.stdout.write(
        `Look at ${files.html} (or the .png, the .pdf) and choose.\nRecommended is ${counts.shades[recommended.column]} shades and ${counts.pieces[recommended.row]} pieces: ${recommended.because}.\n` +
          `Go on with it by the same command and --pick ${pick}.\n`,
      );
  } catch (e) {
    if (stop.signal.aborted) throw stop.signal.reason;
    throw e;
  } finally {
    await pool.close();
    progress.finish();
    process.removeListener('SIGINT', stopped);
  }
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

/** "40,60,80": ascending, each once. */
function listOf(text: string, option: string, least: number, most: number): number[] {
  const list = [...new Set(text.split(',').map((t) => wholeNumber(t.trim(), option, least, most)))];
  if (list.length > MOST) throw new UserError(`${option}: a sheet has room for ${MOST} numbers at most.`, 2);
  return list.sort((a, b) => a - b);
}

function placeOf(
  text: string,
  counts: { readonly shades: readonly number[]; readonly pieces: readonly number[] },
): { column: number; row: number } {
  const [, c, r] = /^\s*(\d+)\s*[x×]\s*(\d+)\s*$/i.exec(text) ?? [];
  const [column, row] = [Number(c) - 1, Number(r) - 1];
  if (counts.shades[column] === undefined || counts.pieces[row] === undefined)
    throw new UserError(
      `--pick: "${text}" is not on the sheet; give column x row, up to ${counts.shades.length}x${counts.pieces.length}.`,
      2,
    );
  return { column, row };
}
