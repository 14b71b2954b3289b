// What a second worker is worth, and what a comparison sheet costs: whole processes, in one run on one machine.
// --pictures 40 as many mixed pictures   --runs 1
import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { median } from './settings.ts';

const root = join(import.meta.dirname, '..', '..');
const shared = join(root, '..', 'shared', 'pictures');
const program = join(root, 'dist', 'seamwright.js');

/** Every nth of all pictures, so that photos, drawings and flat art are mixed. */
function mixedPictures(count: number): string[] {
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

function seconds(args: readonly string[]): number {
  const start = performance.now();
  try {
    execFileSync(process.execPath, [program, ...args], { stdio: 'ignore' });
  } catch (e) {
    // 1: some pictures could not be used, which is said by the command and no matter here
    if ((e as { status?: number }).status !== 1) throw e;
  }
  return (performance.now() - start) / 1000;
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
    const time = (workers: number): number => {
      const out = join(folder, `out-${workers}`);
      const t = seconds(['series', friends, '--out', out, '--workers', String(workers)]);
      const made = readdirSync(out, { withFileTypes: true }).filter((f) => f.isDirectory()).length;
      console.log(
        `${workers} ${workers === 1 ? 'worker ' : 'workers'}: ${made} blocks of ${pictures.length} pictures in ${t.toFixed(1)} s`,
      );
      return t;
    };
    const [one, two] = [time(1), time(2)];
    console.log(`two workers do ${(one / two).toFixed(2)} times the work of one`);
    const photo = join(folder, '12mp.jpg');
    const small = join(root, 'fixtures', 'photos', 'dog-shepherd-dry-grass.jpg');
    await sharp(small).resize(4000, 3000, { fit: 'cover' }).jpeg({ quality: 92 }).toFile(photo);
    const runs = Number(option('runs', '3'));
    const repeat = (call: readonly string[]): number =>
      median(Array.from({ length: runs }, () => seconds([...call, '--out', join(folder, 'one'), '--force'])));
    const block = repeat(['block', photo]);
    const sheet = repeat(['compare', photo, '--workers', '2']);
    console.log(
      `a sheet of 4 x 4 of a 12 MP photo takes ${sheet.toFixed(1)} s, ${(sheet / block).toFixed(2)} times the ${block.toFixed(1)} s of one block`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
