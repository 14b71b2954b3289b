// `seamwright compare`: a sheet to choose from, and the block that is picked is the one that was shown.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { callHere, fixture, runProgram, type Said } from './run-program.ts';

const CLOTHS = ['cream', 'rust', 'ink', 'leaf', 'sand'];
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-compare-'));
  const colours = ['#f4ecd8', '#d05a20', '#202028', '#3a5a30', '#c8a878'];
  const rows = CLOTHS.map((name, i) => `${name},${colours[i]}\n`).join('');
  await writeFile(join(folder, 'cloths.csv'), `name,colour\n${rows}`);
});
afterAll(() => rm(folder, { recursive: true, force: true }));
const compareBy = (run: typeof runProgram, more: readonly string[]): Promise<Said> =>
  run(
    [
      ...[
        'compare',
        fixture('flat/noto-fox.svg'),
        '--out',
        'sheet',
        '--name',
        'fox',
        '--pieces',
        '10,20',
        '--shades',
        '3,4',
      ],
      ...['--effort', 'quick', '--paper', 'letter', '--units', 'inch', '--fabrics', 'cloths.csv', ...more],
    ],
    folder,
  );

const compare = (...more: string[]): Promise<Said> => compareBy(runProgram, more);

describe('seamwright compare', () => {
  test('shows every pair of counts, recommends one, and makes the one that is picked as it was shown', async () => {
    const said = await compare('--json', '--workers', '2');
    expect(said.code, said.err).toBe(0);
    const { cells, recommended, shades, pieces } = JSON.parse(said.out);
    expect({ shades, pieces }).toEqual({ shades: [3, 4], pieces: [10, 20] });
    expect(cells.flat()).toHaveLength(4);
    expect(recommended.pick).toMatch(/^[12]x[12]$/);
    expect((await readdir(join(folder, 'sheet'))).sort()).toEqual([
      'fox.compare.html',
      'fox.compare.pdf',
      'fox.compare.png',
    ]);
    const page = await readFile(join(folder, 'sheet', 'fox.compare.html'), 'utf8');
    expect(page.match(/<svg/g)).toHaveLength(4);
    // it stands alone: nothing in it is asked of anywhere else
    expect(page).not.toMatch(/(src|href)=|url\(|@import/);
    expect((await compareBy(callHere, [])).code).toBe(2);
    const one = await compare('--json', '--workers', '1', '--force');
    expect(JSON.parse(one.out).cells).toEqual(cells);

    // what is said about making it again is true, and both are what was shown
    const told = await compare('--pick', '2x2');
    expect(told.code, told.err).toBe(0);
    const shown = await readFile(join(folder, 'sheet', 'fox.block.json'), 'utf8');
    expect(JSON.parse(shown).source.settings).toMatchObject({ shades: 4, pieces: 20, grow: [10] });
    const options = /`block` makes it again with (.*)\.\n/.exec(told.out)![1]!.split(' ');
    expect(options).toEqual(['--shades', '4', '--pieces', '20', '--grow', '10', '--fabrics', 'cloths.csv']);
    expect(JSON.parse(shown).fabrics.map((f: { name: string }) => CLOTHS.includes(f.name))).not.toContain(false);
    const again = await runProgram(
      [
        ...['block', fixture('flat/noto-fox.svg'), '--out', 'again', '--name', 'fox', '--effort', 'quick', '--json'],
        ...['--paper', 'letter', '--units', 'inch', ...options],
      ],
      folder,
    );
    expect(again.code, again.err).toBe(0);
    const { files, ...made } = JSON.parse(again.out);
    expect(made).toMatchObject({
      pieces: cells[1][1].pieces,
      sections: cells[1][1].sections,
      misplaced: cells[1][1].misplaced,
    });
    expect(await readFile(join(folder, files.block), 'utf8')).toBe(shown);
  });

  test.each([
    ['--pick', '3x1'],
    ['--pick', 'left'],
    ['--workers', 'many'],
  ])('%s %s is refused in one sentence', async (...args) => {
    const said = await compareBy(callHere, ['--force', ...args]);
    expect(said.code).toBe(2);
    expect(said.err).toMatch(/seamwright: [^\n]+\.\n$/);
  });
});
