import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Picture } from '../../src/data.ts';
import { type Corners, findSheet } from '../../src/picture/find-sheet.ts';
import { openPicture, readPicture, showPart, squareSheet } from '../../src/picture/read-picture.ts';
import { squareUp } from '../../src/picture/square-up.ts';

import { findPart } from '../../src/pipeline/figure.ts';
import { squareUp as asSheet } from '../../src/pipeline/read.ts';
import { completeSettings } from '../../src/settings/settings.ts';
import { inkOf } from '../../src/shade/find-ink.ts';
import { findKind } from '../../src/shade/find-kind.ts';
import { greatest } from '../extremes.ts';
import { DARK, H, photograph, type Shot, SKEWED, TURNED, W, WOOD } from './photograph.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const open = (name: string) => openPicture(readFileSync(join(root, name)), name);

describe('a photo of a sheet', () => {
  const shots: readonly (readonly [name: string, file: string, shot: Shot])[] = [
    ['a pencil drawing', 'lines/oc-rabbit.png', { corners: SKEWED, border: 0.08, glare: true, table: WOOD }],
    [
      'a drawing on a dark table',
      'lines/notomono-fox.png',
      { corners: TURNED, border: 0.1, glare: false, table: DARK },
    ],
    [
      'a print with a border',
      'photos/duck-white-on-black.jpg',
      { corners: SKEWED, border: 0.05, glare: false, table: WOOD },
    ],
    ['a print', 'photos/sheep-white-on-green.jpg', { corners: TURNED, border: 0.04, glare: false, table: DARK }],
    [
      'flat art on a screen',
      'flat/raster-tropical-fish-alpha.png',
      { corners: SKEWED, border: 0, glare: false, table: DARK },
    ],
  ];
  it.each(shots)('%s: finds its corners within 1.5 %% and shows what was on it', async (_, file, shot) => {
    const [w, h] = [W, H];
    const picture = await readPicture(readFileSync(join(root, file)), file, { aspect: 1, maxSide: 400 });
    const rgb = photograph(picture, shot, w, h);
    const found = findSheet(rgb, w, h);
    expect(found).toBeDefined();
    for (let i = 0; i < 8; i += 2)
      expect(
        Math.hypot(found![i]! / w - shot.corners[i]!, found![i + 1]! / h - shot.corners[i + 1]!),
        `corner ${i / 2}`,
      ).toBeLessThan(0.015);
    const opened = await open(file);
    const squared = squareSheet({ ...opened, format: 'jpeg', width: w, height: h, rgb, pixels: [w, h] });
    expect(squared.sheet).toHaveLength(8);
    expect(squared.notes.join()).toMatch(/squared up/);
    const shown = await showPart(squared, { aspect: 1, maxSide: 400 });
    // light that falls off turns flat art on a screen into what can only be a photo
    if (!file.startsWith('flat')) expect(findKind(shown).kind).toBe(findKind(picture).kind);
    // the same thing in the same place: what is dark on it, blurred, goes together
    const { border } = squareUp(rgb, w, h, found!);
    expect(border).toBe(file.startsWith('photos'));
    const sheet = { width: squared.width, height: squared.height, pixels: squared.rgb };
    expect(likeness(sheet, border ? picture : framed(picture, shot.border))).toBeGreaterThan(0.85);
  });

  it('cuts off the border of a print, not the paper of a drawing', async () => {
    const print = await readPicture(readFileSync(join(root, 'photos/duck-white-on-black.jpg')), 'duck', {
      aspect: 1,
      maxSide: 400,
    });
    const shot = { corners: SKEWED, border: 0.05, glare: false, table: WOOD };
    const at = SKEWED.map((v, i) => v * (i % 2 ? H : W)) as unknown as Corners;
    const cut = squareUp(photograph(print, shot), W, H, at);
    expect(cut.border).toBe(true);
    const corner = [0, 1, 2].map((c) => cut.rgb[3 * (3 * cut.width + 3) + c]!);
    expect(greatest([...corner])).toBeLessThan(100);
    const drawing = await readPicture(readFileSync(join(root, 'lines/oc-rabbit.png')), 'rabbit', {
      aspect: 1,
      maxSide: 400,
    });
    expect(squareUp(photograph(drawing, shot), W, H, at).border).toBe(false);
  });

  it('says where glare hides a part', async () => {
    const picture = await readPicture(readFileSync(join(root, 'photos/duck-white-on-black.jpg')), 'duck', {
      aspect: 1,
      maxSide: 400,
    });
    const shot = { corners: SKEWED, border: 0.05, table: WOOD };
    const at = SKEWED.map((v, i) => v * (i % 2 ? H : W)) as unknown as Corners;
    expect(squareUp(photograph(picture, { ...shot, glare: true }), W, H, at).glare).toBeGreaterThan(0.004);
    expect(squareUp(photograph(picture, { ...shot, glare: false }), W, H, at).glare).toBeLessThan(0.004);
  });

  it('is left as it is where that is asked, and taken at the corners that are given', async () => {
    const file = 'photos/sheep-white-on-green.jpg';
    const bytes = new Uint8Array(readFileSync(join(root, file)));
    const base = completeSettings({ background: 'keep', show: 'picture' });
    const readPart = (whole: Parameters<typeof findPart>[0], s: typeof base) => findPart(asSheet(whole, s), s);
    const opened = await openPicture(bytes, file);
    const plain = await readPart(opened, base);
    expect(plain.picture.source.sheet).toBeUndefined();
    const corners: Corners = [0.1, 0.1, 0.9, 0.12, 0.95, 0.9, 0.05, 0.88];
    const given = await readPart(opened, { ...base, sheet: corners });
    expect(given.picture.source.sheet).toEqual([...corners]);
    expect(given.picture.source.pixels).not.toEqual(plain.picture.source.pixels);
    const no = await readPart(opened, { ...base, sheet: 'no' });
    expect(Buffer.compare(no.picture.pixels, plain.picture.pixels)).toBe(0);
  });
});

