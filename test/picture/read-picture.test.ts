import { readdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { chosenCrop } from '../../src/picture/choose-crop.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { UserError } from '../../src/problems/problem.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const file = (name: string): Uint8Array => readFileSync(join(root, name));
const square = { aspect: 1 };

/** A picture without symmetry, so that every turn shows; stored so that EXIF orientation `turn` brings it upright. */
function storeTurned(width: number, height: number, turn: number): Promise<Buffer> {
  const [w, h] = turn > 4 ? [height, width] : [width, height];
  // where the stored pixel (x, y) is shown; check values, section 4: 2 flip H, 3 180°, 4 flip V, 5 transpose, 6 90° CW,
  // 7 transverse, 8 270° CW
  const shown: Record<number, (x: number, y: number) => [number, number]> = {
    1: (x, y) => [x, y],
    2: (x, y) => [w - 1 - x, y],
    3: (x, y) => [w - 1 - x, h - 1 - y],
    4: (x, y) => [x, h - 1 - y],
    5: (x, y) => [y, x],
    6: (x, y) => [h - 1 - y, x],
    7: (x, y) => [h - 1 - y, w - 1 - x],
    8: (x, y) => [y, w - 1 - x],
  };
  const pixels = Buffer.alloc(w * h * 3);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const [X, Y] = shown[turn]!(x, y);
      pixels.set([(X * 255) / width, (Y * 255) / height, (X * 7 + Y * 13) % 200], 3 * (y * w + x));
    }
  return sharp(pixels, { raw: { width: w, height: h, channels: 3 } })
    .withMetadata({ orientation: turn })
    .png({ compressionLevel: 1 })
    .toBuffer();
}

describe('readPicture', () => {
  it('gives a square of at most 1024 pixels for a square block, whatever comes', async () => {
    const photos = readdirSync(join(root, 'photos')).map((name) => `photos/${name}`);
    for (const name of [...photos, 'lines/oc-tiger-bw.png', 'flat/oc-rooster.svg']) {
      const picture = await readPicture(file(name), name, square);
      expect(picture.pixels.length, name).toBe(3 * picture.width * picture.height);
      expect(picture.width, name).toBe(picture.height);
      expect(picture.width, name).toBeLessThanOrEqual(1024);
      expect(picture.source.sha256).toMatch(/^[0-9a-f]{64}$/);
    }
  });

  it.each([
    ['photos/fmt-heic-duck.heic', 'heic'],
    ['photos/fmt-avif-sheep.avif', 'avif'],
    ['photos/fmt-tiff-horses.tif', 'tiff'],
    ['photos/fmt-animated-muybridge-cat.gif', 'gif'],
    ['photos/cat-white-tabby-on-pink.webp', 'webp'],
    ['hostile/png-named.jpg', 'png'],
    ['hostile/webp-named.png', 'webp'],
    ["hostile/weird name é ü (1) %20 'q'.png", 'png'],
    ['flat/noto-fox.svg', 'svg'],
  ])('tells %s by its content: %s', async (name, format) => {
    expect((await readPicture(file(name), name, square)).source.format).toBe(format);
  });

  it('says that only the first frame of an animation is used', async () => {
    const picture = await readPicture(file('photos/fmt-animated-muybridge-cat.gif'), 'cat.gif', square);
    expect(picture.notes.join()).toMatch(/6 pictures; the first/);
  });

  it('gives one and the same picture for all eight EXIF turns', async () => {
    const seen: Uint8Array[] = [];
    for (let turn = 1; turn <= 8; turn++) {
      const picture = await readPicture(await storeTurned(1500, 1100, turn), `turn-${turn}.png`, square);
      expect(picture.source.pixels).toEqual([1500, 1100]);
      seen.push(picture.pixels);
    }
    expect(seen.map((pixels) => Buffer.compare(pixels, seen[0]!))).toEqual(new Array(8).fill(0));
  });

  it('lays alpha on white: a black drawing on clear ground is not all black', async () => {
    const svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M2 2h5v1h-5z"/></svg>';
    const { pixels } = await readPicture(Buffer.from(svg), 'black.svg', square);
    expect([...pixels.subarray(0, 3)]).toEqual([255, 255, 255]);
    expect(pixels.filter((v) => v === 0).length).toBeGreaterThan(1000);
  });

  it('reads CMYK and 16 bit as what the eye sees', async () => {
    const mean = async (name: string): Promise<number[]> => {
      const { pixels } = await readPicture(file(name), name, { aspect: 1.5, crop: [0, 0, 1, 1] });
      return [0, 1, 2].map(
        (c) => pixels.filter((_, i) => i % 3 === c).reduce((a, b) => a + b, 0) / (pixels.length / 3),
      );
    };
    const [cmyk, rgb] = [await mean('photos/fmt-cmyk-owl.jpg'), await mean('photos/owl-low-contrast.jpg')];
    const [deep, plain] = [await mean('photos/fmt-16bit-chelsea.png'), await mean('photos/cat-chelsea-face.jpg')];
    for (let c = 0; c < 3; c++) {
      expect(Math.abs(cmyk[c]! - rgb[c]!)).toBeLessThan(16);
      expect(Math.abs(deep[c]! - plain[c]!)).toBeLessThan(6);
    }
  });

  it('crops to the block and keeps what stands on a plain ground whole', async () => {
    const wide = await readPicture(file('photos/cat-chelsea-face.jpg'), 'cat.jpg', { aspect: 0.5 });
    expect(wide.width / wide.height).toBeCloseTo(0.5, 2);
    const [x, y, w, h] = wide.source.crop;
    expect(x >= 0 && y >= 0 && x + w <= 451 && y + h <= 300).toBe(true);
    const tiger = await readPicture(file('lines/oc-tiger-bw.png'), 'tiger.png', square);
    expect(tiger.source.crop[2]).toBeGreaterThan(1000); // taller than wide: paper goes on at the sides
    const corner = [...tiger.pixels.subarray(0, 3)];
    expect(corner).toEqual([255, 255, 255]);
  });

  it('takes a crop in pixels or in fractions of the upright picture', async () => {
    expect(chosenCrop([0.5, 0, 0.5, 1], [400, 200], 1, 1)).toEqual([200, 0, 200, 200]);
    expect(chosenCrop([100, 50, 100, 100], [400, 200], 0.5, 1)).toEqual([50, 25, 50, 50]);
    expect(chosenCrop([350, 0, 100, 100], [400, 200], 1, 1)).toBeUndefined();
    const call = readPicture(file('photos/cat-chelsea-face.jpg'), 'cat.jpg', { aspect: 1, crop: [400, 0, 300, 300] });
    await expect(call).rejects.toThrow(/crop .* is not inside cat.jpg, which is 451 x 300/);
  });

  it('brings a wide-gamut picture to sRGB', async () => {
    const grey = { create: { width: 64, height: 64, channels: 3 as const, background: { r: 200, g: 60, b: 40 } } };
    const spot = await sharp(Buffer.alloc(3 * 400, 20), { raw: { width: 20, height: 20, channels: 3 } })
      .png()
      .toBuffer();
    const p3 = await sharp(grey)
      .composite([{ input: spot, left: 22, top: 22 }])
      .withIccProfile('p3')
      .png()
      .toBuffer();
    const { pixels } = await readPicture(p3, 'p3.png', { aspect: 1, crop: [0, 0, 1, 1] });
    expect([...pixels.subarray(0, 3)].every((v, c) => Math.abs(v - [200, 60, 40][c]!) <= 2)).toBe(true);
  });
});

