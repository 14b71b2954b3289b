import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { oklabOfHex } from '../../src/colour/oklab.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { findRegions } from '../../src/geometry/label-regions.ts';
import { groundRegion } from '../../src/geometry/silhouette.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { UserError } from '../../src/problems/problem.ts';
import { inkOf } from '../../src/shade/find-ink.ts';
import { findKind } from '../../src/shade/find-kind.ts';
import { keepLandmarks } from '../../src/shade/keep-landmarks.ts';
import { readRegions, writeRegions } from '../../src/shade/regions-file.ts';
import { type ShadeOptions, shadePicture } from '../../src/shade/shade-picture.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const options: ShadeOptions = { size: [304.8, 304.8], smallest: 12.7, shades: 5, background: 'keep', seed: 1 };
const read = (name: string): Promise<Picture> => readPicture(readFileSync(join(root, name)), name, { aspect: 1 });

/** A picture made cell by cell; noise is seeded. */
function make(n: number, noise: number, colour: (x: number, y: number) => readonly [number, number, number]): Picture {
  const pixels = new Uint8Array(3 * n * n);
  let state = 7;
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++)
      colour(x, y).forEach((v, c) => {
        state = (Math.imul(state, 1103515245) + 12345) >>> 0;
        pixels[3 * (y * n + x) + c] = Math.max(0, Math.min(255, v + ((state >>> 16) % (2 * noise + 1)) - noise));
      });
  return {
    width: n,
    height: n,
    pixels,
    source: { sha256: '', pixels: [n, n], crop: [0, 0, n, n], format: 'png' },
    notes: [],
  };
}

/** Regions of less than `cells` cells that hold nothing that was grown. */
const specks = (s: Shading, cells: number): number =>
  findRegions(s.labels, s.width, s.height).list.filter((r) => r.cells.length < cells).length;

