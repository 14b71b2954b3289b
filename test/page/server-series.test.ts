// Comparisons and series through the page's server: what the commands make, and what becomes of the works.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Series, Work, WorkComparison } from '../../src/page/api.ts';
import { fixture } from '../cli/run-program.ts';
import { WAIT_PATIENCE_MS } from '../patience.ts';
import { newFolder, remove, type Visit, visit } from './visit.ts';

let folder: string;
let v: Visit;
const ids: string[] = [];

beforeAll(async () => {
  folder = await newFolder();
  v = await visit(folder);
  for (const file of ['flat/noto-fox.svg', 'lines/lucide-cat.png']) {
    const { body } = await v.upload(fixture(file), 'friend.png');
    ids.push(body.id);
    await v.send('PATCH', `works/${body.id}/settings`, { pieces: 12, shades: 3 });
  }
});
afterAll(async () => {
  await v.close();
  await remove(folder);
});

test('a cell of a comparison, picked, is the block that was shown', async () => {
  const counts = { shades: [3], pieces: [12, 8] };
  const { status, body } = await v.send<WorkComparison>('POST', `works/${ids[0]}/compare`, counts);
  expect(status, body.says).toBe(200);
  expect(body).toMatchObject({ shades: [3], pieces: [8, 12] });
  const cell = body.cells[1]![0]!;
  await v.send('PATCH', `works/${ids[0]}/settings`, cell.settings);
  const work = await v.until(ids[0]!, (w) => w.stage === 'full');
  expect(work.block!.sections).toEqual(cell.block.sections);
  expect(work.summary).toMatchObject(cell.summary);
  expect((await v.send('POST', `works/${ids[0]}/compare`, { shades: [1] })).status).toBe(422);
});

test('a series gives its works common fabrics, twins names of their own, and goes on after a stop', async () => {
  const asked = { name: 'shelter friends', works: ids, settings: {}, common: 'fabrics' };
  const { body } = await v.send<Series>('POST', 'series', asked);
  expect(body).toMatchObject({ stage: 'working', works: ids });
  await v.close();
  v = await visit(folder);
  const series = async (): Promise<Series> => (await (await v.get(`series/${body.id}`)).json()) as Series;
  await expect
    .poll(async () => (await series()).stage, { timeout: WAIT_PATIENCE_MS, interval: 200 })
    .not.toBe('working');
  const done = await series();
  expect(done, done.failed).toMatchObject({ stage: 'done' });
  const codes = new Map(done.fabrics.map((f) => [f.code, f.colour]));
  const works: Work[] = [];
  for (const id of ids) works.push(await v.work(id));
  expect(works.map((w) => w.block!.name)).toEqual(['friend', 'friend 2']);
  for (const w of works) {
    expect(w.stage).toBe('full');
    for (const f of w.block!.fabrics) expect(codes.get(f.code)).toBe(f.colour);
    expect(w.undo).toBe('take back: the series shelter friends');
  }
  for (const f of done.files) {
    const answer = await v.get(`series/${body.id}/files/${encodeURIComponent(f.name)}`);
    expect(answer.status).toBe(200);
    expect((await answer.arrayBuffer()).byteLength).toBeGreaterThan(1000);
  }
  expect(done.files.length).toBe(3);
  const later = await v.send('PATCH', `works/${ids[0]}/settings`, { pieces: 10 });
  expect(later.body.settings.cloths.length).toBe(done.fabrics.length);
});
