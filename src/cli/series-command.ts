// `seamwright series FOLDER`: many pictures, one set of fabrics, a block of each, and the sheets that belong to all of them.
import { basename, join, resolve } from 'node:path';
import type { Command } from 'commander';
import type { HandOutSummary } from '../commands/over-queue.ts';
import { makeSeries, type SeriesOutput } from '../commands/series.ts';
import { type OutputPath, outputPath, readText, writeOutputs } from '../files.ts';
import { UserError } from '../problems/problem.ts';
import type { SeriesJobs } from '../series/jobs.ts';
import type { SeriesOptions } from '../series/run-series.ts';
import {
  MOST_FABRICS,
  readSeriesSettings,
  type SeriesSettings,
  seriesJsonSchema,
  settingsForPicture,
} from '../series/settings.ts';
import type { Settings } from '../settings/settings.ts';
import { Pool } from '../threads/pool.ts';
import { WORKER } from '../worker-file.ts';
import { defaultWorkers, wholeNumber } from './options.ts';
import { clothsOf } from './own-fabrics.ts';
import { logSeries, type ShownSeries, showSeries } from './progress.ts';
import { addressOf, addWatching, logOf, type QueueCall, queueOption } from './queue-options.ts';
import { stoppable } from './stoppable.ts';
import { printOut, tell } from './terminal.ts';
import { VERSION } from './version.ts';