describe('shadePicture', () => {
  // a circle drawn with a thin pen on a screen's white, filled with what is hardly darker than the paper
  it('keeps a pale fill of a drawing, dark enough to be seen beside the paper in cloth, and invents no colour for it', async () => {
    const filled = make(400, 0, (x, y) => {
      const r = Math.hypot(x - 200, y - 200);
      return Math.abs(r - 120) < 3 ? [0, 0, 0] : r < 120 ? [236, 236, 236] : [255, 255, 255];
    });
    const { fabrics } = await shadePicture(filled, { ...options, kind: 'drawing', lines: 'dissolve' });
    const [paper, fill] = fabrics.map((f) => oklabOfHex(f.colour));
    expect(fabrics).toHaveLength(2);
    expect(Math.hypot(fill![1], fill![2])).toBeLessThan(0.01);
    expect(paper![0] - fill![0]).toBeGreaterThan(0.12);
  });

  // pale pencil hatching: two patches of it and a denser one
  it('deepens the tones of pale strokes, so that they are told apart in cloth', async () => {
    const hatched = make(400, 3, (x, y) => {
      const dense = y > 200 ? 6 : 10;
      const inside = Math.abs(x - 200) < 150 && Math.abs(y - 200) < 150;
      return inside && (x + y) % dense < 3 ? [150, 146, 140] : [214, 206, 190];
    });
    const { fabrics, notes } = await shadePicture(hatched, { ...options, kind: 'drawing' });
    expect(notes.join()).toMatch(/taken for tones/);
    const light = fabrics.map((f) => oklabOfHex(f.colour)[0]);
    expect(light[0]! - light.at(-1)!).toBeGreaterThan(0.3);
    light.slice(1).forEach((L, i) => {
      expect(light[i]! - L).toBeGreaterThan(0.05);
    });
  });

  it.each([
    ['photos/cat-chelsea-face.jpg', 'photo'],
    ['flat/noto-fox.svg', 'flat'],
    ['lines/oc-dove.svg', 'drawing'],
  ])('shades %s, a %s, with sound fabrics, and the same on every run', async (name, kind) => {
    const picture = await read(name);
    const shading = await shadePicture(picture, options);
    expect(shading.kind.kind).toBe(kind);
    expect([shading.width, shading.height, shading.labels.length]).toEqual([192, 192, 192 * 192]);
    const { fabrics } = shading;
    expect(fabrics.length).toBeGreaterThan(1);
    expect(fabrics.length).toBeLessThanOrEqual(5);
    expect(new Set(shading.labels).size).toBe(fabrics.length);
    expect(Math.max(...shading.labels)).toBe(fabrics.length - 1);
    for (const key of ['id', 'code', 'name', 'hatch'] as const)
      expect(new Set(fabrics.map((f) => f[key])).size).toBe(fabrics.length);
    const light = fabrics.map((f) => oklabOfHex(f.colour)[0]);
    expect(light).toEqual([...light].sort((a, b) => b - a));
    // a code must look neither like a section (A, AB) nor like a piece (A3) nor like a number
    for (const f of fabrics) expect(f.code).toMatch(/^[a-z]{2,3}$/);
    expect(specks(shading, 10)).toBe(0);
    const again = await shadePicture(picture, options);
    expect(again).toEqual(shading);
  });

  // check values, section 6: a disc of 12 px for an eye in a 512 px face at 3 shades must survive or be reported lost
  it.each([
    [0, 3],
    [6, 3],
    [14, 3],
    [6, 4],
  ])('keeps an eye of 12 px in a face of 512 px (noise %i, %i shades)', async (noise, shades) => {
    const eyes = [
      [190, 220],
      [322, 220],
    ] as const;
    const face = make(512, noise, (x, y) => {
      if (eyes.some(([ex, ey]) => Math.hypot(x - ex, y - ey) <= 6)) return [40, 28, 22];
      if (((x - 256) / 190) ** 2 + ((y - 256) / 210) ** 2 < 1) return x < 256 ? [201, 150, 96] : [176, 124, 74];
      return [226, 232, 238];
    });
    const shading = await shadePicture(face, { ...options, shades });
    expect(shading.lost).toEqual([]);
    expect(shading.grown).toHaveLength(2);
    for (const [ex, ey] of eyes) {
      const at = (x: number, y: number): number => shading.labels[Math.floor(y) * 192 + Math.floor(x)]!;
      const [x, y] = [(ex * 192) / 512, (ey * 192) / 512];
      const label = at(x, y);
      expect(label).not.toBe(at(x, y + 14));
      // as wide as the narrowest piece: 12.7 mm = 8 cells
      for (const [dx, dy] of [
        [-3.5, 0],
        [3.5, 0],
        [0, -3.5],
        [0, 3.5],
      ] as const)
        expect(at(x + dx, y + dy)).toBe(label);
      const dark = oklabOfHex(shading.fabrics[label]!.colour)[0];
      expect(dark).toBe(Math.min(...shading.fabrics.map((f) => oklabOfHex(f.colour)[0])));
    }
  });

  // check values, section 6: salt-and-pepper noise of 1 %: no piece below the smallest width
  it('lets salt-and-pepper noise of 1 % make no specks', async () => {
    let state = 3;
    const noisy = make(512, 0, (x, y) => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const r = (state >>> 8) % 200;
      if (r < 2) return r ? [255, 255, 255] : [0, 0, 0];
      return Math.hypot(x - 256, y - 256) < 150 ? [180, 90, 60] : [120, 170, 200];
    });
    const shading = await shadePicture(noisy, { ...options, shades: 3 });
    expect(specks(shading, 30)).toBe(0);
    expect(findRegions(shading.labels, 192, 192).list.length).toBeLessThan(5);
  });

  it('gives flat art its own colours, and its soft edges none', async () => {
    const art = make(600, 0, (x, y) => {
      // red on white with a soft edge three pixels wide
      const t = Math.max(0, Math.min(1, (Math.hypot(x - 300, y - 300) - 200) / 3));
      return [200 + Math.round(55 * t), Math.round(30 + 225 * t), Math.round(40 + 215 * t)];
    });
    const { kind, fabrics } = await shadePicture(art, { ...options, shades: 6 });
    expect(kind.kind).toBe('flat');
    expect(fabrics.map((f) => f.colour)).toEqual(['#ffffff', '#c81e28']);
  });

  it('dissolves thin strokes: what they enclose becomes a region of its own, also with a gap', async () => {
    const ring = make(600, 0, (x, y) => {
      const gap = Math.abs(Math.atan2(y - 300, x - 300)) < 0.07;
      return Math.abs(Math.hypot(x - 300, y - 300) - 180) < 4 && !gap ? [10, 10, 10] : [250, 250, 250];
    });
    const shading = await shadePicture(ring, options);
    expect(shading.kind.kind).toBe('drawing');
    expect(findRegions(shading.labels, 192, 192).list).toHaveLength(2);
    const inside = [...shading.labels].filter((l) => l === shading.labels[96 * 192 + 96]).length;
    expect(inside / 192 ** 2).toBeCloseTo((Math.PI * 180 ** 2) / 600 ** 2, 1);
  });
});

