// `seamwright verify`: what is whole, what goes back to its last whole step, what is lost.
import { cp, mkdir, readdir, rm, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { callHere, fixture } from '../cli/run-program.ts';
import { newFolder, remove, visit } from '../page/visit.ts';

let folder: string;
beforeEach(async () => {
  folder = await newFolder();
});
afterEach(() => remove(folder));

const block = fixture('../test/page/fox.block.json');

test("a page's folder", async () => {
  let v = await visit(folder);
  const ids: string[] = [];
  for (let i = 0; i < 3; i++) {
    const { body } = await v.upload(block);
    ids.push(body.id);
    const code = body.block!.fabrics[0]!.code;
    for (const name of ['one', 'two'])
      await v.send('POST', `works/${body.id}/changes`, { kind: 'rename', fabric: code, name });
  }
  expect((await callHere(['verify', folder], folder)).code).toBe(2);
  await v.close();
  const before = (await readdir(folder, { recursive: true })).length;
  expect(await callHere(['verify', folder], folder)).toMatchObject({
    code: 0,
    out: `${folder}: 3 whole, 0 brought back, 0 lost.\n`,
  });
  await truncate(join(folder, 'works', ids[0]!, 'steps', '0003.json'), 99);
  await rm(join(folder, 'works', ids[1]!, 'steps'), { recursive: true });
  const said = await callHere(['verify', folder, '--json'], folder);
  const found = JSON.parse(said.out) as { whole: string[]; mended: { name: string }[]; lost: { name: string }[] };
  expect([said.code, found.whole, found.mended.map((m) => m.name), found.lost.map((m) => m.name)]).toEqual([
    ...[1, [ids[2]], [ids[0]], [ids[1]]],
  ]);
  // three steps and their folder were taken away by hand; nothing else is gone
  expect((await readdir(folder, { recursive: true })).length).toBe(before - 4);
  v = await visit(folder);
  const work = await v.work(ids[0]!);
  expect([work.block!.fabrics[0]!.name, work.notes.some((n) => /could not be read/.test(n))]).toEqual(['one', false]);
  await v.close();
});

test("a series' folder, and one that is neither", async () => {
  expect((await callHere(['verify', folder], folder)).err).toMatch(/is neither a page's folder nor that of a series/);
  await mkdir(join(folder, 'in'));
  await cp(fixture('flat/noto-fox.svg'), join(folder, 'in', 'fox.svg'));
  await writeFile(join(folder, 's.yaml'), 'block: { pieces: 12, effort: quick }\n');
  expect(
    (await callHere(['series', 'in', '--settings', 's.yaml', '--out', 'out', '--workers', '1'], folder)).code,
  ).toBe(0);
  expect(await callHere(['verify', 'out'], folder)).toMatchObject({
    code: 0,
    out: 'out: 1 whole, 0 brought back, 0 lost.\n',
  });
  expect((await readdir(join(folder, 'out'))).filter((f) => /lock|part/.test(f))).toEqual([]);
  await truncate(join(folder, 'out', '01 fox', 'fox.block.json'), 500);
  const said = await callHere(['verify', 'out'], folder);
  expect([said.code, said.out]).toEqual([
    1,
    expect.stringMatching(/^out: 0 whole, 0 brought back, 1 lost\.\nLost 01 fox: /),
  ]);
});
