import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/colour/cluster.ts';
import type { Picture } from '../../src/data.ts';
import { LEVEL_DEFAULTS } from '../../src/levels.ts';
import { type Corners, findSheet } from '../../src/picture/find-sheet.ts';
import { openPicture, readPicture, showPart, squareSheet } from '../../src/picture/read-picture.ts';
import { squareTo, squareUp } from '../../src/picture/square-up.ts';
import { type BlockSettings, readOpened } from '../../src/pipeline.ts';
import { inkOf } from '../../src/shade/find-ink.ts';
import { findKind } from '../../src/shade/find-kind.ts';
import { inches } from '../../src/units.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const open = (name: string) => openPicture(readFileSync(join(root, name)), name);

/** px of the photos that are taken here */
const [W, H] = [600, 480];

interface Shot {
  /** as shares of the photo */
  readonly corners: Corners;
  /** white paper round the picture, as a share of the sheet's side */
  readonly border: number;
  readonly glare: boolean;
  readonly table: readonly [number, number, number];
}

/** The sheet on a grained table under light that falls off to the right, with noise and perhaps a lamp's glare. */
function photograph(picture: Picture, shot: Shot, w = W, h = H): Uint8Array {
  const c = shot.corners.map((v, i) => v * (i % 2 ? h : w)) as unknown as Corners;
  const back = inverse(c);
  const random = seededRandom(5);
  const out = new Uint8Array(3 * w * h);
  const grain = Array.from({ length: h }, () => random() * 24 - 12);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const sum = [0, 0, 0];
      // four samples a pixel: a lens has no steps
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ] as const) {
        const [u, v] = back(x + dx, y + dy);
        const inside = u >= 0 && v >= 0 && u < 1 && v < 1;
        const b = shot.border;
        const [s, t] = [(u - b) / (1 - 2 * b), (v - b) / (1 - 2 * b)];
        const shown = s >= 0 && t >= 0 && s < 1 && t < 1;
        const i = 3 * (Math.floor(t * picture.height) * picture.width + Math.floor(s * picture.width));
        for (let q = 0; q < 3; q++)
          sum[q]! += inside
            ? shown
              ? picture.pixels[i + q]!
              : 246
            : shot.table[q]! + grain[y]! * (1 + 0.3 * Math.sin(x / 37));
      }
      const light = 0.96 - 0.3 * (x / w);
      const lamp = shot.glare ? 190 * Math.exp(-(((x - 0.45 * w) ** 2 + (y - 0.4 * h) ** 2) / (0.09 * w) ** 2)) : 0;
      for (let q = 0; q < 3; q++)
        out[3 * (y * w + x) + q] = Math.max(0, Math.min(255, (sum[q]! / 4) * light + lamp + random() * 8 - 4));
    }
  return out;
}

/** From the photo to the unit square. */
function inverse(c: Corners): (x: number, y: number) => [number, number] {
  const to = squareTo(c);
  // the inverse of a projective map is projective: known at four points, it is known
  const [a, b, d, e] = [to(0, 0), to(1, 0), to(1, 1), to(0, 1)];
  const rows: number[][] = [];
  for (const [[x, y], [u, v]] of [
    [a, [0, 0]],
    [b, [1, 0]],
    [d, [1, 1]],
    [e, [0, 1]],
  ] as const) {
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u]);
    rows.push([0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  for (let p = 0; p < 8; p++) {
    const pivot = rows.slice(p).reduce((m, r, i) => (Math.abs(r[p]!) > Math.abs(rows[m]![p]!) ? p + i : m), p);
    [rows[p], rows[pivot]] = [rows[pivot]!, rows[p]!];
    for (let r = 0; r < 8; r++) {
      if (r === p) continue;
      const f = rows[r]![p]! / rows[p]![p]!;
      for (let q = p; q < 9; q++) rows[r]![q]! -= f * rows[p]![q]!;
    }
  }
  const k = rows.map((r, i) => r[8]! / r[i]!);
  return (x, y) => {
    const w = k[6]! * x + k[7]! * y + 1;
    return [(k[0]! * x + k[1]! * y + k[2]!) / w, (k[3]! * x + k[4]! * y + k[5]!) / w];
  };
}

const WOOD = [126, 92, 60] as const;
const DARK = [52, 54, 60] as const;
const SKEWED: Corners = [0.16, 0.1, 0.83, 0.15, 0.92, 0.93, 0.07, 0.86];
const TURNED: Corners = [0.22, 0.05, 0.9, 0.2, 0.74, 0.95, 0.08, 0.78];

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
    expect(Math.max(...corner)).toBeLessThan(100);
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
    const level = LEVEL_DEFAULTS.intermediate;
    const base: BlockSettings = {
      ...{ ...level, name: 'sheep', size: [level.size, level.size], level: 'intermediate', background: 'keep' },
      ...{ turn: false, seed: 1, effort: 'quick', paper: 'letter', margin: inches(3 / 8) },
      ...{ allowance: inches(1 / 4), system: 'inch' },
    };
    const opened = await openPicture(bytes, file);
    const plain = await readOpened(opened, base);
    expect(plain.picture.source.sheet).toBeUndefined();
    const corners: Corners = [0.1, 0.1, 0.9, 0.12, 0.95, 0.9, 0.05, 0.88];
    const given = await readOpened(opened, { ...base, sheet: corners });
    expect(given.picture.source.sheet).toEqual([...corners]);
    expect(given.picture.source.pixels).not.toEqual(plain.picture.source.pixels);
    const no = await readOpened(opened, { ...base, sheet: 'no' });
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
