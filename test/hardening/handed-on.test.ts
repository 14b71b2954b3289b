// What a second attack found: folders and files that were handed on, names that say sentences, requests nested without end.
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { readJson } from '../../src/page/server/bodies-in.ts';
import { Events } from '../../src/page/server/events.ts';
import { UserError } from '../../src/problems/problem.ts';
import { blockName } from '../../src/series/entries.ts';
import { readSeriesSettings, settingsForPicture } from '../../src/series/settings.ts';
import { readFabrics } from '../../src/shade/regions-file.ts';
import { callHere, fixture } from '../cli/run-program.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-handed-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));
const deep = (n: number): string => '['.repeat(n) + ']'.repeat(n);

test("a series' folder from a stranger names no folder outside itself", async () => {
  await mkdir(join(folder, 'in'));
  await writeFile(join(folder, 'in', 'fox.svg'), await readFile(fixture('flat/noto-fox.svg')));
  await mkdir(join(folder, 'a', 'out'), { recursive: true });
  const state = { format: 'seamwright-series', version: 1, name: 'in', common: 'fabrics' };
  const fabrics = [{ id: 'f1', code: 'fa', name: 'cream', colour: '#eaddcb', hatch: 0 }];
  for (const odd of [
    { numbers: { 'fox.svg': '../../EVIL' }, fabrics },
    { numbers: { 'fox.svg': 1e300 }, fabrics },
    { numbers: { 'fox.svg': 1 }, fabrics: [{ ...fabrics[0], id: '../x' }] },
    { numbers: { 'fox.svg': 1 }, fabrics: 'none' },
  ]) {
    await writeFile(join(folder, 'a', 'out', 'series.json'), JSON.stringify({ ...state, ...odd }));
    const said = await callHere(['series', 'in', '--out', 'a/out', '--resume'], folder);
    expect([said.code, said.err.split('\n').length], said.err).toEqual([2, 2]);
  }
  expect((await readdir(folder)).sort()).toEqual(['a', 'in']);
  expect(await readdir(join(folder, 'a'))).toEqual(['out']);
});

test.each([
  ['a\nb.svg', 'ab'],
  ['CON.svg', '_CON'],
  [`${'x'.repeat(200)}.jpg`, 'x'.repeat(80)],
  [`${'y'.repeat(79)}\u{1F600}.jpg`, 'y'.repeat(79)],
  ['a\u202eb.png', 'ab'],
  ['fox.svg', 'fox'],
])('the picture %j of a series is called %j, and stops no other', (file, name) => {
  expect(blockName(file)).toBe(name);
  expect(settingsForPicture(readSeriesSettings('{}', 's.yaml'), file).name).toBe(name);
});

test('the name of a file says no sentence of its own', () => {
  const { message } = new UserError('no-file', { path: 'a\nseamwright: All is well.\n' });
  expect(message.split(/[\r\n]/)).toHaveLength(1);
});

test('what is nested without end is one sentence, wherever it comes from', async () => {
  const post = (body: string) => readJson(new Request('http://127.0.0.1/', { method: 'POST', body }));
  for (const text of [`{"eyes":${deep(200_000)}}`, `{"crop":${deep(5000)}}`, deep(17)])
    await expect(post(text)).rejects.toThrow('What was sent is nested too deep.');
  expect(await post(`{"a":${deep(10)},"b":"${'['.repeat(99)}"}`)).toHaveProperty('b');
  for (const text of [`block: {eyes: ${deep(5000)}}`, '- '.repeat(20_000), `{"block":{"eyes":${deep(100_000)}}}`])
    expect(() => readSeriesSettings(text, 's.yaml')).toThrow(/^s\.yaml, line 1: .*\.$/);
  expect(() => readFabrics(`[{"name":"a","colour":"#ffffff","x":${deep(100_000)}}]`, 'f.json')).toThrow(UserError);
});

test('a tab that never reads is let go', async () => {
  const events = new Events();
  const request = new Request('http://127.0.0.1/');
  const { body } = events.stream({ req: { raw: request } } as never);
  for (let revision = 0; revision < 5000; revision++) events.tell({ kind: 'work', id: 'fox-1', revision });
  const reader = body!.getReader();
  let read = 0;
  while (!(await reader.read()).done) read++;
  expect(read).toBeGreaterThan(1000);
  expect(read).toBeLessThan(3000);
});
