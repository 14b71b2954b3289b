// A small gate on what the fit is worth, by kind: fixed grids from pictures that come with the project, a fixed number of
// moves. The bounds are what was measured when it was written, plus a tenth and two sections: they catch a change that spoils it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { plainShades } from '../../scripts/bench/plain-shades.ts';
import { fitPartition } from '../../src/fit/fit-partition.ts';
import { readPicture } from '../../src/picture/read-picture.ts';

const FIXTURES = join(import.meta.dirname, '..', '..', 'fixtures');
const SECTIONS = { mostPieces: 12, paper: [187.35, 231.3] as const, allowance: 6.35 };

test.each([
  ['photos/cat-chelsea-face.jpg', 0.296, 16],
  ['lines/tabler-pig.png', 0.0115, 15],
  ['lines/lucide-squirrel.png', 0.0295, 16],
  ['flat/noto-fox.svg', 0.0255, 16],
  ['flat/fluent-emoji-flat-dog.svg', 0.0205, 15],
])(
  '%s',
  async (file, misplaced, sections) => {
    const name = file.split('/')[1]!;
    const picture = await readPicture(readFileSync(join(FIXTURES, file)), name, { aspect: 1 });
    const fitted = fitPartition(plainShades(picture, 5), {
      ...{ size: [304.8, 304.8], smallest: 9.525, pieces: 60, sections: SECTIONS, seed: 1, effort: 'quick' },
    });
    expect(fitted.pieces.length).toBeLessThanOrEqual(60);
    expect(fitted.misplaced).toBeLessThanOrEqual(misplaced);
    expect(fitted.sections).toBeLessThanOrEqual(sections);
    // a clutter of details is no landmark; of those that are none is lost
    expect(fitted.lost).toEqual([]);
  },
  20_000,
);
