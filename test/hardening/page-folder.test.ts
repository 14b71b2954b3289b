// A page's folder that was damaged while the program was away, or while it runs: what is whole is shown, and what is lost is said.
import { mkdir, readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { fixture } from '../cli/run-program.ts';
import { newFolder, remove, type Visit, visit } from '../page/visit.ts';

let folder: string;
let v: Visit;
beforeEach(async () => {
  folder = await newFolder();
  v = await visit(folder);
});
afterEach(async () => {
  await v.close();
  await remove(folder);
});
const again = async (between: () => Promise<unknown>): Promise<void> => {
  await v.close();
  await between();
  v = await visit(folder);
};
const block = fixture('../test/page/fox.block.json');
const LOST = /could not be read any more/;

test('a last step that is cut off, or gone: the one before it, and that is said', async () => {
  const { body: work } = await v.upload(block);
  const step = (n: number): string => join(folder, 'works', work.id, 'steps', `000${n}.json`);
  await v.send('POST', `works/${work.id}/changes`, {
    kind: 'rename',
    fabric: work.block!.fabrics[0]!.code,
    name: 'one',
  });
  await v.send('POST', `works/${work.id}/changes`, {
    kind: 'rename',
    fabric: work.block!.fabrics[0]!.code,
    name: 'two',
  });
  expect((await v.work(work.id)).block!.fabrics[0]!.name).toBe('two');
  await again(() => truncate(step(3), 200));
  let now = await v.work(work.id);
  expect(now.block!.fabrics[0]!.name).toBe('one');
  expect(now.notes[0]).toMatch(LOST);
  await again(() => rm(step(2)));
  now = await v.work(work.id);
  expect(now.block!.fabrics[0]!.name).toBe(work.block!.fabrics[0]!.name);
  expect(now.undo).toBeUndefined();
  const { status, body } = await v.send('POST', `works/${work.id}/changes`, {
    ...{ kind: 'rename', fabric: work.block!.fabrics[0]!.code, name: 'three' },
  });
  expect([status, body.block!.fabrics[0]!.name, body.notes.some((n) => LOST.test(n))]).toEqual([200, 'three', false]);
  await again(() => rm(step(1)));
  now = await v.work(work.id);
  expect([now.block!.fabrics[0]!.name, now.undo]).toEqual(['three', undefined]);
});

test('a work without any step begins anew from its picture; one without anything says so', async () => {
  const { body: fox } = await v.upload(fixture('flat/noto-fox.svg'));
  const { body: file } = await v.upload(block);
  await again(async () => {
    for (const id of [fox.id, file.id]) await rm(join(folder, 'works', id, 'steps'), { recursive: true });
    await writeFile(join(folder, 'works', file.id, 'steps'), 'no folder');
  });
  expect((await v.work(fox.id)).notes[0]).toMatch(LOST);
  const answer = await v.get(`works/${file.id}`);
  expect(answer.status).toBe(422);
  expect(((await answer.json()) as { says: string }).says).toMatch(/Nothing of this work can be read/);
  expect(((await (await v.get('works')).json()) as unknown[]).length).toBe(2);
});

test('one work that is taken away while the page runs hides no other', async () => {
  const { body: one } = await v.upload(block);
  const { body: two } = await v.upload(block);
  await rm(join(folder, 'works', one.id), { recursive: true });
  const list = (await (await v.get('works')).json()) as { id: string }[];
  expect(list.map((w) => w.id)).toEqual([two.id]);
  const { status, body } = await v.send('POST', `works/${one.id}/changes`, {
    ...{ kind: 'rename', fabric: one.block!.fabrics[0]!.code, name: 'x' },
  });
  expect([status, body.says]).toEqual([404, 'That could not be kept: it is not there.']);
  expect((await v.work(two.id)).id).toBe(two.id);
});

test.each(['null', '{}', '{"format":"seamwright-page-series","version":1,"series":null}', ''])(
  'a series whose room.json says %j is left alone',
  async (text) => {
    await again(async () => {
      await mkdir(join(folder, 'series', 'odd-1'), { recursive: true });
      await writeFile(join(folder, 'series', 'odd-1', 'room.json'), text);
    });
    expect(await (await v.get('series')).json()).toEqual([]);
  },
);

test('what was under way when the program was killed is swept away', async () => {
  const { body: work } = await v.upload(block);
  const steps = join(folder, 'works', work.id, 'steps');
  await again(async () => {
    for (const f of ['0002.json.ab.part', '.ff.part']) await writeFile(join(steps, f), 'half');
    await writeFile(join(folder, 'address.json.part'), 'half');
  });
  expect(await readdir(steps)).toEqual(['0001.json']);
  expect((await readdir(folder)).filter((f) => f.endsWith('.part'))).toEqual([]);
});

test('a browser is started with an address that leads to the page once, and holds no key', async () => {
  const key = new URL(v.page.address).pathname.split('/')[1]!;
  const once = v.page.once();
  expect(once).not.toContain(key);
  const first = await fetch(once, { redirect: 'manual' });
  expect([first.status, first.headers.get('location')]).toEqual([303, `/${key}/`]);
  expect((await fetch(once, { redirect: 'manual' })).status).toBe(404);
  expect(
    (await fetch(v.page.once(), { redirect: 'manual', headers: { origin: 'http://pictures.example' } })).status,
  ).toBe(404);
  expect((await fetch(new URL('/open/', once), { redirect: 'manual' })).status).toBe(404);
});

test('a lock that is a folder, or names this very process from before, is no fault', async () => {
  const lock = join(folder, 'lock.json');
  await v.close();
  await writeFile(lock, JSON.stringify({ pid: process.pid }));
  v = await visit(folder);
  expect((await v.get('works')).status).toBe(200);
  await v.close();
  await mkdir(lock);
  await expect(visit(folder)).rejects.toThrow(/cannot be taken over; delete it/);
  await rm(lock, { recursive: true });
  await writeFile(lock, 'null');
  v = await visit(folder);
  expect(JSON.parse(await readFile(lock, 'utf8'))).toMatchObject({ pid: process.pid });
});
