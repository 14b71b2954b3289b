// Many pictures, one set of fabrics: shades of all, the set, the blocks, and the sheets that belong to all of them. The state
// lies in the output folder: series.json (numbers and fabrics, for good) and in each block's folder what it was made from.
import { existsSync } from 'node:fs';
import { readFile, rm, rmdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { type Block, type Fabric, readBlock } from '../block.ts';
import { lightness } from '../colour/difference.ts';
import { makeFolder, readText, writeWhole } from '../files.ts';
import { takeLock } from '../folder-lock.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';
import { fabricsOf } from '../shade/make-fabrics.ts';
import { readFabrics } from '../shade/regions-file.ts';
import { shareFabrics } from '../shade/share-fabrics.ts';
import { Pool } from '../threads/pool.ts';
import { WORKER } from '../worker-file.ts';
import type { BlockToMake } from './block-bytes.ts';
import { BLOCK_FILES, MADE_FILE, type Made, readBefore, recoverFolder } from './block-folder.ts';
import { crewOfThreads, type SeriesCrew } from './crew.ts';
import { type Entry, folderOf, hashFile, makeKey, numberFiles, pictureFiles, shadeKey } from './entries.ts';
import { commonGround } from './grounds.ts';
import type { SeriesJobs } from './jobs.ts';
import type { Shades } from './kept-shades.ts';
import type { SeriesSettings } from './settings.ts';

export interface SeriesOptions {
  readonly folder: string;
  readonly out: string;
  readonly name: string;
  readonly settings: SeriesSettings;
  /** the block settings of a picture, exceptions included; throws UserError */
  readonly settingsFor: (file: string) => Settings;
  /** threads that make the blocks, where nobody else does */
  readonly workers: number;
  readonly resume: boolean;
  readonly signal: AbortSignal;
  readonly progress: SeriesProgress;
}

export interface SeriesProgress {
  stage(name: string, jobs: number): void;
  /** one more is done */
  step(name: string): void;
}

export interface SeriesBlock {
  readonly entry: Entry;
  readonly block: Block;
  readonly made: Made;
  readonly folder: string;
  /** false where what was there already was good */
  readonly fresh: boolean;
}

export interface SeriesRun {
  readonly blocks: readonly SeriesBlock[];
  readonly failed: readonly { readonly file: string; readonly error: string }[];
  readonly fabrics: readonly Fabric[];
}

interface State {
  readonly format: 'seamwright-series';
  readonly version: 1;
  readonly name: string;
  readonly common: SeriesSettings['common'];
  readonly numbers: Readonly<Record<string, number>>;
  /** those that all blocks share: never changed once a block is made from them */
  readonly fabrics: readonly Fabric[];
}

/** Folders of series are handed on like block files: what names folders is held to its grammar. */
const stateSchema = z.looseObject({
  format: z.literal('seamwright-series'),
  version: z.literal(1),
  name: z.string(),
  common: z.enum(['fabrics', 'background']),
  numbers: z.record(z.string(), z.int().min(1).max(99_999)),
  fabrics: z.array(z.unknown()),
});

const STATE_FILE = 'series.json';
const LOCK_FILE = '.lock.json';
const CACHE = '.shades';
/** fabrics more than one picture's shades that a series gets where it is not said */
const MORE_FABRICS = 3;

/** By `crew`, or else by threads of its own. */
export async function runSeries(o: SeriesOptions, crew?: SeriesCrew): Promise<SeriesRun> {
  if (crew) return runLocked(crew, o);
  const own = new Pool<SeriesJobs>({ entry: WORKER, threads: o.workers, signal: o.signal });
  try {
    return await runLocked(crewOfThreads(own), o);
  } finally {
    await own.close();
  }
}

/** One run a folder: a second would take away what the first is making. */
async function runLocked(crew: SeriesCrew, o: SeriesOptions): Promise<SeriesRun> {
  const fresh = !existsSync(o.out);
  await makeFolder(o.out);
  const path = join(o.out, LOCK_FILE);
  const lock = await takeLock(path);
  if ('holder' in lock) throw new UserError('series-in-use', { folder: o.out, file: path }, 2);
  try {
    return await runIn(crew, o);
  } finally {
    await lock.release();
    // a folder in which nothing came to be does not stay
    if (fresh) await rmdir(o.out).catch(() => {});
  }
}

async function runIn(crew: SeriesCrew, o: SeriesOptions): Promise<SeriesRun> {
  const stateFile = join(o.out, STATE_FILE);
  const old = await readState(stateFile);
  if (old && !o.resume) throw new UserError('series-there-already', { file: stateFile }, 2);
  if (old && old.common !== o.settings.common)
    throw new UserError('series-begun-otherwise', { file: stateFile, common: old.common }, 2);
  const files = await pictureFiles(o.folder);
  const numbers = numberFiles(files, old?.numbers ?? {});
  const wanted = files.map((file) => ({ file, number: numbers.get(file)!, settings: o.settingsFor(file) }));
  refuseTwins(wanted);
  await crew.begin(files.length, old !== undefined);

  o.progress.stage('reading the pictures', files.length);
  const entries: Entry[] = [];
  for (const w of wanted) {
    o.signal.throwIfAborted();
    entries.push({ ...w, sha256: await hashFile(join(o.folder, w.file)) });
    o.progress.step(w.file);
  }
  const cacheOf = (e: Entry): string => join(o.out, CACHE, `${shadeKey(e)}.bin`);
  const failed: { file: string; error: string }[] = [];

  let fabrics = old?.fabrics ?? listedFabrics(o.settings);
  if (!fabrics) {
    o.progress.stage('choosing shades', entries.length);
    const sizes = await Promise.all(entries.map(async (e) => (await stat(join(o.folder, e.file))).size));
    const answers = await crew.shade(
      entries.map((e) => ({ file: join(o.folder, e.file), settings: e.settings, cache: cacheOf(e) })),
      { done: (i) => o.progress.step(entries[i]!.file), sizes },
    );
    const shades = answers.flatMap((a) => (a.result ? [a.result] : []));
    answers.forEach((a, i) => {
      if (a.error) failed.push({ file: entries[i]!.file, error: sentenceOf(a.error) });
    });
    if (!shades.length) throw new UserError('no-usable-picture', { pictures: files.length, first: failed[0]!.error });
    fabrics = chooseFabrics(o.settings, shades);
  }
  const state: State = {
    ...{ format: 'seamwright-series', version: 1, name: o.name, common: o.settings.common },
    numbers: { ...old?.numbers, ...Object.fromEntries(numbers) },
    fabrics,
  };
  await writeWhole(stateFile, `${JSON.stringify(state, null, 2)}\n`);

  const own = o.settings.common === 'background';
  const usable = entries.filter((e) => !failed.some((f) => f.file === e.file));
  const missing: { entry: Entry; input: BlockToMake }[] = [];
  for (const entry of usable) {
    const folder = folderOf(o.out, entry);
    await recoverFolder(folder);
    const key = makeKey(entry, fabrics, own);
    const made = await readMade(folder);
    if (made?.key === key && whole(folder, entry)) continue;
    missing.push({
      entry,
      input: {
        file: join(o.folder, entry.file),
        settings: entry.settings,
        cache: cacheOf(entry),
        ...{ folder, key, fabrics },
        edition: made ? await editionAfter((await readOld(folder, entry))?.edition ?? 'A') : 'A',
        ...(own && { own: entry.number }),
      },
    });
  }
  if (missing.length) o.progress.stage('making the blocks', missing.length);
  const answers = await crew.make(
    missing.map((m) => m.input),
    {
      done: (i) => o.progress.step(missing[i]!.entry.settings.name),
      sizes: missing.map((m) => m.entry.settings.pieces),
    },
  );
  answers.forEach((a, i) => {
    if (a.error) failed.push({ file: missing[i]!.entry.file, error: sentenceOf(a.error) });
  });
  const blocks: SeriesBlock[] = [];
  for (const entry of usable) {
    const folder = folderOf(o.out, entry);
    const made = await readMade(folder);
    const block = await readOld(folder, entry);
    if (failed.some((f) => f.file === entry.file) || !made || !block) continue;
    blocks.push({ entry, block, made, folder, fresh: missing.some((m) => m.entry === entry) });
  }
  // only once all is made: a series that is stopped goes on from its shades
  await rm(join(o.out, CACHE), { recursive: true, force: true });
  return { blocks: blocks.sort((a, b) => a.entry.number - b.entry.number), failed, fabrics };
}

/** Fabrics that the settings name one by one. */
function listedFabrics({ fabrics }: SeriesSettings): Fabric[] | undefined {
  if (!Array.isArray(fabrics)) return undefined;
  // codes run from light to dark, in whatever order the fabrics were named
  const ordered = [...fabrics].sort((a, b) => lightness(b.colour) - lightness(a.colour));
  const made = fabricsOf(ordered.map((f) => f.colour.toLowerCase()));
  return made.map((f, i) => {
    const { name, print } = ordered[i]!;
    return { ...f, name, ...(print && { print }) };
  });
}

function chooseFabrics(settings: SeriesSettings, shades: readonly Shades[]): Fabric[] {
  if (settings.common === 'background')
    return [
      commonGround(
        shades.map((s) => s.ground),
        settings.background,
      ),
    ];
  const most = Math.max(...shades.map((s) => s.cloud.weights.length));
  const count = typeof settings.fabrics === 'number' ? settings.fabrics : most + MORE_FABRICS;
  const keep = settings.keep ?? [];
  const shared = shareFabrics(
    shades.map((s) => s.cloud),
    Math.max(count, keep.length + 1),
    1,
    keep.map((f) => f.colour),
  );
  return shared.map((f) => {
    const own = keep.find((k) => k.colour.toLowerCase() === f.colour);
    return own ? { ...f, name: own.name, ...(own.print && { print: own.print }) } : f;
  });
}

/** Why a picture has no block, in one sentence. */
const sentenceOf = (e: Error): string => (e instanceof UserError ? e.message : `a fault of the program: ${e.message}`);

function refuseTwins(wanted: readonly { file: string; settings: Settings }[]): void {
  const seen = new Map<string, string>();
  for (const { file, settings } of wanted) {
    const key = settings.name.toLowerCase();
    const twin = seen.get(key);
    if (twin !== undefined) throw new UserError('same-name-twice', { files: [twin, file], name: settings.name }, 2);
    seen.set(key, file);
  }
}

async function readState(file: string): Promise<State | undefined> {
  if (!existsSync(file)) return undefined;
  try {
    const state = stateSchema.parse(JSON.parse(await readText(file, 'series file')));
    readFabrics(JSON.stringify(state.fabrics), file);
    return state as State;
  } catch {
    // said below
  }
  throw new UserError('not-a-series', { file }, 2);
}

async function readMade(folder: string): Promise<Made | undefined> {
  try {
    return JSON.parse(await readFile(join(folder, MADE_FILE), 'utf8')) as Made;
  } catch {
    return undefined;
  }
}

async function readOld(folder: string, entry: Entry): Promise<Block | undefined> {
  const text = await readBefore(folder, entry.settings.name);
  try {
    return text === undefined ? undefined : readBlock(text, folder);
  } catch {
    return undefined;
  }
}

/** Loaded only where there is one before: what changes blocks brings much with it. */
const editionAfter = async (edition: string): Promise<string> =>
  (await import('../pipeline/change.ts')).followingEdition(edition);

const whole = (folder: string, { settings: { name } }: Entry): boolean =>
  BLOCK_FILES.every((f) => existsSync(join(folder, `${name}.${f}`)));
