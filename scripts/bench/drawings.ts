// Contact sheets of drawings: each picture, its shades in both designs, and (with --blocks) the finished block. To be looked at, for no
// figure says whether an animal is to be seen. `-- drawings OUT-FOLDER [--blocks] [--quick] [--lines fill] [--only WORD] [--flat]`.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import sharp, { type OverlayOptions } from 'sharp';
import type { Picture, Shading } from '../../src/data.ts';
import { previewOf } from '../../src/packet/preview.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { fitPieces } from '../../src/pipeline/fit.ts';
import { numberBlock } from '../../src/pipeline/number.ts';
import { shadeOptions } from '../../src/pipeline/shade.ts';
import { completeSettings, type Settings } from '../../src/settings/settings.ts';
import type { Lines } from '../../src/shade/shade-drawing.ts';
import { shadePicture } from '../../src/shade/shade-picture.ts';

export const shared = join(import.meta.dirname, '..', '..', '..', 'shared', 'pictures');
const TILE = 220;

/** All drawings, or all flat art, of the set. */
export function drawingsOf(folder: 'lines' | 'flat'): string[] {
  return ['fixtures', 'measure-only'].flatMap((set) => {
    const path = join(shared, set, folder);
    return existsSync(path)
      ? readdirSync(path)
          .sort()
          .map((f) => join(path, f))
      : [];
  });
}

/** The settings of a block that nobody has set anything for. */
export const defaultsFor = (name: string): Settings => completeSettings({ name });

/** The shades as a picture: features outlined in red, lines to stitch dashed. */
async function drawShading(shading: Shading): Promise<Buffer> {
  const { width: w, height: h, labels, fabrics, features = [], strokes = [] } = shading;
  const pixels = Buffer.alloc(3 * w * h);
  const rgb = fabrics.map((f) => [1, 3, 5].map((i) => Number.parseInt(f.colour.slice(i, i + 2), 16)));
  labels.forEach((l, i) => {
    pixels.set(rgb[l]!, 3 * i);
  });
  const points = (line: readonly (readonly [number, number])[]): string =>
    line.map(([x, y]) => `${(x * TILE).toFixed(1)},${(y * TILE).toFixed(1)}`).join(' ');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${TILE}" height="${TILE}" fill="none">${features
    .map((f) => `<polygon points="${points(f.outline)}" stroke="red"/>`)
    .join('')}${strokes
    .map((s) => `<polyline points="${points(s)}" stroke="#0a58ca" stroke-width="1.2" stroke-dasharray="4 2"/>`)
    .join('')}</svg>`;
  return sharp(pixels, { raw: { width: w, height: h, channels: 3 } })
    .resize(TILE, TILE, { kernel: 'nearest' })
    .composite([{ input: Buffer.from(svg) }])
    .png()
    .toBuffer();
}

const drawPicture = (p: Picture): Promise<Buffer> =>
  sharp(p.pixels, { raw: { width: p.width, height: p.height, channels: 3 } })
    .resize(TILE, TILE)
    .png()
    .toBuffer();

/** A sheet of tiles, row by row. */
async function writeSheet(tiles: readonly (Buffer | undefined)[], across: number, file: string): Promise<void> {
  const step = TILE + 6;
  const composite: OverlayOptions[] = tiles.flatMap((input, i) =>
    input ? [{ input, left: (i % across) * step, top: Math.floor(i / across) * step }] : [],
  );
  await sharp({
    create: {
      width: across * step,
      height: Math.ceil(tiles.length / across) * step,
      channels: 3,
      background: '#ffffff',
    },
  })
    .composite(composite)
    .png()
    .toFile(file);
}

export async function benchDrawings(args: readonly string[]): Promise<void> {
  const out = args.find((a) => !a.startsWith('--')) ?? 'drawings-out';
  const only = args[args.indexOf('--only') + 1];
  const designs = args.includes('--lines')
    ? [args[args.indexOf('--lines') + 1] as Lines]
    : (['auto', 'fill', 'keep'] as const);
  const folder = args.includes('--flat') ? 'flat' : 'lines';
  mkdirSync(out, { recursive: true });
  const shades: (Buffer | undefined)[] = [];
  const blocks: (Buffer | undefined)[] = [];
  for (const file of drawingsOf(folder).filter((f) => !args.includes('--only') || f.includes(only!))) {
    const name = basename(file);
    const picture = await readPicture(readFileSync(file), name, { aspect: 1 });
    const settings = { ...defaultsFor(name), ...(args.includes('--quick') && { effort: 'quick' as const }) };
    shades.push(await drawPicture(picture));
    for (const lines of designs) {
      const start = performance.now();
      const shading = await shadePicture(
        picture,
        shadeOptions({ picture, background: 'keep' }, { ...settings, lines }),
      );
      const took = Math.round(performance.now() - start);
      shades.push(await drawShading(shading));
      console.log(
        `${name.padEnd(38)} ${lines}  ${shading.kind.kind}  ${shading.fabrics.map((f) => f.colour).join(' ')}  ` +
          `${(shading.features ?? []).map((f) => f.kind).join(' ') || 'no features'}  ${shading.strokes?.length ?? 0} lines  ${took} ms`,
      );
      if (!args.includes('--blocks')) continue;
      const { block, misplaced } = numberBlock(fitPieces(shading, settings).at(-1)!, shading, settings);
      const preview = Buffer.from(previewOf(block));
      writeFileSync(join(out, `${name}.${lines}.block.json`), JSON.stringify(block));
      blocks.push(await sharp(preview).resize(TILE, TILE).png().toBuffer());
      console.log(`  ${(100 * misplaced).toFixed(1)} % misplaced`);
    }
  }
  await writeSheet(shades, 2 * (designs.length + 1), join(out, `${folder}-shades.png`));
  if (blocks.length) await writeSheet(blocks, designs.length === 1 ? 7 : 6, join(out, `${folder}-blocks.png`));
}
