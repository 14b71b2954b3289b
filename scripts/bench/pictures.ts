// What posterising is worth, a kind of picture at a time. Judged by the colour code of measure.mjs (bench/fit.ts), which shares
// nothing with the project; without it this bench cannot run. --every N takes each Nth picture; --verbose a line a picture.
// shades      mean OKLab distance of regions and picture, both a little blurred, over plain k-means with a mode filter
// palette     the same on the subject alone, over sharp's palette quantiser with as many colours (4: it knows powers of 2 only)
// subject     shared area over joint area of the subject that is found and the alpha of cut-outs laid on a blurred photo
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import sharp from 'sharp';
import type { Picture, Shading } from '../../src/data.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { shadeOptions } from '../../src/pipeline/shade.ts';
import { shrinkPixels } from '../../src/shade/cells.ts';
import { findSubject } from '../../src/shade/find-subject.ts';
import { guessSubject } from '../../src/shade/guess-subject.ts';
import { type ShadingFound, shadePicture } from '../../src/shade/shade-picture.ts';
import { overlap } from '../../src/shade/subject-mask.ts';
import { median, quantile, settingsFor } from './settings.ts';

const shared = join(import.meta.dirname, '..', '..', '..', 'shared');
const KINDS = { photos: 'photo', lines: 'drawing', flat: 'flat' } as const;
type Folder = keyof typeof KINDS;
const FOLDERS = Object.keys(KINDS) as Folder[];
/** Colours at which sharp's quantiser gives just as many as it is asked for. */
const PALETTE = 4;
/** Cells of blur at which picture and regions are compared, as the judge has it. */
const VIEW = 1.5;

interface Judge {
  lab3(r: number, g: number, b: number): number[];
  oklab(hex: string): number[];
  blur(image: Float64Array, w: number, h: number, sigma: number): Float64Array;
  plainShades(image: Float64Array, w: number, h: number, k: number): { lab: Uint8Array; colours: number[][] };
}

function picturesOf(folder: Folder): string[] {
  return ['fixtures', 'measure-only'].flatMap((set) => {
    const path = join(shared, 'pictures', set, folder);
    if (!existsSync(path)) return [];
    return readdirSync(path)
      .sort()
      .map((f) => join(path, f));
  });
}

const labOf = (judge: Judge, rgb: Uint8Array): Float64Array => {
  const out = new Float64Array(rgb.length);
  for (let i = 0; i < rgb.length; i += 3) out.set(judge.lab3(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!), i);
  return out;
};

/** Mean distance of two images, n x 3, where `mask` is set. */
function away(a: Float64Array, b: Float64Array, mask?: Uint8Array): number {
  let [sum, n] = [0, 0];
  for (let i = 0; i < a.length / 3; i++) {
    if (mask && !mask[i]) continue;
    sum += Math.hypot(a[3 * i]! - b[3 * i]!, a[3 * i + 1]! - b[3 * i + 1]!, a[3 * i + 2]! - b[3 * i + 2]!);
    n++;
  }
  return sum / Math.max(1, n);
}

const paint = (labels: Uint8Array, colours: readonly (readonly number[])[]): Float64Array => {
  const out = new Float64Array(3 * labels.length);
  labels.forEach((l, i) => {
    out.set(colours[l]!, 3 * i);
  });
  return out;
};

interface Row {
  readonly folder: Folder;
  readonly name: string;
  readonly right: boolean;
  readonly ratio: number;
  readonly palette: number | undefined;
  readonly grown: number;
  readonly lost: number;
  readonly milliseconds: number;
}

async function judgePicture(judge: Judge, folder: Folder, file: string): Promise<Row> {
  const name = basename(file);
  const picture = await readPicture(readFileSync(file), name, { aspect: 1 });
  const shade = (shades: number): Promise<ShadingFound> =>
    shadePicture(picture, shadeOptions({ picture, background: 'keep' }, { ...settingsFor(name, 80), shades }));
  const start = performance.now();
  const shading = await shade(5);
  const milliseconds = performance.now() - start;
  const { width: w, height: h } = shading;
  const eye = judge.blur(labOf(judge, shrinkPixels(picture.pixels, picture.width, picture.height, w, h)), w, h, VIEW);
  const seen = (s: Shading): Float64Array =>
    judge.blur(
      paint(
        s.labels,
        s.fabrics.map((f) => judge.oklab(f.colour)),
      ),
      w,
      h,
      VIEW,
    );
  const plain = judge.plainShades(eye, w, h, shading.fabrics.length);
  const ratio = away(seen(shading), eye) / away(judge.blur(paint(plain.lab, plain.colours), w, h, VIEW), eye);
  let palette: number | undefined;
  if (folder === 'photos') {
    const guess = await guessSubject(picture);
    const mask = (await findSubject(picture, w, h, guess))?.mask;
    const four = await shade(PALETTE);
    palette = away(seen(four), eye, mask) / away(await quantised(judge, picture, w, h), eye, mask);
  }
  return {
    ...{ folder, name, ratio, palette, milliseconds },
    right: shading.kind.kind === KINDS[folder],
    grown: shading.grown.length,
    lost: shading.lost.length,
  };
}

