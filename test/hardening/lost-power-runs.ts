// What a page and a series keep, run over the layer that loses power: at many moments the disk is laid out as it may be then, and what the
// program had said to be kept must be there. Shared by the test, which tries some moments, and by the script, which tries many.
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { checkBlock } from '../../src/check/check-block.ts';
import { verifyFolder } from '../../src/commands/verify.ts';
import { outputPath, writeOutputs } from '../../src/files.ts';
import { Folder } from '../../src/page/server/keep.ts';
import { crewOfThreads } from '../../src/series/crew.ts';
import { seriesJobs } from '../../src/series/jobs.ts';
import { runSeries, type SeriesOptions } from '../../src/series/run-series.ts';
import { readSeriesSettings, settingsForPicture } from '../../src/series/settings.ts';
import { mm } from '../../src/units.ts';
import { randomNumbers } from '../check/random-block.ts';
import { fixture } from '../cli/run-program.ts';
import { newFolder, remove, visit } from '../page/visit.ts';
import { type Disk, LosingPower, layOut } from './lost-power.ts';

export interface Losses {
  /** operations on files that the program made */
  readonly operations: number;
  /** disks that were laid out and looked at */
  readonly disks: number;
  /** times that something said to be kept was looked for */
  readonly kept: number;
  readonly faults: readonly string[];
}

/** Looks at what lies on a disk. Gives how much was looked for; throws what is missing. */
type Look = (folder: string, said: readonly string[]) => Promise<number>;

async function loseAtMany(power: LosingPower, disks: number, look: Look): Promise<Losses> {
  const faults: string[] = [];
  let kept = 0;
  for (let i = 0; i < disks; i++) {
    const at = Math.ceil(((i + 1) * power.length) / disks);
    const disk: Disk = power.diskAt(at, randomNumbers(i));
    const folder = await newFolder();
    try {
      await layOut(disk, folder);
      kept += await look(folder, power.saidBefore(at));
    } catch (e) {
      faults.push(`disk ${i}, after operation ${at}: ${(e as Error).message}`);
    } finally {
      await remove(folder);
    }
  }
  return { operations: power.length, disks, kept, faults };
}

const nameOf = (id: string, name: string): string => `${id} ${name}`;

/** Works that are begun, changed, copied, gone back in. What is said of each: the name of its first fabric. */
export async function losePage(disks: number): Promise<Losses> {
  const folder = await newFolder();
  const power = new LosingPower(folder);
  power.start();
  try {
    const v = await visit(folder);
    const names: string[] = [];
    const say = (id: string, name: string): void => {
      names.push(nameOf(id, name));
      power.said(nameOf(id, name));
    };
    const rename = async (id: string, code: string, name: string): Promise<void> => {
      // it may be on the disk before it is said
      names.push(nameOf(id, name));
      const { status, body } = await v.send('POST', `works/${id}/changes`, { kind: 'rename', fabric: code, name });
      if (status !== 200) throw new Error(`${status} ${JSON.stringify(body).slice(0, 200)}`);
      say(id, name);
    };
    for (let i = 0; i < 2; i++) {
      const { body } = await v.upload(fixture('../test/page/fox.block.json'));
      const { code, name } = body.block!.fabrics[0]!;
      say(body.id, name);
      for (let k = 0; k < 3; k++) await rename(body.id, code, `cream ${k}`);
      const { body: copied } = await v.send('POST', `works/${body.id}/copy`);
      say(copied.id, 'cream 2');
      await rename(copied.id, code, 'linen');
    }
    await v.close();
    return await loseAtMany(power, disks, async (disk, said) => {
      const own = new Folder(disk);
      const works = await own.readAll();
      const last = new Map(said.map((s) => [s.slice(0, s.indexOf(' ')), s]));
      for (const [id, line] of last) {
        const file = works.get(id);
        if (!file) throw new Error(`${id} is gone`);
        const step = await own.readStep(id, file.line[file.at]!);
        const now = nameOf(id, step.block!.fabrics[0]!.name);
        if (names.lastIndexOf(now) < names.indexOf(line)) throw new Error(`"${line}" was said, there is "${now}"`);
        if (checkBlock(step.block!, { smallest: mm(0) }).faults.length) throw new Error(`${id} cannot be sewn`);
      }
      const left = (await readdir(disk, { recursive: true })).filter((f) => f.endsWith('.part'));
      if (left.length) throw new Error(`${left[0]} stayed`);
      return last.size;
    });
  } finally {
    power.stop();
    await remove(folder);
  }
}