describe('a drawing', () => {
  it('takes a great mass of ink for ink to its middle, however far the paper is', () => {
    const mass = make(480, 2, (x, y) => (Math.hypot(x - 260, y - 240) < 130 ? [30, 28, 26] : [240, 230, 210]));
    const ink = inkOf(mass);
    const at = (x: number, y: number): number => ink[y * 480 + x]!;
    expect(at(260, 240)).toBeGreaterThan(0.6);
    expect(Math.abs(at(260, 240) - at(380, 240))).toBeLessThan(0.1);
    expect(at(30, 30)).toBeLessThan(0.05);
  });

  // an eye as large as 1/16 of the block, with lashes of fur beside it
  it('keeps an eye and lets flecks of fur go', async () => {
    const flecks = [
      [150, 300],
      [180, 330],
      [210, 300],
      [240, 330],
      [270, 300],
    ];
    const face = make(600, 0, (x, y) => {
      const ring = Math.abs(Math.hypot(x - 300, y - 300) - 200) < 4;
      const eye = Math.hypot((x - 330) / 1.4, y - 230) < 16;
      const fleck = flecks.some(([u, v]) => Math.abs(x - u!) < 5 && Math.abs(y - v!) < 5);
      return ring || eye || fleck ? [10, 10, 10] : [250, 250, 250];
    });
    const { labels, fabrics } = await shadePicture(face, { ...options, kind: 'drawing', lines: 'dissolve' });
    const ink = fabrics.findIndex((f) => oklabOfHex(f.colour)[0] < 0.4);
    const dots = findRegions(labels, 192, 192).list.filter((r) => r.label === ink);
    expect(dots).toHaveLength(1);
    expect(labels[Math.round((230 / 600) * 192) * 192 + Math.round((330 / 600) * 192)]).toBe(ink);
  });

  it('never gives the ground its fabric to an area that has several neighbours', async () => {
    // two rooms side by side in one outline
    const rooms = make(600, 0, (x, y) => {
      const [u, v] = [Math.abs(x - 300), Math.abs(y - 300)];
      const outline = Math.abs(Math.max(u, v) - 200) < 4;
      const walls = Math.max(u, v) < 200 && (Math.abs(u - 70) < 4 || (u < 70 && v < 4));
      return outline || walls ? [10, 10, 10] : [250, 250, 250];
    });
    const { labels } = await shadePicture(rooms, { ...options, shades: 3, kind: 'drawing', lines: 'dissolve' });
    const ground = labels[0]!;
    for (const [x, y] of [
      [160, 300],
      [300, 200],
      [300, 400],
      [440, 300],
    ])
      expect(labels[Math.round((y! / 600) * 192) * 192 + Math.round((x! / 600) * 192)]).not.toBe(ground);
  });

  // a coat drawn in a hundred and more short strokes on its left, white on its right; with and without a black mass in it
  it.each([0, 100])(
    'shows the white of a figure drawn in many strokes on a ground of its own (black: %i)',
    async (black) => {
      const striped = make(600, 0, (x, y) => {
        const away = Math.hypot((x - 300) / 1.3, y - 300);
        const stroke = away < 170 && x < 280 && x % 13 < 5 && (y + 9 * Math.floor(x / 13)) % 18 < 12;
        const dark = Math.hypot(x - 400, y - 360) < black;
        return Math.abs(away - 180) < 3 || stroke || dark ? [10, 10, 10] : [250, 250, 250];
      });
      const { labels, fabrics } = await shadePicture(striped, { ...options, kind: 'drawing' });
      const at = (x: number, y: number): number => labels[Math.round(0.32 * y) * 192 + Math.round(0.32 * x)]!;
      expect(at(20, 20)).toBe(0);
      expect(at(400, 210)).not.toBe(0);
      expect(at(200, 300)).not.toBe(0);
      const [paper, pale] = fabrics.map((f) => oklabOfHex(f.colour)[0]);
      expect(paper! - pale!).toBeGreaterThan(0.07);
    },
  );

  it('grows no eye out of the tips of a flat animal', () => {
    // a dark thin tip on the ground, a dark dot on the animal
    const [w, labels] = [64, new Uint8Array(64 * 64)];
    for (let y = 20; y < 60; y++) for (let x = 10; x < 50; x++) labels[y * w + x] = 1;
    const blob = (x: number, y: number) => ({ x, y, radius: 2, colour: [0.1, 0, 0] as const, stands: 0.5 });
    const colours = [
      [1, 0, 0],
      [0.6, 0.1, 0.1],
      [0.1, 0, 0],
    ] as const;
    const ground = groundRegion(labels, w, 64);
    const kept = keepLandmarks(labels, colours, w, 64, [blob(30, 8), blob(30, 40)], 6, ground);
    expect(kept.grown.map((g) => [g.blob.x, g.blob.y])).toEqual([[30, 40]]);
    expect(kept.lost).toHaveLength(0);
  });
});