/** The cells in sharp's palette of PALETTE colours, no dither, seen as the regions are. */
async function quantised(judge: Judge, picture: Picture, w: number, h: number): Promise<Float64Array> {
  const small = shrinkPixels(picture.pixels, picture.width, picture.height, w, h);
  const png = await sharp(small, { raw: { width: w, height: h, channels: 3 } })
    .png({ palette: true, colours: PALETTE, dither: 0, effort: 10 })
    .toBuffer();
  const rgb = new Uint8Array(await sharp(png).removeAlpha().toColourspace('srgb').raw().toBuffer());
  const count = new Set(Array.from({ length: w * h }, (_, i) => rgb.subarray(3 * i, 3 * i + 3).join())).size;
  if (count > PALETTE) throw new Error(`sharp gave ${count} colours where ${PALETTE} were asked for`);
  return judge.blur(labOf(judge, rgb), w, h, VIEW);
}

/** Cut-outs with an alpha of their own, each on a blurred photo; the truth is the alpha. */
async function benchSubject(): Promise<void> {
  const side = 640;
  const cutOuts = [
    ['photos', 'elephant-alpha.webp'],
    ['flat', 'raster-tropical-fish-alpha.png'],
    ['flat', 'noto-cat.svg'],
    ['flat', 'twemoji-black-cat.svg'],
    ['flat', 'noto-owl.svg'],
  ] as const;
  const grounds = ['owl-low-contrast.jpg', 'dog-shepherd-dry-grass.jpg', 'cat-white-autumn.jpg'];
  const find = (folder: Folder, name: string): string | undefined =>
    picturesOf(folder).find((f) => basename(f) === name);
  const found: number[] = [];
  for (const [folder, name] of cutOuts) {
    const file = find(folder, name);
    if (!file) continue;
    const cut = await sharp(file, { density: 400 }).resize(400, 400, { fit: 'inside' }).png().toBuffer();
    const { width = 0, height = 0 } = await sharp(cut).metadata();
    const place = { left: Math.round((side - width) / 2), top: Math.round((side - height) / 2) };
    for (const ground of grounds) {
      const behind = find('photos', ground);
      if (!behind) continue;
      const pixels = await sharp(behind)
        .resize(side, side, { fit: 'cover' })
        .blur(8)
        .composite([{ input: cut, ...place }])
        .removeAlpha()
        .raw()
        .toBuffer();
      const source = { sha256: '', pixels: [side, side] as const, crop: [0, 0, side, side] as const, format: 'png' };
      const picture: Picture = { width: side, height: side, pixels: new Uint8Array(pixels), source, notes: [] };
      const alpha = await sharp({ create: { width: side, height: side, channels: 4, background: '#0000' } })
        .composite([{ input: cut, ...place }])
        .png()
        .toBuffer();
      const truth = await sharp(alpha).extractChannel(3).resize(192, 192).raw().toBuffer();
      const mask =
        (await findSubject(picture, 192, 192, await guessSubject(picture)))?.mask ?? new Uint8Array(192 * 192);
      const iou = overlap(
        mask,
        Uint8Array.from(truth, (v) => (v > 127 ? 1 : 0)),
      );
      found.push(iou);
      console.log(`  ${name.padEnd(34)} on ${ground.padEnd(30)} ${iou.toFixed(3)}`);
    }
  }
  console.log(
    `subject: median ${median(found).toFixed(3)}, least ${Math.min(...found).toFixed(3)}, ${found.length} tries`,
  );
}

export async function benchPictures(args: readonly string[]): Promise<void> {
  const judgeFile = join(shared, 'tools', 'measure.mjs');
  if (!existsSync(judgeFile)) throw new Error(`${judgeFile} is not there: pictures cannot be judged without it`);
  const judge = (await import(pathToFileURL(judgeFile).href)) as Judge;
  const every = Number(args[args.indexOf('--every') + 1]) || 1;
  const rows: Row[] = [];
  for (const [folder, file] of FOLDERS.flatMap((f) => picturesOf(f).map((file) => [f, file] as const)).filter(
    (_, i) => i % every === 0,
  )) {
    const row = await judgePicture(judge, folder, file);
    rows.push(row);
    if (args.includes('--verbose'))
      console.log(
        `  ${row.name.padEnd(42)} shades ${row.ratio.toFixed(2)}  palette ${row.palette?.toFixed(2) ?? '-'}  ` +
          `grown ${row.grown} lost ${row.lost}  ${Math.round(row.milliseconds)} ms${row.right ? '' : '  KIND WRONG'}`,
      );
  }
  for (const folder of FOLDERS) {
    const some = rows.filter((r) => r.folder === folder);
    if (!some.length) continue;
    const ratios = some.map((r) => r.ratio);
    const palette = some.flatMap((r) => r.palette ?? []);
    const sum = (f: (r: Row) => number): number => some.reduce((t, r) => t + f(r), 0);
    console.log(
      `${folder.padEnd(7)} ${some.length} pictures, kind right ${some.filter((r) => r.right).length}; shades median ${median(ratios).toFixed(2)} ` +
        `(quartiles ${quantile(ratios, 0.25).toFixed(2)} ${quantile(ratios, 0.75).toFixed(2)}, worst ${Math.max(...ratios).toFixed(2)}); ` +
        (palette.length
          ? `palette on the subject median ${median(palette).toFixed(2)}, ahead on ${palette.filter((v) => v < 1).length} of ${palette.length}; `
          : '') +
        `details grown ${sum((r) => r.grown)}, lost ${sum((r) => r.lost)}; ${Math.round(median(some.map((r) => r.milliseconds)))} ms (median)`,
    );
  }
  await benchSubject();
}
