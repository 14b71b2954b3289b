// The command as a person calls it: the built program, real files.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { allowanceOf } from '../../src/block.ts';
import { settingsOf } from '../../src/cli/options.ts';
import { checkBlock, readBlock } from '../../src/index.ts';
import { keptSettings } from '../../src/settings/settings.ts';
import { callHere, fixture, root, runProgram, type Said } from './run-program.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const seamwright = (...args: string[]): Promise<Said> => runProgram(args, folder);
const quickly = ['--effort', 'quick', '--pieces', '30', '--paper', 'letter', '--units', 'inch'];

// each run is a whole process, and CI machines are slow
describe('seamwright block', () => {
  test('makes the five files, twice the same bytes, and never overwrites', async () => {
    const first = await seamwright('block', fixture('flat/noto-fox.svg'), '--out', 'one', '--json', ...quickly);
    expect(first.err).not.toMatch(/fault of the program/);
    expect(first.code).toBe(0);
    const said = JSON.parse(first.out);
    expect(said.pieces).toBeLessThanOrEqual(30);
    expect(Object.keys(said)).toEqual([
      'files',
      'pieces',
      'sections',
      'misplaced',
      'quality',
      'kind',
      'crop',
      'choices',
      'fabrics',
      'sheets',
      'filled',
      'warnings',
      'timings',
    ]);
    const text = await readFile(join(folder, 'one', 'noto-fox.block.json'), 'utf8');
    const block = readBlock(text, 'noto-fox.block.json');
    expect(checkBlock(block).faults).toEqual([]);
    expect(block.source?.crop).toHaveLength(4);

    const names = ['block.json', 'regions.png', 'shades.png', 'preview.png', 'packet.pdf'].map((e) => `noto-fox.${e}`);
    expect((await readdir(join(folder, 'one'))).sort()).toEqual([...names].sort());
    await seamwright('block', fixture('flat/noto-fox.svg'), '--out', 'two', ...quickly);
    for (const n of names)
      expect(Buffer.compare(await readFile(join(folder, 'one', n)), await readFile(join(folder, 'two', n))), n).toBe(0);

    // the shades are for people: nothing in them but the fabrics' colours, and all of these
    const { data, info } = await sharp(await readFile(join(folder, 'one', 'noto-fox.shades.png')))
      .raw()
      .toBuffer({ resolveWithObject: true });
    const seen = new Set<string>();
    for (let i = 0; i < data.length; i += info.channels) seen.add(data.subarray(i, i + 3).toString('hex'));
    expect([...seen].sort()).toEqual(block.fabrics.map((f) => f.colour.slice(1)).sort());

    const again = await seamwright('block', fixture('flat/noto-fox.svg'), '--out', 'one', ...quickly);
    expect(again.code).toBe(2);
    expect(again.err).toMatch(/is there already.*--force/);
  });

  test('the regions and the fabrics are a way in of their own, and give the same pieces where no face is kept as shapes', async () => {
    const sunflower = [fixture('flat/twemoji-sunflower.svg'), '--out', 'flower', ...quickly];
    expect((await seamwright('block', ...sunflower)).code).toBe(0);
    const at = (file: string): string => join(folder, file);
    const block = readBlock(await readFile(at('flower/twemoji-sunflower.block.json'), 'utf8'), 'x');
    await writeFile(at('fabrics.json'), JSON.stringify(block.fabrics));
    const regions = ['--regions', 'flower/twemoji-sunflower.regions.png', '--fabrics', 'fabrics.json'];
    expect((await seamwright('block', ...regions, '--out', 'three', ...quickly)).code).toBe(0);
    const same = readBlock(await readFile(at('three/twemoji-sunflower.block.json'), 'utf8'), 'x');
    expect(same.sections).toEqual(block.sections);
  });

  test.each([
    [['block'], 2, /Name a picture/],
    [['block', 'nowhere.png'], 2, /no file nowhere.png/],
    [['block', fixture('flat/noto-fox.svg'), '--size', '12'], 2, /--size: "12" is not a length/],
    [['block', fixture('flat/noto-fox.svg'), '--smallest', '1/8in'], 2, /under 1\/4 in/],
    [['block', fixture('flat/noto-fox.svg'), '--pieces', 'many'], 2, /--pieces: "many"/],
    [['block', fixture('flat/noto-fox.svg'), '--pieces', '40', '--grow', '20,40'], 2, /--grow: 40 is not fewer/],
    [['block', fixture('flat/noto-fox.svg'), '--paper', 'foolscap'], 2, /foolscap/],
    [['block', '--regions', 'a.png'], 2, /--fabrics/],
    [['knit'], 2, /knit/],
    [['block', join(root, 'package.json')], 1, /package.json/],
  ])('%j is refused in one sentence', async (args, code, message) => {
    const said = await callHere([...(args as string[]), '--out', 'none'], folder);
    expect(said.code).toBe(code);
    expect(said.err).toMatch(message);
    expect(said.err).not.toMatch(/\n\s+at |fault of the program/);
    expect(said.out).toBe('');
  });

  test('takes a paper of one’s own size, by name or by measure', () => {
    const paper = (words: string) => settingsOf({ paper: words }, 'fox.svg').paper;
    expect(paper('A4')).toBe('a4');
    expect(paper('13x19in')).toEqual({ width: 13 * 25.4, height: 19 * 25.4 });
    expect(() => paper('roll 36in')).toThrow(/roll/);
  });

  test('prints the schema of block files', async () => {
    const said = await callHere(['schema'], folder);
    expect(JSON.parse(said.out).properties.format.const).toBe('seamwright-block');
  });
});

describe('in centimetres', () => {
  test('a block of 30 cm with a seam allowance of 6 mm, unless other lengths are given', () => {
    const metric = settingsOf({ units: 'metric' }, 'pepper.png');
    expect(metric).toMatchObject({ size: [300, 300], allowance: 6 });
    expect(settingsOf({ units: 'metric', level: 'advanced' }, 'pepper.png').size).toEqual([380, 380]);
    expect(settingsOf({ size: '25cm', allowance: '7.5mm' }, 'p.png')).toMatchObject({
      size: [250, 250],
      allowance: 7.5,
    });
    expect(settingsOf({ units: 'inch' }, 'p.png')).toMatchObject({
      size: [expect.closeTo(304.8, 6), expect.closeTo(304.8, 6)],
      allowance: expect.closeTo(6.35, 6),
    });
  });

  test('the block file keeps an allowance that is not 1/4 in, so that a reprint fits', () => {
    const kept = keptSettings(settingsOf({ units: 'metric' }, 'pepper.png'));
    expect(kept.allowance).toBe(6);
    expect(keptSettings(settingsOf({ units: 'inch' }, 'pepper.png'))).not.toHaveProperty('allowance');
    const source = {
      sha256: '',
      pixels: [1, 1] as [number, number],
      crop: [0, 0, 1, 1] as [number, number, number, number],
    };
    expect(allowanceOf({ source: { ...source, settings: kept } })).toBe(6);
    expect(allowanceOf({ source: { ...source, settings: {} } })).toBe(6.35);
    expect(allowanceOf({ source: { ...source, settings: { allowance: 'wide' } } })).toBe(6.35);
  });
});
