// Time of each stage, median of five, and the whole as a ratio to a yardstick that does not change with the project:
// decoding the same file with sharp and tracing it with a general raster tracer (@neplex/vectorizer).
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { vectorize } from '@neplex/vectorizer';
import sharp from 'sharp';
import { makeBlock, type Progress, shadeFile } from '../../src/pipeline.ts';
import { growth, median, settingsFor } from './settings.ts';

const ROUNDS = 5;
const fixtures = join(import.meta.dirname, '..', '..', 'fixtures');
const PIECES = [40, 80, 200, 400];

export async function benchStages(): Promise<void> {
  const shepherd = readFileSync(join(fixtures, 'photos', 'dog-shepherd-dry-grass.jpg'));
  const large = await sharp(shepherd).resize(4000, 3000, { fit: 'cover' }).jpeg({ quality: 92 }).toBuffer();
  const inputs: [name: string, bytes: Uint8Array, pieces: readonly number[]][] = [
    ['oc-rabbit.png', readFileSync(join(fixtures, 'lines', 'oc-rabbit.png')), [80]],
    ['shepherd, 12 MP', large, PIECES],
  ];
  for (const [name, bytes, wishes] of inputs) {
    const meta = await sharp(bytes).metadata();
    const trace = await middle(() => yardstick(bytes));
    console.log(`${name}: ${meta.width} x ${meta.height}; yardstick ${Math.round(trace)} ms`);
    const fits: [number, number][] = [];
    for (const pieces of wishes) {
      const runs = new Map<string, number[]>();
      let sum = '';
      for (let round = 0; round < ROUNDS; round++) {
        const watch = stopwatch();
        const settings = settingsFor('bench', pieces);
        const { picture, shading } = await shadeFile(bytes, name, settings, watch);
        const made = await makeBlock(shading, settings, watch, picture);
        for (const [stage, ms] of watch.finish()) runs.set(stage, [...(runs.get(stage) ?? []), ms]);
        sum = createHash('sha256').update(made.files.block).digest('hex').slice(0, 8);
      }
      const stages = [...runs].map(([stage, all]) => [stage, median(all)] as const);
      const whole = stages.reduce((t, [, ms]) => t + ms, 0);
      fits.push([pieces, runs.get('fitting the pieces') ? median(runs.get('fitting the pieces')!) : 0]);
      console.log(
        `  ${pieces} pieces, block ${sum}: ${Math.round(whole)} ms, ${(whole / trace).toFixed(1)} yardsticks`,
      );
      for (const [stage, ms] of stages) console.log(`    ${stage.padEnd(34)} ${String(Math.round(ms)).padStart(6)} ms`);
    }
    if (fits.length > 1) console.log(`  the fit grows with pieces to the power of ${growth(fits).toFixed(2)}`);
  }
  console.log(`peak memory ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`);
}

function stopwatch(): Progress & { finish(): Map<string, number> } {
  const times = new Map<string, number>();
  let stage = '';
  let since = 0;
  const close = (): void => {
    if (stage) times.set(stage, (times.get(stage) ?? 0) + performance.now() - since);
  };
  return {
    stage(name) {
      close();
      stage = name;
      since = performance.now();
    },
    done: () => {},
    finish() {
      close();
      return times;
    },
  };
}

async function middle(run: () => Promise<unknown>): Promise<number> {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const start = performance.now();
    await run();
    times.push(performance.now() - start);
  }
  return median(times);
}

async function yardstick(bytes: Uint8Array): Promise<void> {
  const png = await sharp(bytes).rotate().resize(1024, 1024, { fit: 'inside' }).median(5).png().toBuffer();
  await vectorize(png, {
    // colour, stacked layers, polygons: the package's enums are of the kind that a module cannot import
    ...{ colorMode: 0, colorPrecision: 6, filterSpeckle: 8, spliceThreshold: 45, cornerThreshold: 60 },
    ...{ hierarchical: 0, mode: 1, layerDifference: 24 },
    ...{ lengthThreshold: 5, maxIterations: 10, pathPrecision: 3 },
  });
}