describe('findKind', () => {
  // the labelled list: the folder a picture lies in says what it is
  const list = (['photos', 'lines', 'flat'] as const).flatMap((folder) =>
    readdirSync(join(root, folder))
      // the same pictures in other formats, and every other SVG, say no more and take their time
      .filter((name, i) => !name.startsWith('fmt-') && (i % 2 || !name.endsWith('.svg')))
      .map((name) => [`${folder}/${name}`, { photos: 'photo', lines: 'drawing', flat: 'flat' }[folder]] as const),
  );
  it('is right on at least 95 % of the labelled list', async () => {
    const wrong: string[] = [];
    for (const [name, kind] of list) {
      const found = findKind(await read(name));
      expect(found.reason.length).toBeGreaterThan(5);
      if (found.kind !== kind) wrong.push(`${name}: ${found.kind}`);
    }
    expect(list.length).toBeGreaterThan(30);
    expect(wrong.length, wrong.join(', ')).toBeLessThanOrEqual(0.05 * list.length);
  });
});

describe('the regions file', () => {
  const fabrics = JSON.stringify([
    { name: 'white', colour: '#FFFFFF' },
    { id: 'x', code: 'xx', name: 'red', colour: '#c81e28', hatch: 4, note: 'kept' },
  ]);
  const names = { regions: 'r.png', fabrics: 'f.json' };
  const labels = Uint8Array.from({ length: 12 * 10 }, (_, i) => (i % 7 ? 0 : 1));

  it('comes back as it was written, byte for byte the same each time', async () => {
    const png = await writeRegions({ width: 12, height: 10, labels });
    expect(Buffer.compare(png, await writeRegions({ width: 12, height: 10, labels }))).toBe(0);
    // 8-bit greyscale (PNG, ISO/IEC 15948: bit depth in byte 24, colour type in byte 25), no profile
    expect([png[24], png[25]]).toEqual([8, 0]);
    expect(Buffer.from(png).includes('iCCP')).toBe(false);
    const back = await readRegions(png, fabrics, names);
    expect([back.width, back.height]).toEqual([12, 10]);
    expect(back.labels).toEqual(labels);
    expect(back.fabrics).toEqual([
      { id: 'f1', code: 'fa', name: 'white', colour: '#ffffff', hatch: 0 },
      { id: 'x', code: 'xx', name: 'red', colour: '#c81e28', hatch: 4, note: 'kept' },
    ]);
  });

  it.each([
    ['{', /f.json is not a list of fabrics: it is not JSON/],
    ['[]', /f.json: the list/],
    ['[{"name":"a","colour":"red"}]', /fabric 1, colour: write the colour as #rrggbb/],
    ['[{"name":"a","colour":"#000000"}]', /r.png has the value 1 at column 1, row 1, but f.json lists only 1 fabrics/],
    [
      '[{"id":"a","name":"a","colour":"#000000"},{"id":"a","name":"b","colour":"#ffffff"}]',
      /two fabrics have the id "a"/,
    ],
  ])('refuses the list %s', async (list, reason) => {
    const png = await writeRegions({ width: 12, height: 10, labels });
    const call = readRegions(png, list, names);
    await expect(call).rejects.toBeInstanceOf(UserError);
    await expect(call).rejects.toThrow(reason);
  });

  it('refuses what is no greyscale PNG', async () => {
    const read = (bytes: Uint8Array) => readRegions(bytes, fabrics, names);
    await expect(read(readFileSync(join(root, 'photos/cat-chelsea-face.jpg')))).rejects.toThrow(/r.png is not a PNG/);
    await expect(read(readFileSync(join(root, 'photos/fmt-16bit-chelsea.png')))).rejects.toThrow(/not 8-bit greyscale/);
    const png = await writeRegions({
      width: 100,
      height: 100,
      labels: new Uint8Array(10_000).map((_, i) => (i * 7919) & 1),
    });
    await expect(read(png.subarray(0, png.length >> 1))).rejects.toThrow(/damaged or cut off/);
  });
});
