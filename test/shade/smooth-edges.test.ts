// The bilateral filter against a reference library's: opencv-wasm 4.3's bilateralFilter.
import { createRequire } from 'node:module';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { smoothEdges } from '../../src/shade/smooth-edges.ts';
import { greatest } from '../extremes.ts';

const photo = join(import.meta.dirname, '../../fixtures/photos/cat-chelsea-face.jpg');

test('smooths as the reference library does, to a step of rounding', async () => {
  const { cv } = createRequire(import.meta.url)('opencv-wasm');
  const [w, h] = [160, 120];
  const data = await sharp(photo).resize(w, h, { fit: 'fill' }).removeAlpha().raw().toBuffer();
  const rgb = new Uint8Array(data);
  const from = new cv.Mat(h, w, cv.CV_8UC3);
  from.data.set(rgb);
  const to = new cv.Mat();
  cv.bilateralFilter(from, to, 5, 20, 2);
  const theirs = new Uint8Array(to.data);
  from.delete();
  to.delete();
  const ours = smoothEdges(rgb, w, h, 2, 20);
  const off = ours.map((v, i) => Math.abs(v - theirs[i]!));
  expect(greatest([...off])).toBeLessThanOrEqual(1);
  expect(off.filter((v) => v > 0).length).toBeLessThan(ours.length / 10_000);
  // and it did smooth
  expect(ours.filter((v, i) => v !== rgb[i]).length).toBeGreaterThan(ours.length / 4);
});

test('leaves a picture of two even halves as it is', () => {
  const [w, h] = [7, 4];
  const rgb = Uint8Array.from({ length: 3 * w * h }, (_, i) => (Math.floor(i / 3) % w < 3 ? 20 : 220));
  expect([...smoothEdges(rgb, w, h, 2, 20)]).toEqual([...rgb]);
});
