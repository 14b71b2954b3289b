// What the figure is worth: blocks of the labelled pets, made in three ways, judged by measure-figure.mjs, which shares no code with the
// project. npx tsx scripts/bench/figure.ts [WORD …] [--pieces 80] [--ways head,auto,given] [--out FOLDER] [--smallest 0.375] [--shade-only] [--heads]
// head   the head fills the block, eyes and nose given from the labels      auto   all found by itself      given   as auto, eyes and nose given
// --heads only says how much the head's box overlaps the label's, eyes and nose given (area of both over area of either).
// Prints what reads and lays the blocks on one sheet: FOLDER/figure.png.
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import sharp from 'sharp';
import type { Figure } from '../../src/data.ts';
import { onBlock } from '../../src/figure/draw-face.ts';
import { previewOf } from '../../src/packet/preview.ts';
import { readPicture } from '../../src/pipeline/figure.ts';
import { fitPieces } from '../../src/pipeline/fit.ts';
import { numberBlock } from '../../src/pipeline/number.ts';
import { shade } from '../../src/pipeline/shade.ts';
import type { Spot } from '../../src/settings/places.ts';
import { completeSettings, type Settings } from '../../src/settings/settings.ts';
import { inches } from '../../src/units.ts';

interface Label {
  readonly eyes: readonly { x: number; y: number; w: number; h: number }[];
  readonly nose: { x: number; y: number; w: number; h: number } | null;
  readonly head: readonly number[] | null;
  readonly view: string;
  readonly usable: boolean;
}

const shared = join(import.meta.dirname, '..', '..', '..', 'shared');
const option = (name: string, or: string): string => {
  const at = process.argv.indexOf(name);
  return at < 0 ? or : process.argv[at + 1]!;
};
const words = process.argv.slice(2).filter((a, i, all) => !a.startsWith('--') && !all[i - 1]?.startsWith('--'));
const pieces = Number(option('--pieces', '80'));
const ways = option('--ways', 'head').split(',');
const out = option('--out', '/tmp/figure-bench');
const smallest = option('--smallest', '');
const only = process.argv.includes('--shade-only');
mkdirSync(out, { recursive: true });

const labels = JSON.parse(readFileSync(join(shared, 'pictures', 'labels.json'), 'utf8')) as Record<string, Label>;
const judge = (await import(pathToFileURL(join(shared, 'tools', 'measure-figure.mjs')).href)) as {
  measureFigure(
    label: unknown,
    block: unknown,
  ): {
    face: boolean;
    eyes: { reads: boolean; why?: string }[];
    nose?: { reads: boolean; why?: string };
    pair?: boolean;
    pieces: number;
    sections: number;
  };
  summarise(all: unknown[]): unknown;
};

const fileOf = (name: string): string =>
  ['fixtures', 'measure-only'].map((d) => join(shared, 'pictures', d, 'photos', name)).find(existsSync)!;

interface Made {
  readonly figure?: Figure;
  readonly tile: Buffer;
  readonly grid: Buffer;
  readonly picture: Buffer;
  readonly judged?: ReturnType<typeof judge.measureFigure>;
  readonly line: string;
}

const TILE = 340;

/** The very way of the program: settings as `seamwright block` has them, but what is given. */
async function make(name: string, label: Label, given: boolean, show: Settings['show']): Promise<Made> {
  const hand = given && label.eyes.length > 0;
  const spot = ({ x, y, w, h }: Label['eyes'][number]): Spot => ({ x, y, w, h });
  const settings = completeSettings({
    ...{ name: 'x', pieces, show },
    ...(smallest && { smallest: inches(Number(smallest)) }),
    ...(hand && { eyes: label.eyes.slice(0, 2).map(spot) }),
    ...(hand && label.nose && { nose: [spot(label.nose)] }),
  });
  const read = await readPicture(new Uint8Array(readFileSync(fileOf(name))), name, settings);
  const { picture, figure } = read;
  const shading = await shade(read, settings);
  const { crop, turn = 0, pixels } = picture.source;
  const fitted = only ? undefined : fitPieces(shading, settings).at(-1)!;
  const block = fitted && numberBlock(fitted, shading, settings, picture).block;
  // where the crop is turned the labels are turned with it, and the judge sees a picture that lies straight
  const turnedLabel = {
    ...label,
    eyes: label.eyes.map((e) => turnPart(e, crop, turn, pixels)),
    nose: label.nose && turnPart(label.nose, crop, turn, pixels),
  };
  const judged = block && judge.measureFigure(turnedLabel, JSON.parse(JSON.stringify(block)));
  const grid = Buffer.alloc(3 * shading.labels.length);
  shading.labels.forEach((l, i) => {
    const n = Number.parseInt(shading.fabrics[l]!.colour.slice(1), 16);
    grid.set([n >> 16, (n >> 8) & 255, n & 255], 3 * i);
  });
  const size = (b: Buffer, raw?: { width: number; height: number; channels: 3 }): Promise<Buffer> =>
    sharp(b, raw && { raw })
      .resize(TILE, TILE, { fit: 'fill', kernel: raw && raw.width < 300 ? 'nearest' : 'lanczos3' })
      .png()
      .toBuffer();
  const gridPng = await size(grid, { width: shading.width, height: shading.height, channels: 3 });
  const word = judged
    ? `${judged.eyes.map((e) => (e.reads ? 'eye' : `(${e.why})`)).join(' ')} ${judged.nose ? (judged.nose.reads ? 'nose' : `(${judged.nose.why})`) : '-'} ${judged.pair === false ? 'unlike' : ''} ${judged.pieces}p ${judged.sections}s`
    : '';
  return {
    ...(figure && { figure }),
    picture: await size(Buffer.from(picture.pixels), { width: picture.width, height: picture.height, channels: 3 }),
    grid: gridPng,
    tile: block ? await size(Buffer.from(previewOf(block))) : gridPng,
    ...(judged && { judged }),
    line: `${figure?.show ?? 'no figure'}${turn ? ` turned ${turn.toFixed(0)}` : ''}${shading.axis === undefined ? '' : ' mirrored'} ${word}${fitted ? ` mis ${fitted.misplaced.toFixed(3)}` : ''} | ${shading.notes.join(' ')}`,
  };
}

