// What a second worker is worth, and what a comparison sheet costs: whole processes, in one run on one machine.
// --pictures 40 as many mixed pictures   --rounds 3 of two workers and one, in turn   --runs 5 of block and sheet, in turn
import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { median } from './settings.ts';

const root = join(import.meta.dirname, '..', '..');
const shared = join(root, '..', 'shared', 'pictures');
const program = join(root, 'dist', 'seamwright.js');

/** Every nth of all pictures, so that photos, drawings and flat art are mixed. */
export function mixedPictures(count: number): string[] {
  const all = ['fixtures', 'measure-only'].flatMap((part) =>
    ['photos', 'lines', 'flat'].flatMap((kind) => {
      const folder = join(shared, part, kind);
      return existsSync(folder)
        ? readdirSync(folder)
            .sort()
            .map((f) => join(folder, f))
        : [];
    }),
  );
  return Array.from({ length: Math.min(count, all.length) }, (_, i) => all[Math.floor((i * all.length) / count)]!);
}

interface Taken {
  readonly seconds: number;
  /** of all threads of the process, s */
  readonly processor: number;
}

function take(args: readonly string[]): Taken {
  const start = performance.now();
  const before = processorOfChildren();
  const { status, error } = spawnSync(process.execPath, [program, ...args], { stdio: 'ignore' });
  if (error) throw error;
  // 1: some pictures could not be used, which is said by the command and no matter here
  if (status !== 0 && status !== 1) throw new Error(`seamwright ${args[0]} ended with ${status}`);
  return { seconds: (performance.now() - start) / 1000, processor: processorOfChildren() - before };
}

/** Of all processes that were started and have ended, s; Linux counts it in hundredths (proc(5), cutime and cstime). */
function processorOfChildren(): number {
  const fields = readFileSync('/proc/self/stat', 'latin1').split(') ')[1]!.split(' ');
  return (Number(fields[13]) + Number(fields[14])) / 100;
}

export async function benchSeries(args: readonly string[]): Promise<void> {
  const option = (name: string, fallback: string): string => {
    const i = args.indexOf(`--${name}`);
    return i < 0 ? fallback : (args[i + 1] ?? fallback);
  };
  const folder = mkdtempSync(join(tmpdir(), 'series-bench-'));
  try {
    const pictures = mixedPictures(Number(option('pictures', '40')));
    const friends = join(folder, 'friends');
    mkdirSync(friends);
    pictures.forEach((p, i) => {
      copyFileSync(p, join(friends, `${i + 1} ${p.split('/').at(-1)}`));
    });
    const series = (workers: number): Taken => {
      const out = join(folder, `out-${workers}`);
      rmSync(out, { recursive: true, force: true });
      const t = take(['series', friends, '--out', out, '--workers', String(workers)]);
      const made = readdirSync(out, { withFileTypes: true }).filter((f) => /^\d/.test(f.name)).length;
      console.log(
        `${workers} ${workers === 1 ? 'worker ' : 'workers'}: ${made} blocks of ${pictures.length} pictures in ${t.seconds.toFixed(1)} s, ` +
          `${t.processor.toFixed(1)} s of processor time (${(t.processor / t.seconds).toFixed(2)} cores)`,
      );
      return t;
    };
    const rounds = Array.from({ length: Number(option('rounds', '3')) }, () => ({ two: series(2), one: series(1) }));
    const sum = (pick: (r: (typeof rounds)[number]) => number): number => rounds.reduce((t, r) => t + pick(r), 0);
    const cores = (who: 'one' | 'two'): number => sum((r) => r[who].processor) / sum((r) => r[who].seconds);
    if (rounds.length) {
      const ratios = rounds.map((r) => r.one.seconds / r.two.seconds);
      console.log(
        `two workers do ${median(ratios).toFixed(2)} times the work of one (${ratios.map((r) => r.toFixed(2)).join(', ')}; ` +
          `all rounds together ${(sum((r) => r.one.seconds) / sum((r) => r.two.seconds)).toFixed(2)}); ` +
          `they keep ${cores('two').toFixed(2)} cores busy, one keeps ${cores('one').toFixed(2)}`,
      );
    }
    const photo = join(folder, '12mp.jpg');
    const small = join(root, 'fixtures', 'photos', 'dog-shepherd-dry-grass.jpg');
    await sharp(small).resize(4000, 3000, { fit: 'cover' }).jpeg({ quality: 92 }).toFile(photo);
    const time = (call: readonly string[]): number => take([...call, '--out', join(folder, 'one'), '--force']).seconds;
    // in turn: the machine's speed drifts
    const runs = Array.from({ length: Number(option('runs', '5')) }, () => {
      const block = time(['block', photo]);
      return { block, sheet: time(['compare', photo, '--workers', '2']) };
    });
    const ratios = runs.map((r) => r.sheet / r.block);
    if (runs.length)
      console.log(
        `a sheet of 4 x 4 of a 12 MP photo takes ${median(runs.map((r) => r.sheet)).toFixed(1)} s, one block ${median(runs.map((r) => r.block)).toFixed(1)} s: ` +
          `${median(ratios).toFixed(2)} times (${ratios.map((r) => r.toFixed(2)).join(', ')})`,
      );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
