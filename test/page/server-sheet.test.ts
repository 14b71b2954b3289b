// A photo of a printed sheet over HTTP: squared up as the command does it.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Work } from '../../src/page/api.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { fixture, runProgram } from '../cli/run-program.ts';
import { H, photograph, SKEWED, W, WOOD } from '../picture/photograph.ts';
import { newFolder, remove, type Visit, visit } from './visit.ts';

let folder: string;
let out: string;
let v: Visit;
/** few, so that a full fit takes half a second */
const PIECES = 20;

const isFull = (w: Work): boolean => w.stage === 'full';

beforeAll(async () => {
  [folder, out] = [await newFolder(), await newFolder()];
  v = await visit(folder);
});
afterAll(async () => {
  await v.close();
  await remove(folder);
  await remove(out);
});

describe('a photo of a print', () => {
  test('is squared up as the command does it, and only there', async () => {
    const print = await readPicture(await readFile(fixture('photos/duck-white-on-black.jpg')), 'duck', {
      ...{ aspect: 1, maxSide: 400 },
    });
    const raw = { width: W, height: H, channels: 3 } as const;
    const photo = join(out, 'print.png');
    await sharp(photograph(print, { corners: SKEWED, border: 0.05, glare: false, table: WOOD }), { raw }).toFile(photo);
    // two threads: the second one looks for the subject of the whole photo, table and all, while the first fits; the sheet's it is not
    const two = await visit(join(out, 'works'), { workers: 2 });
    try {
      const { body } = await two.upload(photo);
      const first = await two.until(body.id, isFull);
      expect(first.choices!.sheet).toHaveLength(8);
      await two.send('PATCH', `works/${body.id}/settings`, { pieces: PIECES, background: 'plain' });
      await two.until(body.id, isFull);
      const words = ['--out', out, '--pieces', `${PIECES}`, '--background', 'plain'];
      const made = await runProgram(['block', photo, ...words], out);
      expect(made.code, made.err).toBe(0);
      const block = await two.get(`works/${body.id}/files/block.json`);
      expect(Buffer.from(await block.arrayBuffer())).toEqual(await readFile(join(out, 'print.block.json')));
      await two.send('PATCH', `works/${body.id}/settings`, { sheet: 'no' });
      const asItIs = await two.until(body.id, (w) => w.stage === 'coarse' || w.stage === 'full');
      expect(asItIs.choices!.sheet).toBeUndefined();
    } finally {
      await two.close();
    }
  });
});
