// What the fit is worth: over all pictures, its figures as shares of a plain greedy partition's at the same number of
// pieces. The judge is ../shared/tools/measure.mjs, which shares no code with the project; without it this bench cannot run.
// --features: of faces instead, see features.ts   --pieces 40,80,160   --every N takes each Nth picture   --verbose a line a picture   --save keeps the totals
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { writeBlock } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Shading } from '../../src/data.ts';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { measureQuality, type Quality } from '../../src/quality/measure-quality.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { writeRegions } from '../../src/shade/regions-file.ts';
import { templateArea } from '../../src/template/template-area.ts';
import { benchFeatures } from './features.ts';
import { plainShades } from './plain-shades.ts';
import { growth, median, quantile, settingsFor } from './settings.ts';

const root = join(import.meta.dirname, '..', '..');
const shared = join(root, '..', 'shared');
const totalsFile = join(import.meta.dirname, 'fit-totals.json');
const KINDS = ['photos', 'lines', 'flat'] as const;
const SHADES = 5;

interface Judged {
  readonly faults: readonly string[];
  readonly pieces: number;
  readonly sections: number;
  readonly single: number;
  readonly ratio: { readonly misplaced: number; readonly sections: number };
  readonly marks: { readonly of: number; readonly kept: number };
  readonly refMarks: { readonly of: number; readonly kept: number };
}
type Judge = (block: string, regions: string, picture: undefined, how: { smallest: number }) => Promise<Judged>;

interface Row extends Judged {
  readonly kind: string;
  readonly name: string;
  readonly wished: number;
  readonly milliseconds: number;
  readonly checked: number;
  readonly quality: Quality;
  readonly mirrored: boolean;
  /** sections that numbering needs beyond those of the fitted tree: never above 0 */
  readonly more: number;
}

