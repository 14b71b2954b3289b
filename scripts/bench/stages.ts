// What a block costs: whole processes, from the command to the packet on disk, beside a yardstick that does not change with
// the project (decode the same file with sharp and trace it with a general raster tracer, as a process of its own, in turn
// with ours). Median of five. `--save` keeps the figures, which later runs print beside theirs.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import { makeBlock } from '../../src/library.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { shadeOptions } from '../../src/pipeline/shade.ts';
import { shadePicture } from '../../src/shade/shade-picture.ts';
import { templateArea } from '../../src/template/template-area.ts';
import { growth, median, settingsFor } from './settings.ts';

const ROUNDS = 5;
/** characters of the first column */
const TITLE = 44;
/** Neither alone is a fair sample: the median over all photos of the project, but the copies that are there for their file format. */
const PHOTOS = (name: string): boolean => !name.startsWith('fmt-');
const root = join(import.meta.dirname, '..', '..');
const fixtures = join(root, 'fixtures');
const kept = join(import.meta.dirname, 'speed-totals.json');

interface Case {
  readonly title: string;
  readonly file: string;
  readonly options: readonly string[];
}

interface Run {
  readonly seconds: number;
  readonly megabytes: number;
  readonly timings: Readonly<Record<string, number>>;
}

const YARDSTICK = `
const { createRequire } = require('node:module');
const need = createRequire(${JSON.stringify(join(root, 'package.json'))});
const sharp = need('sharp'), { vectorize, ColorMode, Hierarchical, PathSimplifyMode } = need('@neplex/vectorizer');
(async () => {
  const png = await sharp(process.argv[1]).rotate().resize(1024, 1024, { fit: 'inside' }).median(5).png().toBuffer();
  await vectorize(png, { colorMode: ColorMode.Color, colorPrecision: 6, filterSpeckle: 8, spliceThreshold: 45,
    cornerThreshold: 60, hierarchical: Hierarchical.Stacked, mode: PathSimplifyMode.Polygon, layerDifference: 24,
    lengthThreshold: 5, maxIterations: 10, pathPrecision: 3 });
})();`;

function timeYardstick(file: string): number {
  const start = performance.now();
  const { status, stderr } = spawnSync(process.execPath, ['-e', YARDSTICK, file], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`the yardstick failed: ${stderr}`);
  return (performance.now() - start) / 1000;
}

function timeBlock({ file, options }: Case, out: string): Run {
  const start = performance.now();
  const args = ['block', file, '--out', out, '--name', 'bench', '--force', '--json', '--timings', ...options];
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, 'dist', 'seamwright.js'), ...args], {
    encoding: 'utf8',
  });
  const seconds = (performance.now() - start) / 1000;
  if (status !== 0) throw new Error(`${file} failed: ${stderr}`);
  const megabytes = Number(/(\d+) MB of memory/.exec(stderr)?.[1]);
  return { seconds, megabytes, timings: (JSON.parse(stdout) as { timings: Run['timings'] }).timings };
}

/** The tracer is slow at much fur and grass and quick at large even shades, our work takes about as long for both: neither alone
 *  would be an honest measure. */
const BUSY = 'dog-shepherd-dry-grass.jpg';
const CALM = 'cat-white-tabby-on-pink.webp';

async function enlarge(folder: string, photo: string, name: string, width: number, height: number): Promise<string> {
  const file = join(folder, name);
  await sharp(join(fixtures, 'photos', photo))
    .resize(width, height, { fit: 'cover' })
    .jpeg({ quality: 92 })
    .toFile(file);
  return file;
}

const blockOf = (pieces: number): string[] => ['--pieces', String(pieces), '--smallest', '3/8in', '--most', '12'];

async function makeInputs(folder: string): Promise<Case[]> {
  const large = await enlarge(folder, BUSY, '12mp.jpg', 4000, 3000);
  const calm = await enlarge(folder, CALM, '12mp-calm.jpg', 4000, 3000);
  const huge = await enlarge(folder, BUSY, '50mp.jpg', 8164, 6124);
  const photo = (pieces: number): Case => ({
    title: `12 MP photo, ${pieces} pieces`,
    file: large,
    options: blockOf(pieces),
  });
  return [
    { title: '1 MP drawing, 80 pieces', file: join(fixtures, 'lines', 'oc-rabbit.png'), options: blockOf(80) },
    ...[40, 80, 200, 400].map(photo),
    {
      title: '12 MP photo, 80 pieces, subject found',
      file: large,
      options: [...blockOf(80), '--background', 'plain'],
    },
    { title: '12 MP calm photo, 80 pieces', file: calm, options: blockOf(80) },
    {
      title: '12 MP calm photo, 80 pieces, subject found',
      file: calm,
      options: [...blockOf(80), '--background', 'plain'],
    },
    { title: '50 MP photo, 80 pieces', file: huge, options: blockOf(80) },
  ];
}

/** Yardsticks that a block of each photo takes, in turn; medians of three. */
async function overPhotos(folder: string): Promise<number[]> {
  const names = readdirSync(join(fixtures, 'photos')).filter(PHOTOS).sort();
  const ratios: number[] = [];
  for (const name of names) {
    const file = await enlarge(folder, name, 'one.jpg', 4000, 3000);
    const one = { title: name, file, options: blockOf(80) };
    const yards: number[] = [];
    const runs: number[] = [];
    for (let round = 0; round < 3; round++) {
      yards.push(timeYardstick(file));
      runs.push(timeBlock(one, folder).seconds);
    }
    ratios.push(median(runs) / median(yards));
  }
  return ratios;
}

