import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp, { type Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { lightness } from '../../src/colour/difference.ts';
import type { Lab } from '../../src/colour/oklab.ts';
import type { Picture } from '../../src/data.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { averageCells } from '../../src/shade/cells.ts';
import { chooseGround } from '../../src/shade/choose-ground.ts';
import { findKind } from '../../src/shade/find-kind.ts';
import { findSubject } from '../../src/shade/find-subject.ts';
import { guessSubject } from '../../src/shade/guess-subject.ts';
import { judgePicture } from '../../src/shade/judge-picture.ts';
import { mayHide } from '../../src/shade/see-picture.ts';
import { shadePhoto } from '../../src/shade/shade-photo.ts';
import { shadePicture } from '../../src/shade/shade-picture.ts';
import { overlap } from '../../src/shade/subject-mask.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const read = (name: string): Promise<Picture> => readPicture(readFileSync(join(root, name)), name, { aspect: 1 });

/** The picture after sharp has done something to it. */
async function changed(picture: Picture, change: (s: Sharp) => Sharp): Promise<Picture> {
  const { width, height } = picture;
  const pixels = await change(sharp(picture.pixels, { raw: { width, height, channels: 3 } }))
    .raw()
    .toBuffer();
  return { ...picture, pixels: new Uint8Array(pixels) };
}

describe('the subject', () => {
  it('is found: an animal cut out and laid on a blurred photo comes back', async () => {
    const fish = await sharp(join(root, 'flat/raster-tropical-fish-alpha.png')).resize(384, 384).png().toBuffer();
    const pixels = await sharp(join(root, 'photos/owl-low-contrast.jpg'))
      .resize(384, 384, { fit: 'fill' })
      .blur(10)
      .composite([{ input: fish }])
      .removeAlpha()
      .raw()
      .toBuffer();
    const picture: Picture = {
      width: 384,
      height: 384,
      pixels: new Uint8Array(pixels),
      source: { sha256: '', pixels: [384, 384], crop: [0, 0, 384, 384], format: 'png' },
      notes: [],
    };
    const alpha = await sharp(fish).extractChannel(3).resize(192, 192).raw().toBuffer();
    const truth = Uint8Array.from(alpha, (v) => (v > 127 ? 1 : 0));
    const byColour = await findSubject(picture, 192, 192);
    expect(overlap(byColour!.mask, truth)).toBeGreaterThan(0.75);
    const byNetwork = await findSubject(picture, 192, 192, await guessSubject(picture));
    expect(overlap(byNetwork!.mask, truth)).toBeGreaterThan(0.95);
    const cells = averageCells(picture.pixels, 384, 384, 192, 192);
    const settings = { shades: 5, seed: 1, narrow: 8 };
    const shading = shadePhoto(picture, cells, [], settings, { mask: byNetwork!.mask });
    const frame = new Set([...Array(192).keys()].flatMap((x) => [shading.labels[x]!, shading.labels[191 * 192 + x]!]));
    expect(frame.size).toBe(1);
  });

  it('keeps the weights that the licence beside them is for', () => {
    const onnx = readFileSync(fileURLToPath(new URL('../../src/shade/subject-model/u2netp.onnx', import.meta.url)));
    const readme = readFileSync(
      fileURLToPath(new URL('../../src/shade/subject-model/README.md', import.meta.url)),
      'utf8',
    );
    expect(readme).toContain(createHash('sha256').update(onnx).digest('hex'));
  });
});

describe('the ground', () => {
  const grey = (L: number): Lab => [L, 0, 0];
  // house rule: at least 20 L* between the ground's fabric and those along the outline
  it('stays as it is where the outline shows', () => {
    expect(chooseGround(grey(0.9), [{ colour: grey(0.3), share: 1 }])).toMatchObject({
      colour: grey(0.9),
      moved: false,
    });
  });
  it('leaves the picture where a black dog stands on dark, or a white cat on cream', () => {
    for (const [own, fur] of [
      [0.25, 0.2],
      [0.92, 0.97],
    ] as const) {
      const ground = chooseGround(grey(own), [
        { colour: grey(fur), share: 0.95 },
        { colour: grey(0.6), share: 0.05 },
      ]);
      expect(ground.moved).toBe(true);
      expect(ground.gap).toBeGreaterThanOrEqual(20);
    }
  });
  it('says how far it got where no ground will do', () => {
    const along = [0.2, 0.45, 0.7, 0.95].map((L) => ({ colour: grey(L), share: 0.25 }));
    const { gap } = chooseGround(grey(0.5), along);
    expect(gap).toBeLessThan(20);
    expect(gap).toBeGreaterThan(5);
    expect(lightness('#ffffff')).toBeCloseTo(100, 3);
  });
});

describe('a background that is kept', () => {
  // the duck's grey and white made black, as its ground is; its bill stays as it is
  it('does not pass over a black animal on black in silence, and asks nothing where ground and animal are unlike', async () => {
    const duck = await read('photos/duck-white-on-black.jpg');
    const black = { ...duck, pixels: duck.pixels.slice() };
    for (let i = 0; i < black.pixels.length; i += 3) {
      const p = black.pixels.subarray(i, i + 3);
      if (Math.max(...p) - Math.min(...p) < 60) for (const c of [0, 1, 2]) p[c] = p[c]! * 0.2;
    }
    const options = {
      size: [304.8, 304.8],
      smallest: 12.7,
      shades: 5,
      background: 'keep',
      seed: 1,
      kind: 'photo',
    } as const;
    expect((await shadePicture(black, options)).notes.join()).toMatch(/nearly as light or dark as (its|the) ground/);
    for (const other of ['photos/sheep-white-on-green.jpg', 'photos/cat-white-tabby-on-pink.webp']) {
      const { pixels, width, height } = await read(other);
      expect(mayHide(averageCells(pixels, width, height, 192, 192))).toBe(false);
    }
  });
});

describe('judgePicture', () => {
  it('has nothing against a good photo, and says what is wrong with a dark, a flat and a blurred one', async () => {
    const good = await read('photos/dog-shepherd-dry-grass.jpg');
    expect(judgePicture(good, 'photo').notes).toEqual([]);
    const dark = await changed(good, (s) => s.linear(0.2, 0));
    expect(judgePicture(dark, 'photo').notes.join()).toMatch(/very dark/);
    const flat = await changed(good, (s) => s.linear(0.2, 120));
    expect(judgePicture(flat, 'photo').notes.join()).toMatch(/hardly differ/);
    const soft = await changed(good, (s) => s.blur(9));
    expect(judgePicture(soft, 'photo').notes.join()).toMatch(/blurred/);
    // as even as flat art, but without an edge
    expect(findKind(await changed(good, (s) => s.linear(0.25, 0).blur(20))).kind).toBe('photo');
    const small = await read('photos/fmt-tiff-horses.tif');
    expect(judgePicture(small, 'photo').notes.join()).toMatch(/small/);
  });
});