describe('bad input', () => {
  it.each(readdirSync(join(root, 'hostile')))('%s: one clear sentence or a sound picture', async (name) => {
    try {
      const { width, height, pixels } = await readPicture(file(`hostile/${name}`), name, square);
      expect(pixels.length).toBe(3 * width * height);
    } catch (error) {
      expect(error).toBeInstanceOf(UserError);
      const { message, exitCode } = error as UserError;
      expect(exitCode).toBe(1);
      expect(message.startsWith(name)).toBe(true);
      expect(message).toMatch(/\.$/);
      expect(message).not.toMatch(/\n|undefined|at .*\.ts/);
    }
  });

  it.each([
    ['all-transparent.png', /wholly transparent/],
    ['all-white.png', /one colour all over/],
    ['bomb-1bit-30000.png', /268 million pixels/],
    ['empty.jpg', /is empty/],
    ['html-named.jpg', /web page/],
    ['one-pixel.png', /only 1 x 1 pixels/],
    ['pdf-named.png', /is a PDF/],
    ['strip-4000x2.png', /4000 x 2/],
    ['svg-billion-laughs.svg', /entities/],
    ['svg-external-file.svg', /lies in other files/],
    ['svg-use-bomb.svg', /repeating itself/],
    ['svg-xxe.svg', /entities/],
    ['truncated-half.jpg', /damaged or cut off/],
    ['truncated.png', /damaged or cut off/],
  ])('%s is refused with its reason', async (name, reason) => {
    await expect(readPicture(file(`hostile/${name}`), name, square)).rejects.toThrow(reason);
  });

  it('never asks the network for what an SVG names', async () => {
    let asked = 0;
    const server = createServer((socket) => {
      asked++;
      socket.destroy();
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const { port } = server.address() as { port: number };
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9"><style>@import url(http://127.0.0.1:${port}/a.css);</style><image xlink:href="http://127.0.0.1:${port}/b.png" width="9" height="9"/><circle cx="4" cy="4" r="3"/></svg>`;
    const picture = await readPicture(Buffer.from(svg), 'net.svg', square);
    await new Promise((done) => server.close(done));
    expect(asked).toBe(0);
    expect(picture.notes.join()).toMatch(/outside the file/);
  });

  it('answers cut, altered and random bytes within reason (seeded)', async () => {
    let state = 12345;
    const random = (n: number): number => {
      state = (Math.imul(state, 1103515245) + 12345) >>> 0;
      return (state >>> 8) % n;
    };
    const names = [
      'photos/cat-chelsea-face.jpg',
      'photos/fmt-tiff-horses.tif',
      'lines/lucide-cat.png',
      'photos/fmt-animated-muybridge-cat.gif',
      'photos/cat-white-tabby-on-pink.webp',
      'photos/fmt-avif-sheep.avif',
    ];
    const tries: [string, Uint8Array][] = [];
    for (const name of names) {
      const whole = file(name);
      for (let i = 0; i < 4; i++) tries.push([`cut ${name}`, whole.subarray(0, 1 + random(whole.length - 1))]);
      for (let i = 0; i < 4; i++) {
        const altered = Uint8Array.from(whole);
        for (let q = 0; q < 12; q++) altered[random(altered.length)] = random(256);
        tries.push([`altered ${name}`, altered]);
      }
    }
    for (let i = 0; i < 20; i++)
      tries.push([`random ${i}`, Uint8Array.from({ length: 1 + random(3000) }, () => random(256))]);
    const answers = await Promise.all(
      tries.map(async ([what, bytes]) => {
        try {
          const picture = await readPicture(bytes, 'some.file', square);
          return picture.pixels.length === 3 * picture.width * picture.height ? '' : `${what}: unsound`;
        } catch (error) {
          return error instanceof UserError ? '' : `${what}: ${String(error)}`;
        }
      }),
    );
    expect(answers.filter(Boolean)).toEqual([]);
  });
});