export async function benchFit(args: readonly string[]): Promise<void> {
  if (args.includes('--features')) return benchFeatures(args, shared);
  const option = (name: string, fallback: string): string => {
    const i = args.indexOf(`--${name}`);
    return i < 0 ? fallback : (args[i + 1] ?? fallback);
  };
  const judgeFile = join(shared, 'tools', 'measure.mjs');
  if (!existsSync(judgeFile)) throw new Error(`${judgeFile} is not there: the fit cannot be judged without it`);
  const { measure } = (await import(pathToFileURL(judgeFile).href)) as { measure: Judge };
  const wishes = option('pieces', '40,80,160').split(',').map(Number);
  const every = Number(option('every', '1'));
  const folder = mkdtempSync(join(tmpdir(), 'fit-bench-'));
  const rows: Row[] = [];
  const cells: [number, number][] = [];
  try {
    const files = KINDS.flatMap((kind) => picturesOf(kind).map((file) => [kind, file] as const));
    for (const [kind, file] of files.filter((_, i) => i % every === 0)) {
      const name = file.split('/').at(-1)!;
      const picture = await readPicture(readFileSync(file), name, { aspect: 1 });
      const shading = plainShades(picture, SHADES);
      const regions = join(folder, 'regions.png');
      writeFileSync(regions, await writeRegions(shading));
      for (const wished of wishes) {
        const s = settingsFor(name, wished);
        const limits = { mostPieces: s.mostPieces, paper: templateArea(s.paper, s.margin), allowance: s.allowance };
        const start = process.cpuUsage();
        const fitted = fitPartition(shading, { ...s, sections: limits });
        const milliseconds = process.cpuUsage(start).user / 1000;
        if (wished === wishes[0] && rows.length % (8 * wishes.length) === 0)
          for (const factor of [0.5, 1, 2]) {
            const scaled = scaleGrid(shading, factor);
            const begun = process.cpuUsage();
            fitPartition(scaled, { ...s, sections: limits });
            cells.push([scaled.labels.length, process.cpuUsage(begun).user]);
          }
        const block = numberPieces(fitted, { name, smallest: s.smallest, fabrics: shading.fabrics }, limits);
        const checked = checkBlock(block, { smallest: s.smallest, most: limits.mostPieces }).faults.length;
        const blockFile = join(folder, 'block.json');
        writeFileSync(blockFile, writeBlock(block));
        const judged = await measure(blockFile, regions, undefined, { smallest: s.smallest });
        const more = block.sections.length - fitted.sections;
        const quality = measureQuality(block, shading, { smallest: s.smallest, mostPieces: limits.mostPieces });
        rows.push({
          ...judged,
          kind,
          name,
          wished,
          milliseconds,
          checked,
          more,
          quality,
          mirrored: fitted.mirrored !== undefined,
        });
        if (args.includes('--verbose')) console.log(line(rows.at(-1)!));
      }
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  report(rows, wishes, args.includes('--save'));
  console.log(`time grows with cells to the power of ${two(growth(cells))}`);
}

/** The same picture with cells of another size. */
function scaleGrid(shading: Shading, factor: number): Shading {
  const width = Math.round(shading.width * factor);
  const height = Math.round(shading.height * factor);
  const labels = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      labels[y * width + x] =
        shading.labels[Math.floor((y + 0.5) / factor) * shading.width + Math.floor((x + 0.5) / factor)]!;
  return { ...shading, width, height, labels };
}

function picturesOf(kind: string): string[] {
  return ['fixtures', 'measure-only'].flatMap((set) => {
    const folder = join(shared, 'pictures', set, kind);
    return existsSync(folder)
      ? readdirSync(folder)
          .sort()
          .map((f) => join(folder, f))
      : [];
  });
}

const two = (v: number): string => v.toFixed(2).replace(/^0/, '');
const line = (r: Row): string =>
  `${String(r.wished).padStart(4)} ${r.name.padEnd(44)} misplaced ${two(r.ratio.misplaced)}  sections ${two(r.ratio.sections)} ` +
  `(${r.sections}, ${r.single} single)  landmarks ${r.marks.kept}/${r.marks.of}, greedy ${r.refMarks.kept}  ${Math.round(r.milliseconds)} ms  ${r.faults[0] ?? ''}`;

type Totals = Record<string, Record<string, number>>;

/** Of how many pictures, in per cent, each rule of a good block holds. */
function rulesHeld(rows: readonly Row[]): Record<string, number> {
  const found: Record<string, number> = {};
  const rules = new Set(rows.flatMap((r) => r.quality.rules.map((q) => q.rule)));
  for (const rule of [...rules].sort((a, b) => a - b)) {
    // some rules ask about what not every picture has
    const asked = rows.flatMap((r) => r.quality.rules.filter((q) => q.rule === rule));
    found[`rule ${rule}`] = Math.round((100 * asked.filter((q) => q.holds).length) / asked.length);
  }
  return found;
}

function report(rows: readonly Row[], wishes: readonly number[], save: boolean): void {
  const before: Totals = existsSync(totalsFile) ? JSON.parse(readFileSync(totalsFile, 'utf8')) : {};
  const now: Totals = {};
  console.log('\nblock / greedy: quartiles, worst; in brackets the median as last committed');
  for (const wished of wishes)
    for (const kind of [...KINDS, 'all'] as const) {
      const some = rows.filter((r) => r.wished === wished && (kind === 'all' || r.kind === kind));
      if (some.length === 0) continue;
      const key = `${kind} ${wished}`;
      const misplaced = some.map((r) => r.ratio.misplaced);
      const sections = some.map((r) => r.ratio.sections);
      const total = {
        misplaced: median(misplaced),
        worst: Math.max(...misplaced),
        sections: median(sections),
        pictures: some.length,
      };
      now[key] = Object.fromEntries(Object.entries(total).map(([k, v]) => [k, Math.round(v * 1000) / 1000])) as never;
      const old = before[key];
      const quartiles = (v: readonly number[]): string => [0.25, 0.5, 0.75].map((q) => two(quantile(v, q))).join(' ');
      console.log(
        `${key.padEnd(11)} misplaced ${quartiles(misplaced)} worst ${two(total.worst)} [${old ? two(old.misplaced!) : '-'}]   ` +
          `sections ${quartiles(sections)} [${old ? two(old.sections!) : '-'}]   ${some.length} pictures`,
      );
    }
  for (const wished of wishes) {
    const some = rows.filter((r) => r.wished === wished);
    const few = some.filter((r) => r.marks.of <= 12);
    const sum = (f: (r: Row) => number): number => few.reduce((t, r) => t + f(r), 0);
    console.log(
      `${wished} pieces: landmarks (pictures with at most 12) ${sum((r) => r.marks.kept)} of ${sum((r) => r.marks.of)}, greedy ` +
        `${sum((r) => r.refMarks.kept)}; fit ${Math.round(median(some.map((r) => r.milliseconds)))} ms of one core (median); ` +
        `faults: judge ${some.filter((r) => r.faults.length).length}, own check ${some.filter((r) => r.checked).length}, more sections than fitted ${some.filter((r) => r.more > 0).length}`,
    );
  }
  for (const wished of wishes) {
    const some = rows.filter((r) => r.wished === wished);
    const held = rulesHeld(some);
    const old = before[`quality ${wished}`];
    now[`quality ${wished}`] = held;
    console.log(
      `${wished} pieces: points to match ${Math.round(median(some.map((r) => r.quality.pointsToMatch)))}, near misses ` +
        `${Math.round(median(some.map((r) => r.quality.rules.find((q) => q.rule === 5)!.figures.misses!)))} (medians); pictures in % that keep ` +
        Object.entries(held)
          .map(([rule, v]) => `${rule} ${v} [${old?.[rule] ?? '-'}]`)
          .join(', '),
    );
  }
  for (const wished of wishes) {
    const some = rows.filter((r) => r.wished === wished);
    const seven = some.flatMap((r) => r.quality.rules.filter((q) => q.rule === 7).map((q) => q.figures));
    const mean = (of: (f: (typeof seven)[number]) => number | undefined): string => {
      const known = seven.flatMap((f) => of(f) ?? []);
      return two(known.reduce((t, v) => t + v, 0) / known.length);
    };
    console.log(
      `${wished} pieces: mirrored ${
        some
          .filter((r) => r.mirrored)
          .map((r) => r.name)
          .join(', ') || 'none'
      }; of all seam length within one ` +
        `fabric ${mean((f) => f.sameFabric)}; of the pieces of the ground ${mean((f) => f.background)}`,
    );
  }
  if (wishes.length > 1)
    console.log(
      `time grows with pieces to the power of ${two(growth(rows.map((r) => [r.wished, r.milliseconds] as const)))}`,
    );
  if (save) writeFileSync(totalsFile, `${JSON.stringify({ ...before, ...now }, null, 2)}\n`);
}