/** Seconds of a call in a process that has made a block before. */
async function timeWarm({ file }: Case): Promise<number> {
  const bytes = readFileSync(file);
  const settings = settingsFor('bench', 80);
  const seconds: number[] = [];
  for (let round = 0; round < ROUNDS + 1; round++) {
    const start = performance.now();
    await makeBlock(bytes, { ...settings, fileName: file });
    if (round) seconds.push((performance.now() - start) / 1000);
  }
  return median(seconds);
}

/** How shading and fitting grow with the number of cells, at 80 pieces. */
async function growWithCells({ file }: Case): Promise<{ shade: number; fit: number }> {
  const settings = settingsFor('bench', 80);
  const picture = await readPicture(readFileSync(file), file, { aspect: 1 });
  const sections = {
    mostPieces: settings.mostPieces,
    paper: templateArea(settings.paper, settings.margin),
    allowance: settings.allowance,
  };
  const shade: [number, number][] = [];
  const fit: [number, number][] = [];
  for (const grid of [96, 192, 384]) {
    const times: [number[], number[]] = [[], []];
    for (let round = 0; round < 3; round++) {
      const start = performance.now();
      const shading = await shadePicture(picture, { ...shadeOptions({ picture, background: 'keep' }, settings), grid });
      const between = performance.now();
      fitPartition(shading, { ...settings, sections });
      times[0].push(between - start);
      times[1].push(performance.now() - between);
    }
    shade.push([grid * grid, median(times[0])]);
    fit.push([grid * grid, median(times[1])]);
  }
  return { shade: growth(shade), fit: growth(fit) };
}

export async function benchStages(args: readonly string[]): Promise<void> {
  if (!existsSync(join(root, 'dist', 'seamwright.js')))
    throw new Error('npm run build first: the bench times what is built');
  const folder = mkdtempSync(join(tmpdir(), 'seamwright-bench-'));
  try {
    const cases = await makeInputs(folder);
    const before: Record<string, number> = existsSync(kept) ? JSON.parse(readFileSync(kept, 'utf8')) : {};
    const now: Record<string, number> = {};
    const show = (title: string, yardsticks: number, rest: string): void => {
      now[title] = Math.round(yardsticks * 100) / 100;
      const committed = before[title] === undefined ? '     -' : before[title]!.toFixed(2).padStart(6);
      console.log(`${title.padEnd(TITLE)} ${yardsticks.toFixed(2).padStart(6)} ${committed}  ${rest}`);
    };
    console.log(`photo: ${BUSY}; calm photo: ${CALM}, at which the yardstick is quicker`);
    console.log(`${'whole process'.padEnd(TITLE)}  yards. before  seconds, memory, block`);
    const wholes: [number, number][] = [];
    const fits: [number, number][] = [];
    let yard = 0;
    for (const one of cases) {
      const yards: number[] = [];
      const runs: Run[] = [];
      for (let round = 0; round < ROUNDS; round++) {
        yards.push(timeYardstick(one.file));
        runs.push(timeBlock(one, folder));
      }
      yard = median(yards);
      const seconds = median(runs.map((r) => r.seconds));
      const sum = createHash('sha256')
        .update(readFileSync(join(folder, 'bench.block.json')))
        .digest('hex')
        .slice(0, 8);
      const megabytes = Math.max(...runs.map((r) => r.megabytes));
      show(
        one.title,
        seconds / yard,
        `${seconds.toFixed(2)} s (yardstick ${yard.toFixed(2)} s), ${megabytes} MB, ${sum}`,
      );
      const pieces = Number(one.options[1]);
      if (one.title === `12 MP photo, ${pieces} pieces`) {
        wholes.push([pieces, seconds]);
        fits.push([pieces, median(runs.map((r) => r.timings['fitting the pieces'] ?? 0))]);
        if (pieces === 80) {
          const stages = Object.keys(runs[0]!.timings);
          for (const s of stages)
            console.log(
              `    ${s.padEnd(TITLE - 4)} ${median(runs.map((r) => r.timings[s] ?? 0))
                .toFixed(2)
                .padStart(6)} s`,
            );
        }
      }
    }
    const photo = cases[2]!;
    const yards = Array.from({ length: ROUNDS }, () => timeYardstick(photo.file));
    const warm = await timeWarm(photo);
    show('12 MP photo, 80 pieces, a warm call', warm / median(yards), `${warm.toFixed(2)} s`);
    console.log(
      `with pieces: the whole grows to the power of ${growth(wholes).toFixed(2)}, the fit ${growth(fits).toFixed(2)}`,
    );
    const all = await overPhotos(folder);
    show(
      '12 MP photos of all kinds, 80 pieces',
      median(all),
      `median of ${all.length}, ${all
        .sort((a, b) => a - b)
        .map((v) => v.toFixed(1))
        .join(' ')}`,
    );
    const cells = await growWithCells(photo);
    console.log(`with cells: shading grows to the power of ${cells.shade.toFixed(2)}, the fit ${cells.fit.toFixed(2)}`);
    if (args.includes('--save')) writeFileSync(kept, `${JSON.stringify(now, null, 2)}\n`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