function turnPart<P extends { x: number; y: number; w: number; h: number }>(
  p: P,
  crop: readonly [number, number, number, number],
  turn: number,
  pixels: readonly [number, number],
): P {
  if (!turn) return p;
  const [u, v] = onBlock({ crop, turn, pixels }, p.x * pixels[0], p.y * pixels[1]);
  return { ...p, x: (crop[0] + u * crop[2]) / pixels[0], y: (crop[1] + v * crop[3]) / pixels[1] };
}

const names = Object.keys(labels).filter(
  (n) => labels[n]!.usable && (words.length ? words.some((v) => n.includes(v)) : !n.startsWith('fmt-')),
);

/** Area that two boxes share over the area of both together. */
function overlap(a: readonly number[], b: readonly number[]): number {
  const side = (i: number): number =>
    Math.max(0, Math.min(a[i]! + a[i + 2]!, b[i]! + b[i + 2]!) - Math.max(a[i]!, b[i]!));
  const both = side(0) * side(1);
  return both / (a[2]! * a[3]! + b[2]! * b[3]! - both);
}

if (process.argv.includes('--heads')) {
  const overlaps: number[] = [];
  for (const name of names) {
    const label = labels[name]!;
    const { eyes, nose } = label;
    const hand = completeSettings({ eyes: eyes.length ? eyes.slice(0, 2) : 'auto', nose: nose ? [nose] : 'auto' });
    const { figure } = await readPicture(new Uint8Array(readFileSync(fileOf(name))), name, hand);
    const own = figure?.head && label.head ? overlap(figure.head.box, label.head) : 0;
    overlaps.push(own);
    console.log(
      `${own.toFixed(2)} ${name} (${label.view}) ${figure?.head?.box.map((v) => v.toFixed(2))} for ${label.head}`,
    );
  }
  console.log(
    `the head's box overlaps the label's by .7 on ${overlaps.filter((v) => v >= 0.7).length} of ${overlaps.length}, by .6 on ${overlaps.filter((v) => v >= 0.6).length}`,
  );
  process.exit(0);
}
const rows: Buffer[] = [];
const all: Record<string, unknown[]> = {};
for (const name of names) {
  const tiles: Buffer[] = [];
  for (const way of ways) {
    const made = await make(name, labels[name]!, way !== 'auto', way === 'head' ? 'head' : 'auto');
    console.log(`${way} ${name}: ${made.line}`);
    if (made.judged) all[way] = [...(all[way] ?? []), made.judged];
    tiles.push(made.picture, made.grid, ...(only ? [] : [made.tile]));
  }
  rows.push(
    await sharp({ create: { width: TILE * tiles.length, height: TILE + 16, channels: 3, background: '#222' } })
      .composite([
        ...tiles.map((input, i) => ({ input, left: i * TILE, top: 0 })),
        {
          input: Buffer.from(
            `<svg width="${TILE * tiles.length}" height="16"><text x="2" y="13" font-size="13" font-family="DejaVu Sans" fill="#fff">${name}</text></svg>`,
          ),
          left: 0,
          top: TILE,
        },
      ])
      .png()
      .toBuffer(),
  );
}
for (const way of ways) if (all[way]) console.log(way, JSON.stringify(judge.summarise(all[way])));
const across = ways.length > 1 || names.length < 3 ? 1 : only ? 3 : 2;
const wide = TILE * (only ? 2 : 3) * ways.length;
await sharp({
  create: {
    width: wide * across,
    height: Math.ceil(rows.length / across) * (TILE + 16),
    channels: 3,
    background: '#222',
  },
})
  .composite(rows.map((input, i) => ({ input, left: (i % across) * wide, top: Math.floor(i / across) * (TILE + 16) })))
  .png()
  .toFile(join(out, 'figure.png'));
