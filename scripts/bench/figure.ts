// What the figure is worth: blocks of the labelled pets, made in three ways, judged by measure-figure.mjs, which shares no code with the
// project. npx tsx scripts/bench/figure.ts [WORD …] [--pieces 80] [--ways head,auto,given] [--out FOLDER] [--keep FOLDER] [--shade-only] [--heads]
// head   the head fills the block, eyes and nose given from the labels      auto   all found by itself      given   as auto, eyes and nose given
// --heads only says how much the head's box overlaps the label's, eyes and nose given (area of both over area of either).
// Prints what reads and lays the blocks on one sheet: FOLDER/figure.png.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import sharp from 'sharp';
import type { Figure, Show } from '../../src/data.ts';
import { drawFace, onBlock } from '../../src/figure/draw-face.ts';
import { findFigure, type GivenPart } from '../../src/figure/find-figure.ts';
import type { Disc } from '../../src/figure/pairs.ts';
import { previewOf } from '../../src/packet/preview.ts';
import { type OpenedPicture, openPicture, showPart } from '../../src/picture/read-picture.ts';
import { type BlockSettings, fitBlock, guessOpened } from '../../src/pipeline.ts';
import { findFaces } from '../../src/shade/find-faces.ts';
import { boxOfGuess, type Guess } from '../../src/shade/find-subject.ts';
import { seePicture } from '../../src/shade/see-picture.ts';
import { type FigureShading, shadeFigure } from '../../src/shade/shade-figure.ts';
import { turnGuess } from '../../src/shade/turn-guess.ts';
import { inches } from '../../src/units.ts';
import { settingsFor } from './settings.ts';

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
const keep = option('--keep', '');
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

async function askBefore(opened: OpenedPicture): Promise<{ guess?: Guess; faces: Disc[] }> {
  const file = keep && join(keep, `${opened.name}.json`);
  if (file && existsSync(file)) {
    const { guess, faces } = JSON.parse(readFileSync(file, 'utf8')) as {
      guess?: Guess & { likely: number[] };
      faces: Disc[];
    };
    return { faces, ...(guess && { guess: { ...guess, likely: Float32Array.from(guess.likely) } }) };
  }
  const guess = await guessOpened(opened);
  const whole = await showPart(opened, { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] });
  const faces = await findFaces(whole);
  if (file)
    writeFileSync(
      file,
      JSON.stringify({ faces, ...(guess && { guess: { ...guess, likely: Array.from(guess.likely) } }) }),
    );
  return { faces, ...(guess && { guess }) };
}

interface Made {
  readonly shading: FigureShading;
  readonly figure: Figure;
  readonly tile: Buffer;
  readonly grid: Buffer;
  readonly picture: Buffer;
  readonly judged?: ReturnType<typeof judge.measureFigure>;
  readonly line: string;
}

const TILE = 340;

async function make(opened: OpenedPicture, label: Label, given: boolean, show: Show | 'auto'): Promise<Made> {
  const settings: BlockSettings = {
    ...settingsFor('x', pieces),
    background: 'plain',
    smallest: inches(Number(option('--smallest', '0.375'))),
    mostPieces: 10,
  };
  const { guess, faces } = await askBefore(opened);
  const hand = given && label.eyes.length > 0;
  const part = ({ x, y, w, h }: Required<GivenPart>): GivenPart => ({ x, y, w, h });
  const figure = findFigure(opened, guess, {
    aspect: 1,
    show,
    faces,
    ...(hand && { eyes: label.eyes.map(part) }),
    ...(hand && label.nose && { nose: part(label.nose) }),
  });
  const picture = figure.crop
    ? await showPart(opened, { aspect: 1, exact: figure.crop })
    : await showPart(opened, {
        aspect: 1,
        beyond: true,
        ...(guess && figure.show !== 'picture' && { around: boxOfGuess(guess) }),
      });
  const { crop, turn = 0, pixels } = picture.source;
  const turned = guess && (figure.crop ? turnGuess(guess, crop, turn, pixels) : guess);
  const drawn = drawFace(figure, { crop, turn, pixels }, settings.size, settings.smallest);
  const shadeOptions = {
    size: settings.size,
    smallest: settings.smallest,
    shades: settings.shades,
    background: 'plain' as const,
    seed: 1,
    ...(turned && { guess: turned }),
  };
  const seen = await seePicture(picture, shadeOptions);
  let head: [number, number, number, number] | undefined;
  if (figure.head) {
    const [x, y, w, h] = figure.head.box;
    const [u, v] = onBlock({ crop, turn, pixels }, (x + w / 2) * pixels[0], (y + h / 2) * pixels[1]);
    head = [
      u - (w * pixels[0]) / crop[2] / 2,
      v - (h * pixels[1]) / crop[3] / 2,
      (w * pixels[0]) / crop[2],
      (h * pixels[1]) / crop[3],
    ];
  }
  const shading = await shadeFigure(picture, { ...shadeOptions, pieces }, seen, {
    shapes: drawn.shapes,
    ...(drawn.axis !== undefined && { axis: drawn.axis }),
    ...(head && { head }),
  });
  const fit = only ? undefined : fitBlock(shading, settings, undefined, picture);
  // where the crop is turned the labels are turned with it, and the judge sees a picture that lies straight
  const turnedLabel = {
    ...label,
    eyes: label.eyes.map((e) => turnPart(e, crop, turn, pixels)),
    nose: label.nose && turnPart(label.nose, crop, turn, pixels),
  };
  const judged = fit && judge.measureFigure(turnedLabel, JSON.parse(JSON.stringify(fit.block)));
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
    ...{ shading, figure },
    picture: await size(Buffer.from(picture.pixels), { width: picture.width, height: picture.height, channels: 3 }),
    grid: gridPng,
    tile: fit ? await size(Buffer.from(previewOf(fit.block))) : gridPng,
    ...(judged && { judged }),
    line: `${figure.show}${turn ? ` turned ${turn.toFixed(0)}` : ''}${shading.face.mirrored ? ' mirrored' : ''} ${word} +${shading.face.scraps}${shading.face.faint.length ? ` faint ${shading.face.faint}` : ''} shows ${(shading.shows ?? 1).toFixed(2)}${fit ? ` mis ${fit.misplaced.toFixed(3)}` : ''}${drawn.missing.length ? ` missing ${drawn.missing}` : ''}`,
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
    const opened = await openPicture(readFileSync(fileOf(name)), name);
    const { guess, faces } = await askBefore(opened);
    const figure = findFigure(opened, guess, {
      aspect: 1,
      faces,
      eyes: label.eyes,
      ...(label.nose && { nose: label.nose }),
    });
    const own = figure.head && label.head ? overlap(figure.head.box, label.head) : 0;
    overlaps.push(own);
    console.log(
      `${own.toFixed(2)} ${name} (${label.view}) ${figure.head?.box.map((v) => v.toFixed(2))} for ${label.head}`,
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
  const opened = await openPicture(readFileSync(fileOf(name)), name);
  const tiles: Buffer[] = [];
  for (const way of ways) {
    const made = await make(opened, labels[name]!, way !== 'auto', way === 'head' ? 'head' : 'auto');
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
