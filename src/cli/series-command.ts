// `seamwright series FOLDER`: many pictures, one set of fabrics, a block of each, and the sheets that belong to all of them.
import { basename, join, resolve } from 'node:path';
import type { Command } from 'commander';
import { UserError } from '../errors.ts';
import type { BlockSettings } from '../pipeline.ts';
import { blockName } from '../series/entries.ts';
import type { SeriesJobs } from '../series/jobs.ts';
import {
  type BlockOptions,
  MOST_FABRICS,
  readSeriesSettings,
  type SeriesSettings,
  seriesJsonSchema,
} from '../series/settings.ts';
import type { Pool } from '../threads/pool.ts';
import { parseLength } from '../units.ts';
import { WORKER } from '../worker-file.ts';
import { type BlockGiven, settingsOf } from './block-command.ts';
import { readInput, writeOutputs } from './files.ts';
import { defaultWorkers, wholeNumber } from './options.ts';
import { clothsOf } from './own-fabrics.ts';
import { showSeries } from './progress.ts';

interface Given {
  settings?: string;
  fabrics?: string;
  out?: string;
  workers?: string;
  resume?: boolean;
  schema?: boolean;
  json?: boolean;
  timings?: boolean;
}

/** Stopped by hand, as shells count it. */
const STOPPED = 130;
const CONTACT_DPI = 110;

export function addSeriesCommand(program: Command): void {
  program
    .command('series')
    .description('make blocks of all pictures in a folder, from one set of fabrics, and plan the quilt')
    .argument('[folder]', 'the folder of the pictures')
    .option(
      '--settings <file>',
      'settings of the series (YAML or JSON): options for all, exceptions for single pictures',
    )
    .option('--fabrics <file|folder>', 'your own, in common for all: a list "name,#rrggbb" or snapshots of cloth')
    .option('--out <folder>', "where the blocks go (default: the folder's name and -blocks)")
    .option('--workers <number>', 'pictures worked on at once (default: as many as the machine has cores, 4 at most)')
    .option('--resume', 'go on with a series: make only what is missing or changed, add what is new')
    .option('--schema', 'print the JSON Schema of the settings file')
    .option('--json', 'print the result as JSON')
    .action(run);
}

