// What is compared, chosen from the picture; and that a column which choosing has shaded already is the one that would be shaded.
import { readFile } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { chooseCounts } from '../../src/compare/compare-picture.ts';
import { readPicture } from '../../src/pipeline/figure.ts';
import { see, shade } from '../../src/pipeline/shade.ts';
import { completeSettings } from '../../src/settings/settings.ts';
import { fixture } from '../cli/run-program.ts';

async function chosenFor(picture: string, background: 'keep' | 'plain') {
  const file = fixture(picture);
  const settings = completeSettings({ effort: 'quick', background, show: 'picture', eyes: [], nose: [] });
  const bytes = new Uint8Array(await readFile(file));
  const read = await see(await readPicture(bytes, file, settings), settings);
  return { read, settings, counts: await chooseCounts(read, settings, {}) };
}

test("a photo's suggested number of shades is shaded once, the same as where it is asked for", async () => {
  const { read, settings, counts } = await chosenFor('photos/cat-chelsea-face.jpg', 'keep');
  expect(counts.shades).toHaveLength(4);
  expect(counts.shades).toContain(counts.known?.shades);
  const { kind: _, choices: __, ...asked } = await shade(read, { ...settings, shades: counts.known!.shades });
  expect(counts.known!.shading).toEqual(asked);
});

test('flat art may lose shades that it was given: every column is shaded by itself', async () => {
  const { counts } = await chosenFor('flat/noto-fox.svg', 'keep');
  expect(counts.known).toBeUndefined();
  // from half of the level's pieces to half as many again
  expect(counts.pieces).toHaveLength(4);
  expect(counts.pieces[3]! / counts.pieces[0]!).toBeCloseTo(3, 1);
});
