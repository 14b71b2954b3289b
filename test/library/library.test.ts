// The library as other programs call it: one call from bytes to files, and stage by stage, with every option left out.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  checkBlock,
  completeSettings,
  defaultSettings,
  fitPieces,
  LEVEL_DEFAULTS,
  LEVELS,
  makeBlock,
  numberPieces,
  printPacket,
  readBlock,
  readPicture,
  shadePicture,
  UserError,
  writeBlock,
} from '../../src/index.ts';
import { fixture } from '../cli/run-program.ts';

const fox = new Uint8Array(readFileSync(fixture('flat/noto-fox.svg')));
const quick = { pieces: 20, effort: 'quick', fileName: 'fox.svg' } as const;

describe('from bytes to files', () => {
  test('in one call, and stage by stage the same bytes', async () => {
    const whole = await makeBlock(fox, quick);
    expect(Object.keys(whole.files).sort()).toEqual(['block', 'packet', 'preview', 'regions', 'shades']);
    expect(whole.block.name).toBe('fox');
    expect(checkBlock(whole.block).faults).toEqual([]);

    const picture = await readPicture(fox, quick);
    const shading = await shadePicture(picture, quick);
    const pieces = fitPieces(shading, quick);
    const numbered = numberPieces(pieces, shading, quick, picture);
    const printed = await printPacket(numbered, quick, picture);
    for (const file of ['block', 'preview', 'packet'] as const)
      expect(Buffer.compare(printed.files[file], whole.files[file]), file).toBe(0);
    const again = readBlock(new TextDecoder().decode(whole.files.block), 'fox.block.json');
    expect(writeBlock(again)).toBe(writeBlock(whole.block));
  });

  test('with no option at all', async () => {
    const { block } = await makeBlock(fox);
    expect(block.name).toBe('picture');
    for (const side of block.size) expect(side).toBeCloseTo(304.8, 6);
    expect(block.smallest).toBeCloseTo(12.7, 6);
    const pieces = block.sections.reduce((n, s) => n + s.pieces.length, 0);
    expect(pieces).toBeGreaterThan(20);
    expect(pieces).toBeLessThanOrEqual(LEVEL_DEFAULTS.intermediate.pieces);
  });

  test('says what is wrong as a code with values, and names the field', async () => {
    const wrong = await makeBlock(fox, { pieces: 1 }).then(
      () => undefined,
      (e: unknown) => e,
    );
    expect(wrong).toBeInstanceOf(UserError);
    expect(wrong).toMatchObject({ code: 'not-whole', values: { field: 'pieces', value: 1, least: 2, most: 600 } });
    expect((wrong as Error).message).toBe('pieces: "1" is not a whole number from 2 to 600.');
  });
});

test('the defaults are those of the level', () => {
  for (const level of LEVELS) expect(defaultSettings(level).pieces).toBe(LEVEL_DEFAULTS[level].pieces);
  expect(completeSettings({ level: 'beginner', pieces: 25 })).toMatchObject({ pieces: 25, shades: 4, mostPieces: 7 });
});
