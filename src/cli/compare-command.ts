// `seamwright compare PICTURE`: how many shades, how much detail? One sheet of blocks to choose from, and on with the one chosen.
import type { Command } from 'commander';
import { type CompareOutput, lookToCompare, makeComparison } from '../commands/compare.ts';
import type { CompareJobs } from '../compare/jobs.ts';
import { type OutputPath, outputPath, readInput, refuseToOverwrite, writeOutputs } from '../files.ts';
import { besideIn } from '../pipeline/beside.ts';
import type { BlockJobs } from '../pipeline/jobs.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';
import { Pool } from '../threads/pool.ts';
import { prepareForFew } from '../threads/v8-flags.ts';
import { WORKER } from '../worker-file.ts';
import { type BlockCall, runBlock } from './block-command.ts';
import { addSettings, defaultWorkers, settingsOf, wholeNumber } from './options.ts';
import { clothsOf } from './own-fabrics.ts';
import { showSeries } from './progress.ts';
import { stoppable } from './stoppable.ts';
import { printOut } from './terminal.ts';

interface Call extends BlockCall {
  shades?: string;
  pieces?: string;
  pick?: string;
  workers?: string;
}

const MOST = 6;

export function addCompareCommand(program: Command): void {
  const command = program
    .command('compare')
    .description('one sheet of the same picture with more and fewer shades and pieces, to choose from')
    .argument('<picture>', 'photo, drawing or flat picture');
  addSettings(command, undefined, {
    shades: 'columns of the sheet: 4,5,6 (default: about what the picture asks for)',
    pieces: 'rows of the sheet: 40,60,80 (default: about the level)',
  })
    .option('--out <folder>', 'where the files go', '.')
    .option('--pick <column x row>', 'go on with one: 3x2 is the third column, second row; writes what `block` writes')
    .option('--workers <number>', 'columns worked on at once (default: as many as the machine has cores, 4 at most)')
    .option('--fabrics <file|folder>', 'your own: a list "name,#rrggbb" or snapshots of cloth')
    .option('--again', 'one of your own fabrics may serve for several shades')
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action(run);
}

async function run(picture: string, call: Call): Promise<void> {
  const { shades, pieces, ...rest } = call;
  const asked = {
    ...(shades && shades !== 'auto' && { shades: listOf(shades, 'shades', 2, 12) }),
    ...(pieces && { pieces: listOf(pieces, 'pieces', 2, 600) }),
  };
  const settings = { ...settingsOf(rest, picture), ...(await clothsOf(call)) };
  const named = { bytes: await readInput(picture), name: picture };
  const at = (ending: string): OutputPath => outputPath(call.out, `${settings.name}.compare.${ending}`);
  const files = { png: at('png'), pdf: at('pdf'), html: at('html') };
  if (!call.pick) refuseToOverwrite(Object.values(files), call.force === true);
  const workers = call.workers ? wholeNumber(call.workers, 'workers', 1, 32) : defaultWorkers();
  const progress = showSeries(call.timings);
  await stoppable(['SIGINT'], new UserError('stopped', {}, 130), async (signal) => {
    const pool = new Pool<BlockJobs & CompareJobs>({ entry: WORKER, threads: workers, signal });
    prepareForFew(pool.size);
    const io = { ...progress, pool, ...(workers > 1 && { beside: besideIn(pool) }) };
    try {
      const looked = await lookToCompare(named, settings, asked, io, !call.pick);
      if (call.pick) {
        const { counts } = looked;
        const { column, row } = placeOf(call.pick, counts);
        progress.finish();
        await pool.close();
        const grow = counts.pieces.slice(0, row).join();
        return await runBlock(
          picture,
          { ...rest, shades: `${counts.shades[column]}`, pieces: `${counts.pieces[row]}`, ...(grow && { grow }) },
          { chosen: true },
        );
      }
      const made = await makeComparison(looked, settings, io);
      await writeOutputs(
        new Map(Object.entries(files).map(([k, path]) => [path, made.files[k as keyof typeof files]])),
        call.force === true,
      );
      progress.finish();
      report(made, files, settings, call.json === true);
    } finally {
      await pool.close();
      progress.finish();
    }
  });
}

function report(
  { comparison: { recommended, cells, ...counts } }: CompareOutput,
  files: Readonly<Record<'png' | 'pdf' | 'html', string>>,
  { level }: Settings,
  json: boolean,
): void {
  const pick = `${recommended.column + 1}x${recommended.row + 1}`;
  if (json)
    printOut(
      `${JSON.stringify({
        files,
        shades: counts.shades,
        pieces: counts.pieces,
        recommended: { pick, because: recommended.because },
        cells: cells.map((line) =>
          line.map(({ shades: n, pieces: wished, misplaced, off, work, buy, block }) => ({
            ...{ shades: n, wished, fabrics: block.fabrics.length, misplaced, off, buy },
            ...{ pieces: work.pieces, sections: work.sections, narrowest: work.narrowest },
            hours: work.hours[level],
          })),
        ),
      })}\n`,
    );
  else
    printOut(
      `Look at ${files.html} (or the .png, the .pdf) and choose.\nRecommended is ${counts.shades[recommended.column]} shades and ${counts.pieces[recommended.row]} pieces: ${recommended.because}.\n` +
        `Go on with it by the same command and --pick ${pick}.\n`,
    );
}

/** "40,60,80": ascending, each once. */
function listOf(text: string, field: string, least: number, most: number): number[] {
  const list = [...new Set(text.split(',').map((t) => wholeNumber(t.trim(), field, least, most)))];
  if (list.length > MOST) throw new UserError('too-many-numbers', { field, most: MOST }, 2);
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
      'not-on-the-sheet',
      { field: 'pick', value: text, most: `${counts.shades.length}x${counts.pieces.length}` },
      2,
    );
  return { column, row };
}
