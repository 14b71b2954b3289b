// What the cutting plan is worth: over all pictures, the cloth that its strips use as a share of the area of all patches, and
// whether every patch covers its piece (judged by test/fabric/covers.ts, which shares no code with src/fabric).
// --pieces 80   --every N takes each Nth picture   --keep FOLDER keeps the blocks and uses them again   --verbose a line a picture
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Block, readBlock, writeBlock } from '../../src/block.ts';
import type { Shopping } from '../../src/data.ts';
import { planClass } from '../../src/fabric/kits.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import { LEVEL_DEFAULTS } from '../../src/levels.ts';
import { shadeFile } from '../../src/pipeline/shade.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { templateArea } from '../../src/template/template-area.ts';
import { inches } from '../../src/units.ts';
import { uncoveredPieces } from '../../test/fabric/covers.ts';
import { median, quantile, settingsFor } from './settings.ts';

const root = join(import.meta.dirname, '..', '..');
const KINDS = ['photos', 'lines', 'flat'];
const ALLOWANCE = inches(1 / 4);
/** House rule: the strips may use this many times the area of the patches. */
const MOST_WASTE = 1.14;

export async function benchFabric(args: readonly string[]): Promise<void> {
  const option = (name: string): string | undefined => {
    const i = args.indexOf(`--${name}`);
    return i < 0 ? undefined : args[i + 1];
  };
  const pieces = Number(option('pieces') ?? '80');
  const keep = option('keep');
  if (keep) mkdirSync(keep, { recursive: true });
  const files = picturesOf().filter((_, i) => i % Number(option('every') ?? '1') === 0);
  const blocks: Block[] = [];
  for (const file of files) {
    const kept = keep && join(keep, `${pieces}-${file.split('/').at(-1)}.block.json`);
    const block = kept && existsSync(kept) ? readBlock(readFileSync(kept, 'utf8'), kept) : await blockOf(file, pieces);
    if (kept) writeFileSync(kept, writeBlock(block));
    blocks.push(block);
  }
  const plans = blocks.map((block) => {
    const start = performance.now();
    const shopping = planFabric([{ block }]);
    return { block, shopping, milliseconds: performance.now() - start };
  });
  const ratios = plans.map((p) => used(p.shopping) / cut(p.shopping));
  const uncovered = plans.map(({ block, shopping }) => uncoveredPieces(block, shopping.patches, ALLOWANCE));
  if (args.includes('--verbose'))
    plans.forEach((p, i) => {
      const name = p.block.name.padEnd(40);
      const times = cut(p.shopping) / p.shopping.fabrics.reduce((t, f) => t + f.finished!, 0);
      console.log(
        `${name} strips ${ratios[i]!.toFixed(3)}  patches ${times.toFixed(1)} x the face  ${Math.round(p.milliseconds)} ms  ${p.shopping.buy}`,
      );
    });
  const all = plans.reduce((t, p) => t + used(p.shopping), 0) / plans.reduce((t, p) => t + cut(p.shopping), 0);
  const count = plans.reduce((t, p) => t + p.shopping.patches.length, 0);
  const missed = uncovered.flat();
  console.log(
    `one block, ${blocks.length} pictures, ${pieces} pieces: strips / patches ${all.toFixed(3)} over all, median ${median(ratios).toFixed(3)}, ` +
      `nine in ten under ${quantile(ratios, 0.9).toFixed(3)}, worst ${Math.max(...ratios).toFixed(3)}; at most ${MOST_WASTE} wanted`,
  );
  console.log(
    `patches that fail to cover: ${missed.length} of ${count}${missed.length ? ` (${missed.slice(0, 9).join(', ')})` : ''}`,
  );
  const twelve = blocks
    .slice(0, 12)
    .map((block, i) => ({ block: { ...block, name: `block ${i + 1}`, fabrics: alike(block) } }));
  const start = performance.now();
  const { shopping } = planClass(twelve, { people: 20, spare: 2 });
  const seconds = (performance.now() - start) / 1000;
  const sets = 22;
  console.log(
    `${twelve.length} blocks x 20 people and 2 spare: ${seconds.toFixed(2)} s (under 3 wanted); ` +
      `strips / patches ${(used(shopping) / (sets * cut(shopping))).toFixed(3)}`,
  );
  if (all > MOST_WASTE || missed.length || seconds > 3) process.exitCode = 1;
}

const used = (s: Shopping): number => s.fabrics.flatMap((f) => f.strips).reduce((t, x) => t + x.width * x.length, 0);
const cut = (s: Shopping): number => s.patches.reduce((t, p) => t + p.width * p.length, 0);
/** The same colour for the same code: a series. */
const alike = (block: Block): Block['fabrics'] => block.fabrics.map((f) => ({ ...f, colour: '#808080' }));

async function blockOf(file: string, pieces: number): Promise<Block> {
  const name = file.split('/').at(-1)!;
  const { shades, smallest, mostPieces } = LEVEL_DEFAULTS.intermediate;
  const s = { ...settingsFor(name, pieces), shades, smallest, mostPieces };
  const { shading } = await shadeFile(readFileSync(file), name, s);
  const limits = { mostPieces, paper: templateArea(s.paper, s.margin), allowance: s.allowance };
  const fitted = fitPartition(shading, { ...s, sections: limits });
  return numberPieces(fitted, { name, smallest, fabrics: shading.fabrics }, limits);
}

function picturesOf(): string[] {
  const files = ['fixtures', 'measure-only'].flatMap((set) =>
    KINDS.flatMap((kind) => {
      const folder = join(root, '..', 'shared', 'pictures', set, kind);
      return existsSync(folder)
        ? readdirSync(folder)
            .sort()
            .map((f) => join(folder, f))
        : [];
    }),
  );
  if (files.length) return files;
  return KINDS.flatMap((kind) =>
    readdirSync(join(root, 'fixtures', kind))
      .sort()
      .map((f) => join(root, 'fixtures', kind, f)),
  );
}
