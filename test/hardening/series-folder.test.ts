// Two runs into one folder, and settings that were made to hang.
import { cp, mkdir, mkdtemp, readdir, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { shoppingCsv } from '../../src/fabric/csv.ts';
import { isAlive, takeLock } from '../../src/folder-lock.ts';
import { readSeriesSettings } from '../../src/series/settings.ts';
import { callHere, fixture } from '../cli/run-program.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-series-'));
  await mkdir(join(folder, 'in'));
  await cp(fixture('flat/noto-fox.svg'), join(folder, 'in', 'fox.svg'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test('of many that take a lock at once one has it', async () => {
  const path = join(folder, 'lock');
  const taken = await Promise.all(Array.from({ length: 12 }, () => takeLock(path)));
  const mine = taken.filter((t) => 'release' in t);
  expect(mine).toHaveLength(1);
  await (mine[0] as { release(): Promise<void> }).release();
  expect((await readdir(folder)).filter((f) => f.startsWith('lock'))).toEqual([]);
});

test('a series in the making is left alone by another run; a lock of a program that is gone is none', async () => {
  const out = join(folder, 'out');
  await mkdir(out);
  // the first process of the machine lives
  await writeFile(join(out, '.lock.json'), JSON.stringify({ pid: 1 }));
  const said = await callHere(['series', 'in', '--out', 'out'], folder);
  expect([said.code, said.err]).toEqual([
    2,
    expect.stringMatching(/Another run is making a series in out; wait for it/),
  ]);
  expect(await readdir(out)).toEqual(['.lock.json']);
  const gone = 2 ** 22 - 7;
  expect(await isAlive({ pid: gone })).toBe(false);
  await writeFile(join(out, '.lock.json'), JSON.stringify({ pid: gone }));
  const lock = await takeLock(join(out, '.lock.json'));
  expect('release' in lock).toBe(true);
});

test('what links lead to is no picture of the series', async () => {
  await mkdir(join(folder, 'links'));
  await symlink('/etc/hostname', join(folder, 'links', 'a.png'));
  expect((await callHere(['series', 'links', '--out', 'none'], folder)).err).toMatch(/no pictures|holds no/i);
});

test('aliases of aliases, and anchors by the thousand, are one sentence', () => {
  const bomb = [
    'a0: &a0 [x,x,x,x,x,x,x,x,x]',
    ...Array.from({ length: 12 }, (_, i) => `a${i + 1}: &a${i + 1} [${`*a${i},`.repeat(9)}]`),
  ];
  for (const text of [bomb.join('\n'), Array.from({ length: 20_000 }, (_, i) => `k${i}: &n${i} v`).join('\n')])
    expect(() => readSeriesSettings(text, 's.yaml')).toThrow(/^s\.yaml.*\.$/);
  expect(readSeriesSettings('designer: A & B *', 's.yaml').designer).toBe('A & B *');
});

test('no name becomes a formula in a spreadsheet', () => {
  const cloth = { id: 'f', buy: '1', yards: 1, metres: 1, bound: 1, strips: [], colour: '#000000' };
  for (const name of [
    '=1+1',
    '+1',
    '-1',
    '@a',
    '\t=1',
    '\n=1',
    '\r=1',
    ' =1',
    '\u00a0=1',
    '\u200b=1',
    '＝1',
    '＋1',
    '－1',
    '＠a',
  ]) {
    const plan = { fabrics: [{ ...cloth, code: name }] } as never;
    const cell = shoppingCsv(plan, 'inch').split('\r\n')[1]!.replace(/^"/, '');
    expect(cell.startsWith("'"), JSON.stringify(name)).toBe(true);
  }
});