async function run(folder: string | undefined, given: Given): Promise<void> {
  if (given.schema) {
    process.stdout.write(`${JSON.stringify(seriesJsonSchema(), null, 2)}\n`);
    return;
  }
  if (!folder) throw new UserError('Name the folder that holds the pictures: seamwright series FOLDER.', 2);
  const written = readSeriesSettings(
    given.settings ? new TextDecoder().decode(await readInput(given.settings)) : '{}',
    given.settings ?? 'the settings',
  );
  const { cloths } = await clothsOf(given.fabrics ? { fabrics: given.fabrics } : {});
  const settings = cloths ? { ...written, fabrics: [...cloths] } : written;
  if (cloths && settings.common === 'background')
    throw new UserError('--fabrics are for all blocks in common; the settings say "common: background".', 2);
  if (cloths && (cloths.length < 2 || cloths.length > MOST_FABRICS))
    throw new UserError(`--fabrics: a series is sewn from 2 to ${MOST_FABRICS} fabrics, not ${cloths.length}.`, 2);
  const name = settings.name ?? basename(resolve(folder));
  const out = given.out ?? `${folder.replace(/[/\\]+$/, '')}-blocks`;
  const workers = given.workers ? wholeNumber(given.workers, '--workers', 1, 32) : defaultWorkers();
  const stop = new AbortController();
  const stopped = (): void =>
    stop.abort(new UserError(`Stopped. What is done is in ${out}; --resume goes on from there.`, STOPPED));
  process.once('SIGINT', stopped);
  process.once('SIGTERM', stopped);
  const progress = showSeries(given.timings);
  let pool: Pool<SeriesJobs> | undefined;
  try {
    const [{ runSeries }, { finishSeries }, { Pool }] = await Promise.all([
      import('../series/run-series.ts'),
      import('../series/finish-series.ts'),
      import('../threads/pool.ts'),
    ]);
    pool = new Pool<SeriesJobs>({ entry: WORKER, threads: workers, signal: stop.signal });
    const settingsFor = (file: string): BlockSettings => blockSettings(settings, file);
    const first = blockSettings(settings, 'any');
    const unknown = Object.keys(settings.pictures);
    const series = await runSeries(
      {
        ...{ folder, out, name, settings, settingsFor, workers, progress },
        resume: given.resume === true,
        signal: stop.signal,
      },
      pool,
    );
    if (series.blocks.length) progress.stage('drawing the sheets for all', 0);
    const strange = unknown.filter(
      (file) => !series.blocks.some((b) => b.entry.file === file) && !series.failed.some((f) => f.file === file),
    );
    const sheets = series.blocks.length
      ? await finishSeries(series, { ...first, name, quilt: quiltOf(settings), dpi: CONTACT_DPI }, pool)
      : undefined;
    const files = {
      sheets: join(out, `${name}.series.pdf`),
      contact: join(out, `${name}.contact.png`),
      yardage: join(out, `${name}.yardage.pdf`),
    };
    if (sheets)
      await writeOutputs(
        new Map([
          [files.sheets, sheets.pdf],
          [files.contact, sheets.contact],
          [files.yardage, sheets.yardage],
        ]),
      );
    progress.finish();
    const warnings = strange.map((f) => `the settings name ${f}, which is not in ${folder}.`);
    const reprint = series.blocks.filter((b) => b.fresh && b.made.print?.length);
    if (given.json)
      process.stdout.write(
        `${JSON.stringify({
          ...(sheets && { files }),
          fabrics: series.fabrics,
          blocks: series.blocks.map((b) => ({
            ...{ number: b.entry.number, name: b.block.name, file: b.entry.file, folder: b.folder, fresh: b.fresh },
            ...{ pieces: b.made.pieces, sections: b.made.sections, sheets: b.made.sheets, misplaced: b.made.misplaced },
            ...{ edition: b.block.edition ?? 'A', print: b.made.print ?? [], warnings: b.made.warnings },
          })),
          failed: series.failed,
          odd: sheets?.odd ?? [],
          warnings,
        })}\n`,
      );
    else {
      for (const w of warnings) process.stderr.write(`Mind: ${w}\n`);
      const fresh = series.blocks.filter((b) => b.fresh).length;
      process.stdout.write(
        `${name}: ${count(series.blocks.length, 'block')} in ${out}, ${fresh} made now, ${count(series.fabrics.length, 'fabric')} in common.\n`,
      );
      for (const b of reprint)
        process.stdout.write(
          `${b.block.name} is edition ${b.block.edition}: print section ${b.made.print!.join(', ')} again.\n`,
        );
      for (const o of sheets?.odd ?? []) process.stdout.write(`${o.name} does not go with the others: ${o.why}.\n`);
      if (sheets)
        process.stdout.write(
          `Contact sheet and common key: ${files.sheets}\nWhat to buy and cut, and the quilt: ${files.yardage}\n`,
        );
    }
    if (series.failed.length) {
      for (const f of series.failed) process.stderr.write(`seamwright: ${f.file}: ${f.error}\n`);
      process.exitCode = 1;
    }
  } catch (e) {
    // what was under way when it was stopped fails for that reason alone
    if (stop.signal.aborted) throw stop.signal.reason;
    throw e;
  } finally {
    await pool?.close();
    progress.finish();
    process.removeListener('SIGINT', stopped);
    process.removeListener('SIGTERM', stopped);
  }
}

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;

/** The options of `seamwright block` for one picture: those for all, and its own exceptions over them. */
function blockSettings(settings: SeriesSettings, file: string): BlockSettings {
  const own: BlockOptions = { ...settings.block, ...settings.pictures[file] };
  const words = Object.fromEntries(Object.entries(own).map(([k, v]) => [k, typeof v === 'number' ? String(v) : v]));
  const given = {
    ...{ out: '.', level: 'intermediate', seed: '1', effort: 'full', name: blockName(file) },
    background: settings.common === 'background' ? 'plain' : 'keep',
    ...(settings.paper && { paper: settings.paper }),
    ...(settings.units && { units: settings.units }),
    ...(settings.designer && { designer: settings.designer }),
    ...words,
  } as BlockGiven;
  try {
    return settingsOf(given, file);
  } catch (e) {
    if (e instanceof UserError) throw new UserError(`${file}: ${e.message}`, 2);
    throw e;
  }
}

function quiltOf({ quilt }: SeriesSettings) {
  return {
    ...(quilt.across && { across: quilt.across }),
    setting: quilt.setting,
    cornerstones: quilt.cornerstones,
    ...(quilt.sashing && { sashing: parseLength(quilt.sashing, 'quilt.sashing') }),
    borders: quilt.borders.map((b) => parseLength(b, 'quilt.borders')),
  };
}