describe('pictures that show no sheet', () => {
  it.each([
    'photos/cat-white-tabby-on-pink.webp',
    'photos/fmt-animated-muybridge-cat.gif',
    'photos/owl-low-contrast.jpg',
    'photos/sheep-white-on-green.jpg',
    'flat/raster-horse-jpeg-artefacts.jpg',
    'flat/fluent-emoji-flat-house.svg',
    'lines/simscan-duck-ink-shadow.jpg',
    'lines/simscan-rabbit-pencil-uneven.jpg',
  ])('%s stays as it is', async (file) => {
    const { rgb, width, height } = await open(file);
    expect(findSheet(rgb, width, height)).toBeUndefined();
  });
});

type Pixels = Pick<Picture, 'width' | 'height' | 'pixels'>;

/** A picture with white paper round it. */
function framed({ width, height, pixels }: Pixels, border: number): Pixels {
  const b = Math.round((border * width) / (1 - 2 * border));
  const [w, h] = [width + 2 * b, height + 2 * b];
  const out = new Uint8Array(3 * w * h).fill(246);
  for (let y = 0; y < height; y++) out.set(pixels.subarray(3 * y * width, 3 * (y + 1) * width), 3 * ((y + b) * w + b));
  return { width: w, height: h, pixels: out };
}

/** Correlation of two pictures' darkness against the paper around it, on a grid of 24 x 24. */
function likeness(p: Pixels, q: Pixels): number {
  const grid = (picture: Pixels): number[] => {
    const { width, height } = picture;
    const dark = inkOf(picture);
    const sum = new Float64Array(24 * 24);
    const n = new Float64Array(24 * 24);
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const g = Math.floor((24 * y) / height) * 24 + Math.floor((24 * x) / width);
        sum[g]! += dark[y * width + x]!;
        n[g]!++;
      }
    return [...sum].map((v, i) => v / n[i]!);
  };
  const [a, b] = [grid(p), grid(q)];
  const mean = (v: number[]): number => v.reduce((t, x) => t + x, 0) / v.length;
  const [ma, mb] = [mean(a), mean(b)];
  const dot = (u: number[], mu: number, v: number[], mv: number): number =>
    u.reduce((t, x, i) => t + (x - mu) * (v[i]! - mv), 0);
  return dot(a, ma, b, mb) / Math.sqrt(dot(a, ma, a, ma) * dot(b, mb, b, mb));
}
