// Makes the pictures in the README: each picture as the block shows it, and beside it the finished block.
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import sharp, { type OverlayOptions } from 'sharp';
import { openPicture, showPart } from '../src/picture/read-picture.ts';
import { type BlockOptions, type Made, makeBlockOf } from '../test/cases/case.ts';

const TILE = 280;
const GAP = 16;
const fixtures = join(import.meta.dirname, '..', 'fixtures');

/** file, and the options of the command that differ from the defaults: what fails is shown too */
/** Eyes and nose placed by hand, for the dog's head is a sixth of its picture: `x,y,w,h` as shares of it. */
const shepherd: BlockOptions = {
  eyes: ['0.792,0.2075,0.017,0.014', '0.8455,0.206,0.013,0.012'],
  nose: '0.824,0.281,0.039,0.036',
};
const SHOWN: readonly (readonly [file: string, options: BlockOptions])[] = [
  ['photos/dog-shepherd-dry-grass.jpg', shepherd],
  ['photos/cat-chelsea-face.jpg', {}],
  ['photos/sheep-white-on-green.jpg', {}],
  ['photos/duck-white-on-black.jpg', {}],
  ['photos/cat-white-tabby-on-pink.webp', {}],
  ['photos/owl-low-contrast.jpg', {}],
  ['flat/noto-fox.svg', {}],
  ['lines/notomono-horse-face.png', {}],
  ['flat/noto-owl.svg', {}],
  ['lines/oc-rabbit.png', {}],
  ['flat/noto-hedgehog.svg', {}],
  ['flat/twemoji-black-cat.svg', {}],
];

const tiles: OverlayOptions[] = [];
const perRow = 3;
const pair = 2 * TILE + GAP;
for (const [n, [file, options]] of SHOWN.entries()) {
  const path = join(fixtures, file);
  const made = await makeBlockOf(path, options, basename(file).replace(/\.\w+$/, ''));
  const before = await partOf(path, made.crop!);
  const after = await sharp(made.preview).resize(TILE, TILE, { fit: 'inside' }).png().toBuffer();
  const left = (n % perRow) * (pair + 2 * GAP);
  const top = Math.floor(n / perRow) * (TILE + 2 * GAP);
  tiles.push({ input: before, left, top }, { input: after, left: left + TILE + GAP, top });
  console.error(`${file}: ${Math.round(made.misplaced * 1000) / 10} %`);
}
const rows = Math.ceil(SHOWN.length / perRow);
await sharp({
  create: {
    width: perRow * pair + (perRow - 1) * 2 * GAP,
    height: rows * TILE + (rows - 1) * 2 * GAP,
    channels: 3,
    background: '#ffffff',
  },
})
  .composite(tiles)
  .png({ palette: true, quality: 90 })
  .toFile(join(fixtures, 'gallery', 'before-after.png'));

/** A part of a picture, white where it goes beyond. */
async function partOf(path: string, crop: NonNullable<Made['crop']>): Promise<Buffer> {
  const opened = await openPicture(readFileSync(path), path);
  const whole = await showPart(opened, { aspect: opened.pixels[0] / opened.pixels[1], crop: [0, 0, 1, 1] });
  const scale = whole.width / opened.pixels[0];
  const [x, y, w, h] = crop.map((v) => Math.round(v * scale)) as [number, number, number, number];
  const raw = { width: whole.width, height: whole.height, channels: 3 } as const;
  const beyond = Math.max(0, -x, -y, x + w - whole.width, y + h - whole.height);
  const wider = await sharp(whole.pixels, { raw })
    .extend({ top: beyond, left: beyond, right: beyond, bottom: beyond, background: '#ffffff' })
    .png()
    .toBuffer();
  return sharp(wider)
    .extract({ left: x + beyond, top: y + beyond, width: w, height: h })
    .resize(TILE, TILE, { fit: 'fill' })
    .png()
    .toBuffer();
}