interface Call extends QueueCall {
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

export function addSeriesCommand(program: Command): void {
  const command = program
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
    .addOption(queueOption('hand the pictures to the workers of a queue, on any computers ("seamwright worker")'));
  addWatching(command).action(run);
}

async function run(folder: string | undefined, call: Call): Promise<void> {
  if (call.schema) {
    printOut(`${JSON.stringify(seriesJsonSchema(), null, 2)}\n`);
    return;
  }
  if (!folder) throw new UserError('name-a-folder', {}, 2);
  const settings = await readSettings(call);
  const name = settings.name ?? basename(resolve(folder));
  const out = call.out ?? `${folder.replace(/[/\\]+$/, '')}-blocks`;
  if (call.queue && call.workers)
    throw new UserError(
      'leave-out',
      { field: 'queue', is: 'hands the pictures to workers elsewhere', leave: 'workers' },
      2,
    );
  for (const field of ['metrics', 'log'] as const)
    if (call[field] && !call.queue)
      throw new UserError('needs', { field, needs: 'queue', why: 'it tells of what goes on there' }, 2);
  const workers = call.workers ? wholeNumber(call.workers, 'workers', 1, 32) : defaultWorkers();
  const progress = call.log === 'json' ? logSeries(logOf(call)) : showSeries(call.timings);
  await stoppable(['SIGINT', 'SIGTERM'], new UserError('stopped-series', { out }, STOPPED), async (signal) => {
    const options: SeriesOptions = {
      ...{ folder, out, name, settings, workers, progress, signal },
      settingsFor: (file) => settingsForPicture(settings, file),
      resume: call.resume === true,
    };
    const first = settingsForPicture(settings, 'any');
    try {
      const { made, queue } = call.queue
        ? await makeOverQueue(options, first, call, progress)
        : { made: await makeHere(options, first), queue: undefined };
      const at = (ending: string): OutputPath => outputPath(out, `${name}.${ending}`);
      if (made.files.size)
        await writeOutputs(new Map([...made.files].map(([ending, bytes]) => [at(ending), bytes])), true);
      progress.finish();
      report(made, { name, folder, out, settings, queue }, call.json === true);
    } finally {
      progress.finish();
    }
  });
}

async function makeHere(options: SeriesOptions, first: Settings): Promise<SeriesOutput> {
  const pool = new Pool<SeriesJobs>({ entry: WORKER, threads: options.workers, signal: options.signal });
  try {
    return await makeSeries(options, first, { pool });
  } finally {
    await pool.close();
  }
}

/** What belongs to a queue is loaded here: without one, none of it is needed. */
async function makeOverQueue(
  options: SeriesOptions,
  first: Settings,
  call: Call,
  progress: ShownSeries,
): Promise<{ made: SeriesOutput; queue: HandOutSummary }> {
  const address = addressOf(call);
  const { withQueue } = await import('../commands/over-queue.ts');
  const { name, out, signal } = options;
  const log = logOf(call);
  return withQueue(
    { address, version: VERSION, log, metrics: call.metrics, signal, name, out, seen: progress.seen },
    async (crew, summary) => ({ made: await makeSeries(options, first, { crew }), queue: summary() }),
  );
}

/** The settings file, with the fabrics that the call names. */
async function readSettings(call: Call): Promise<SeriesSettings> {
  const text = call.settings ? await readText(call.settings, 'settings file') : '{}';
  const written = readSeriesSettings(text, call.settings ?? 'the settings');
  const { cloths } = await clothsOf(call.fabrics ? { fabrics: call.fabrics } : {});
  if (!cloths) return written;
  if (written.common === 'background') throw new UserError('fabrics-not-common', {}, 2);
  if (cloths.length < 2 || cloths.length > MOST_FABRICS)
    throw new UserError('fabrics-of-a-series', { most: MOST_FABRICS, given: cloths.length }, 2);
  return { ...written, fabrics: [...cloths] };
}

interface Named {
  readonly name: string;
  readonly folder: string;
  readonly out: string;
  readonly settings: SeriesSettings;
  readonly queue: HandOutSummary | undefined;
}

function report(
  { series, odd, files: made }: SeriesOutput,
  { name, folder, out, settings, queue }: Named,
  json: boolean,
): void {
  const known = [...series.blocks.map((b) => b.entry.file), ...series.failed.map((f) => f.file)];
  const strange = Object.keys(settings.pictures).filter((file) => !known.includes(file));
  const files = {
    sheets: join(out, `${name}.series.pdf`),
    contact: join(out, `${name}.contact.png`),
    yardage: join(out, `${name}.yardage.pdf`),
  };
  const warnings = strange.map((f) => `the settings name ${f}, which is not in ${folder}.`);
  const reprint = series.blocks.filter((b) => b.fresh && b.made.print?.length);
  if (json)
    printOut(
      `${JSON.stringify({
        ...(made.size && { files }),
        fabrics: series.fabrics,
        blocks: series.blocks.map((b) => ({
          ...{ number: b.entry.number, name: b.block.name, file: b.entry.file, folder: b.folder, fresh: b.fresh },
          ...{ pieces: b.made.pieces, sections: b.made.sections, sheets: b.made.sheets, misplaced: b.made.misplaced },
          ...{ edition: b.block.edition ?? 'A', print: b.made.print ?? [], warnings: b.made.warnings },
        })),
        failed: series.failed,
        odd,
        warnings,
        ...(queue && { queue }),
      })}\n`,
    );
  else {
    for (const w of warnings) tell(`Mind: ${w}\n`);
    const fresh = series.blocks.filter((b) => b.fresh).length;
    printOut(
      `${name}: ${count(series.blocks.length, 'block')} in ${out}, ${fresh} made now, ${count(series.fabrics.length, 'fabric')} in common.\n`,
    );
    if (queue?.letters)
      printOut(
        `Made by ${count(queue.workers, 'worker')}; the queue's server held ${(queue.peakMemory / 1e6).toFixed(1)} MB at most.\n`,
      );
    for (const b of reprint)
      printOut(`${b.block.name} is edition ${b.block.edition}: print section ${b.made.print!.join(', ')} again.\n`);
    for (const o of odd) printOut(`${o.name} does not go with the others: ${o.why}.\n`);
    if (made.size)
      printOut(`Contact sheet and common key: ${files.sheets}\nWhat to buy and cut, and the quilt: ${files.yardage}\n`);
  }
  if (series.failed.length) {
    for (const f of series.failed) tell(`seamwright: ${f.file}: ${f.error}\n`);
    process.exitCode = 1;
  }
}

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;
