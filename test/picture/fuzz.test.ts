// Damaged and odd files, seeded: whatever comes, there is one clear sentence or a sound shading, and never a crash.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/colour/cluster.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { openPicture, readPicture } from '../../src/picture/read-picture.ts';
import { UserError } from '../../src/problems/problem.ts';
import { type ShadeOptions, shadePicture } from '../../src/shade/shade-picture.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const options: ShadeOptions = {
  size: [304.8, 304.8],
  smallest: 12.7,
  shades: 5,
  background: 'keep',
  seed: 1,
  grid: 96,
};

/** What happens: a shading that holds together, or a sentence that names the file and says what to do. */
async function fate(bytes: Uint8Array, name: string, shade = true): Promise<'shaded' | 'opened' | 'refused'> {
  try {
    const picture = shade ? await readPicture(bytes, name, { aspect: 1 }) : undefined;
    if (!picture) {
      const opened = await openPicture(bytes, name);
      expect(opened.rgb.length, name).toBe(3 * opened.width * opened.height);
      return 'opened';
    }
    soundShading(await shadePicture(picture, options), name);
    return 'shaded';
  } catch (e) {
    expect(e, name).toBeInstanceOf(UserError);
    const { message } = e as UserError;
    expect(message, name).toMatch(/[.]$/);
    expect(message.includes('\n'), name).toBe(false);
    expect(message, name).not.toMatch(/undefined|NaN|\[object/);
    return 'refused';
  }
}

function soundShading(s: Shading, name: string): void {
  expect(s.labels.length, name).toBe(s.width * s.height);
  expect(s.fabrics.length, name).toBeGreaterThanOrEqual(1);
  expect(s.fabrics.length, name).toBeLessThanOrEqual(5);
  const used = new Set(s.labels);
  expect([...used].every((l) => l < s.fabrics.length) && used.size === s.fabrics.length, name).toBe(true);
  for (const f of s.fabrics) expect(f.colour, name).toMatch(/^#[0-9a-f]{6}$/);
  if (s.weights)
    expect(
      s.weights.every((v) => Number.isFinite(v) && v >= 1),
      name,
    ).toBe(true);
}

describe('damaged files', () => {
  /** small files of each format, for a cut is the same in a large one */
  const made: [string, Uint8Array][] = [];
  beforeAll(async () => {
    const small = sharp(await readFile(join(root, 'photos/sheep-white-on-green.jpg')))
      .resize(96, 96)
      .withMetadata();
    for (const [name, encode] of [
      ['a.jpg', (s: Sharp) => s.jpeg()],
      ['a-progressive.jpg', (s: Sharp) => s.jpeg({ progressive: true })],
      ['a.png', (s: Sharp) => s.png()],
      ['a.webp', (s: Sharp) => s.webp()],
      ['a.tif', (s: Sharp) => s.tiff()],
      ['a.gif', (s: Sharp) => s.gif()],
      ['a.avif', (s: Sharp) => s.avif({ effort: 0 })],
    ] as const)
      made.push([name, new Uint8Array(await encode(small.clone()).toBuffer())]);
    made.push(['fox.svg', new Uint8Array(await readFile(join(root, 'flat/noto-fox.svg')))]);
  });

  it('cut off anywhere, they are refused or shown', async () => {
    const random = seededRandom(11);
    for (const [name, bytes] of made) {
      const lengths = [1, 3, 8, 20, ...[0.3, 0.6, 0.9, 0.99].map((s) => Math.floor(s * bytes.length + 20 * random()))];
      for (const length of lengths) await fate(bytes.slice(0, Math.min(length, bytes.length - 1)), name, false);
      expect(await fate(bytes, name, false)).toBe('opened');
      expect(await fate(bytes.slice(0, 20), name, false)).toBe('refused');
    }
  });

  it('with bytes changed, they are refused or shown', async () => {
    const random = seededRandom(12);
    for (const [name, bytes] of made)
      for (let k = 0; k < 6; k++) {
        const bad = bytes.slice();
        for (let q = 0; q < 1 + 3 * k; q++) bad[Math.floor(random() * bad.length)] = Math.floor(256 * random());
        await fate(bad, name, false);
      }
  });

  it('bytes of chance are refused, whatever they begin with', async () => {
    const random = seededRandom(13);
    const heads = [
      [],
      [0xff, 0xd8, 0xff, 0xe0],
      [0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10],
      [...Buffer.from('RIFF....WEBPVP8 ')],
    ];
    heads.push([...Buffer.from('GIF89a')], [...Buffer.from('<svg ')], [...Buffer.from('II*\0')], [0x1f, 0x8b, 8]);
    heads.push([0, 0, 0, 24, ...Buffer.from('ftypavif')]);
    for (const head of heads)
      for (const size of [0, 40, 3000]) {
        const bytes = Uint8Array.from([...head, ...Array.from({ length: size }, () => Math.floor(256 * random()))]);
        expect(await fate(bytes, 'chance', false)).toBe('refused');
      }
  });

  // a decoder in a process of its own: dear, so that one cut says it
  it('a phone picture that is cut off is refused', async () => {
    const bytes = new Uint8Array(await readFile(join(root, 'photos/fmt-heic-duck.heic')));
    expect(await fate(bytes.slice(0, bytes.length >> 1), 'duck.heic', false)).toBe('refused');
  });
});

describe('odd pictures', () => {
  const random = seededRandom(14);
  const raw = (w: number, h: number, at: (x: number, y: number) => readonly number[]): Promise<Uint8Array> => {
    const channels = at(0, 0).length as 3 | 4;
    const data = Buffer.alloc(channels * w * h);
    for (let y = 0; y < h; y++) for (let x = 0; x < w; x++) data.set(at(x, y), channels * (y * w + x));
    return sharp(data, { raw: { width: w, height: h, channels } })
      .png({ compressionLevel: 1 })
      .toBuffer()
      .then((b) => new Uint8Array(b));
  };
  const noise = (): number[] => [0, 1, 2].map(() => Math.floor(256 * random()));
  const shown: readonly (readonly [string, 'shaded' | 'refused', () => Promise<Uint8Array>])[] = [
    ['one pixel', 'refused', () => raw(1, 1, () => [9, 9, 9])],
    ['1 x 400', 'refused', () => raw(1, 400, (_, y) => [y & 255, 0, 0])],
    ['400 x 1', 'refused', () => raw(400, 1, (x) => [x & 255, 0, 0])],
    ['31 x 31', 'refused', () => raw(31, 31, (x) => [8 * x, 0, 0])],
    [
      '40 x 40',
      'shaded',
      () => raw(40, 40, (x, y) => (Math.hypot(x - 20, y - 20) < 18 ? [200, 30, 30] : [240, 240, 240])),
    ],
    ['2000 x 40', 'shaded', () => raw(2000, 40, (x, y) => [(x >> 3) & 255, 6 * y, 90])],
    ['40 x 2000', 'shaded', () => raw(40, 2000, (x, y) => [6 * x, (y >> 3) & 255, 90])],
    ['one colour', 'refused', () => raw(64, 64, () => [120, 130, 140])],
    ['nearly one colour', 'refused', () => raw(64, 64, (x) => [120 + (x & 1), 130, 140])],
    ['two colours', 'shaded', () => raw(64, 64, (x) => (x < 32 ? [0, 0, 0] : [255, 255, 255]))],
    ['one dot', 'shaded', () => raw(128, 128, (x, y) => (x === 64 && y === 64 ? [0, 0, 0] : [255, 255, 255]))],
    ['lines of one pixel', 'shaded', () => raw(200, 200, (x) => (x & 1 ? [0, 0, 0] : [255, 255, 255]))],
    ['noise', 'shaded', () => raw(200, 200, noise)],
    ['all clear', 'refused', () => raw(64, 64, () => [200, 10, 10, 0])],
    [
      'white on clear',
      'shaded',
      () => raw(64, 64, (x, y) => [255, 255, 255, Math.hypot(x - 32, y - 32) < 20 ? 255 : 0]),
    ],
    ['clear by degrees', 'shaded', () => raw(64, 64, (x) => [40, 40, 40, 4 * x])],
    ['black', 'refused', () => raw(64, 64, () => [0, 0, 0])],
    ['a ramp', 'shaded', () => raw(256, 256, (x) => [x, x, x])],
  ];
  it.each(shown)('%s: %s', async (name, what, make) => {
    expect(await fate(await make(), name)).toBe(what);
  });

  it('every kind that is asked for shades what is none of it', async () => {
    const pictures: Picture[] = [];
    for (const [, what, make] of shown.filter((s) => s[1] === 'shaded').slice(3, 8))
      if (what === 'shaded') pictures.push(await readPicture(await make(), 'odd', { aspect: 1, maxSide: 128 }));
    for (const picture of pictures)
      for (const more of [
        { kind: 'drawing', lines: 'dissolve' },
        { kind: 'drawing', lines: 'keep' },
        { kind: 'flat' },
      ] as const)
        soundShading(await shadePicture(picture, { ...options, ...more }), JSON.stringify(more));
  });
});