/** A series whose jobs run in this process, so that all that it writes is seen; then once more, with one block made anew. */
export async function loseSeries(disks: number): Promise<Losses> {
  const folder = await newFolder();
  const out = join(folder, 'out');
  const power = new LosingPower(folder);
  try {
    await mkdir(join(folder, 'in'));
    const { cp } = await import('node:fs/promises');
    for (const name of ['fox', 'owl']) await cp(fixture(`flat/noto-${name}.svg`), join(folder, 'in', `${name}.svg`));
    power.start();
    const signal = new AbortController().signal;
    const told = { stage() {}, done() {}, part() {}, cancelled: false };
    const pool = {
      ...{ size: 1, warm: true, signal, start() {} },
      ask: (name: keyof typeof seriesJobs, input: never) => ({
        answer: seriesJobs[name].run(input, told as never),
        cancel() {},
      }),
    };
    for (const pieces of [10, 12]) {
      const settings = readSeriesSettings(`block: { pieces: ${pieces}, effort: quick }`, 's.yaml');
      const options: SeriesOptions = {
        ...{ folder: join(folder, 'in'), out, name: 'shelter', settings, workers: 1, resume: true, signal },
        settingsFor: (file) => settingsForPicture(settings, file),
        progress: { stage() {}, step: (name) => void (/svg$/.test(name) || power.said(`${name} ${pieces}`)) },
      };
      const { blocks } = await runSeries(options, crewOfThreads(pool as never));
      if (blocks.length !== 2) throw new Error(`${blocks.length} blocks`);
    }
    return await loseAtMany(power, disks, async (disk, said) => {
      if (!said.length) return 0;
      // as a run that goes on does first
      const { recoverFolder } = await import('../../src/series/block-folder.ts');
      const made = new Map(said.map((s) => s.split(' ') as [string, string]));
      const home = join(disk, 'out');
      const folders = (await readdir(home)).filter((f) => /^\d+ /.test(f)).map((f) => f.replace(/\.(part|old)$/, ''));
      for (const f of new Set(folders)) await recoverFolder(join(home, f));
      const { whole } = await verifyFolder(home);
      for (const name of made.keys())
        if (!whole.some((f) => f.endsWith(` ${name}`))) throw new Error(`${name} is not whole`);
      return made.size;
    });
  } finally {
    power.stop();
    await remove(folder);
  }
}

/** A command's files, written anew over older ones, into folders that were not there. Each is the old one or the new one. */
export async function loseOutputs(disks: number): Promise<Losses> {
  const folder = await newFolder();
  const power = new LosingPower(folder);
  power.start();
  try {
    const FILES = ['a', 'b', 'c'];
    for (let k = 0; k < 6; k++) {
      const at = join(folder, 'deep', `out-${k % 3}`);
      const bytes = (f: string): Uint8Array => Buffer.from(`${f}${k}`.repeat(3000));
      await writeOutputs(new Map(FILES.map((f) => [outputPath(at, f), bytes(f)])), k >= 3);
      power.said(`${k}`);
    }
    return await loseAtMany(power, disks, async (disk, said) => {
      const last = new Map(said.map((k) => [Number(k) % 3, Number(k)]));
      for (const [at, k] of last)
        for (const f of FILES) {
          const text = await readFile(join(disk, 'deep', `out-${at}`, f), 'utf8');
          if (![k, k + 3].some((n) => text === `${f}${n}`.repeat(3000)))
            throw new Error(`out-${at}/${f} is torn or old`);
        }
      return last.size * FILES.length;
    });
  } finally {
    power.stop();
    await remove(folder);
  }
}
