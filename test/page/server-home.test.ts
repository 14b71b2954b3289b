// What belongs to the whole folder and not to one work: the shelf of fabrics, ticks of sewing, plans, and the tablet's door.
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readBlock, writeBlock } from '../../src/block.ts';
import { planYardage } from '../../src/fabric/plan-yardage.ts';
import type { Here, Plan, ShelfFabric } from '../../src/page/api.ts';
import { asOnShelf } from '../../src/page/server/shelf.ts';
import { homeAddresses } from '../../src/page/server/tablet.ts';
import { inches } from '../../src/units.ts';
import { fixture } from '../cli/run-program.ts';
import { ask, newFolder, remove, type Visit, visit } from './visit.ts';

const FOX = join(import.meta.dirname, 'fox.block.json');
let folder: string;
let v: Visit;
let id: string;

beforeAll(async () => {
  folder = await newFolder();
  v = await visit(folder);
  id = (await v.upload(FOX)).body.id;
});
afterAll(async () => {
  await v.close();
  await remove(folder);
});

describe('the shelf', () => {
  const shelf = async (): Promise<ShelfFabric[]> => (await (await v.get('shelf')).json()) as ShelfFabric[];

  test('stands by hue, each from light to dark, greys at the end', () => {
    const colours = ['#222222', '#103060', '#ff0000', '#a0c0f0', '#eeeeee', '#600000'];
    const order = asOnShelf(colours.map((colour) => ({ colour, name: colour }))).map((f) => f.colour);
    expect(order.slice(-2)).toEqual(['#eeeeee', '#222222']);
    expect(order.indexOf('#ff0000')).toBeLessThan(order.indexOf('#600000'));
    expect(order.indexOf('#a0c0f0')).toBeLessThan(order.indexOf('#103060'));
  });

  test('takes typed fabrics, a list and snapshots, for all works, and keeps them', async () => {
    const typed = { fabrics: [{ name: 'barn red', colour: '#A33B2E' }] };
    await v.send('POST', 'shelf', typed);
    // the same again is the same
    await v.send('POST', 'shelf', typed);
    expect(await shelf()).toMatchObject([{ name: 'barn red', colour: '#a33b2e', snapshot: false }]);
    const upload = (path: string, name: string, body: Uint8Array | string) =>
      fetch(`${v.page.address}api/${path}`, { method: 'POST', headers: { 'x-file-name': name }, body: body as never });
    expect(
      (await upload('shelf/list', 'mine.csv', 'name,colour\nsky,#9ac4e8\nmoss,#5c6b2f,directional\n')).status,
    ).toBe(200);
    expect((await upload('shelf/list', 'mine.csv', 'sky')).status).toBe(422);
    const bytes = await readFile(fixture('flat/raster-horse-jpeg-artefacts.jpg'));
    expect((await upload('shelf/snapshots', 'straw.jpg', new Uint8Array(bytes))).status).toBe(200);
    const all = await shelf();
    expect(all.map((f) => f.name).sort()).toEqual(['barn red', 'moss', 'sky', 'straw']);
    const straw = all.find((f) => f.snapshot)!;
    expect((await v.get(`shelf/${straw.id}.jpg`)).headers.get('content-type')).toBe('image/jpeg');
    // taken for a work it is the work's own, with its snapshot
    const taken = await v.send<{ id: string }>('POST', `works/${id}/cloths/shelf/${straw.id}`);
    expect((await v.get(`works/${id}/cloths/${taken.body.id}.jpg`)).status).toBe(200);
    const moss = all.find((f) => f.name === 'moss')!;
    await v.send('PATCH', `shelf/${moss.id}`, { name: 'deep moss', print: '' });
    await v.send('DELETE', `shelf/${straw.id}`);
    const left = await shelf();
    expect(left.find((f) => f.id === moss.id)).toEqual({
      id: moss.id,
      name: 'deep moss',
      colour: '#5c6b2f',
      snapshot: false,
    });
    expect(left).toHaveLength(3);
    expect((await v.get(`shelf/${straw.id}.jpg`)).status).toBe(404);
    expect((await v.send('DELETE', `shelf/${straw.id}`)).status).toBe(404);
  });

  test('pieces in a fabric that the block has not: it joins the others, and goes on paper', async () => {
    const paint = { kind: 'paint', pieces: ['A1'], name: 'barn red', colour: '#a33b2e' };
    const { body } = await v.send('POST', `works/${id}/changes`, paint);
    const fabric = body.block!.fabrics.at(-1)!;
    expect(fabric).toMatchObject({ name: 'barn red', colour: '#a33b2e', code: 'ff' });
    expect(body.block!.sections[0]!.pieces[0]!.fabric).toBe(fabric.id);
    // again: the same fabric
    const again = await v.send('POST', `works/${id}/changes`, { ...paint, pieces: ['A2'] });
    expect(again.body.block!.fabrics).toHaveLength(body.block!.fabrics.length);
    expect((await v.send('POST', `works/${id}/changes`, { ...paint, colour: 'red' })).status).toBe(422);
    // what it takes to buy follows by itself
    await v.until(id, (w) => (w.summary?.buy ?? '') !== '' && w.notes !== undefined);
  });
});

describe('sewing and planning', () => {
  test('ticks are kept in the folder; two tablets lose none of each other', async () => {
    await Promise.all([
      v.send('PUT', `works/${id}/ticks`, { on: ['abc'], off: [] }),
      v.send('PUT', `works/${id}/ticks`, { on: ['def', 'ghi'], off: [] }),
    ]);
    await v.send('PUT', `works/${id}/ticks`, { on: [], off: ['ghi'] });
    expect(((await (await v.get(`works/${id}/ticks`)).json()) as string[]).sort()).toEqual(['abc', 'def']);
    expect((await v.send('PUT', `works/${id}/ticks`, { on: ['../x'], off: [] })).status).toBe(422);
  });

  test('a quilt and a class are those of the yardage', async () => {
    const second = join(folder, 'second.block.json');
    await writeFile(second, writeBlock({ ...readBlock(await readFile(FOX, 'utf8'), FOX), name: 'second' }));
    const other = (await v.upload(second)).body.id;
    const quilt = {
      ...{ rows: 3, columns: 2, setting: 'straight', sashing: inches(1), sashingAround: true, cornerstones: true },
      ...{ borders: [inches(3)], binding: inches(2.5), overhang: inches(4) },
    };
    const asked = { works: [id, other], name: 'quilt', quilt };
    const { body } = await v.send<Plan>('POST', 'plan', asked);
    const blocks = await Promise.all([id, other].map(async (w) => (await v.work(w)).block!));
    const { units } = (await v.work(id)).settings;
    const { quilt: plan } = planYardage(blocks, {
      cloth: { system: units },
      quilt: {
        ...{ rows: 3, columns: 2, setting: 'straight', sashing: inches(1), sashingAround: true, cornerstones: true },
        ...{ borders: [inches(3)], backing: { overhang: inches(4) } },
      },
    });
    expect(body.blocks).toBe(6);
    expect(body.cloths).toEqual(plan!.cloths.map(({ what, buy }) => ({ what, buy })));
    const pdf = await fetch(`${v.page.address}api/plan/yardage.pdf`, { method: 'POST', body: JSON.stringify(asked) });
    expect(new TextDecoder('latin1').decode(new Uint8Array(await pdf.arrayBuffer()).slice(0, 5))).toBe('%PDF-');
    const people = await v.send<Plan>('POST', 'plan', { works: [id], name: 'class', class: { people: 10, spare: 2 } });
    expect(people.body.blocks).toBe(12);
    expect((await v.send('POST', 'plan', { ...asked, quilt: { ...quilt, rows: 0 } })).status).toBe(422);
    expect((await v.send('POST', 'plan', { ...asked, works: ['nobody'] })).status).toBe(404);
  });
});

describe.runIf(homeAddresses().length)('the tablet’s door', () => {
  test('is shut until it is opened; its key, names and origins are its own; it looks on and ticks; shut, nobody is in', async () => {
    expect(await (await v.get('here')).json()).toEqual({ reads: false });
    const { body } = await v.send<Here>('POST', 'tablet', { on: true });
    const { address } = body.tablet!;
    const { host, port, origin } = new URL(address);
    expect(host).not.toContain('127.0.0.1');
    // a key of its own: the page's own does not open it
    const key = new URL(v.page.address).pathname;
    expect(address).not.toContain(key);
    const at = (path: string): string => `${address}api/${path}`;
    const refused = [
      await ask(`${origin}${key}api/works`, {}),
      await ask(`${origin}/api/works`, {}),
      await ask(at('works'), { host: `pictures.example:${port}` }),
      await ask(at('works'), { host: `127.0.0.1:${port}` }),
      await ask(at('works'), { origin: 'http://pictures.example' }),
      await ask(at('works'), { 'sec-fetch-site': 'cross-site' }),
      await ask(`${v.page.address.replace(key, new URL(address).pathname)}api/works`, {}),
    ];
    expect(new Set(refused.map((r) => `${r.status} ${r.text}`))).toEqual(new Set(['404 Not found.']));
    // looks on
    expect((await ask(at('here'), {})).text).toBe('{"reads":true}');
    for (const path of ['works', `works/${id}`, `works/${id}/fabric`, `works/${id}/ticks`, `works/${id}/face.svg`])
      expect((await ask(at(path), {})).status, path).toBe(200);
    // changes nothing
    const sent = async (method: string, path: string, body: unknown = {}): Promise<number> =>
      (await fetch(at(path), { method, body: JSON.stringify(body) })).status;
    const before = await v.work(id);
    for (const [method, path] of [
      ['POST', 'works'],
      ['PATCH', `works/${id}/settings`],
      ['POST', `works/${id}/changes`],
      ['POST', `works/${id}/undo`],
      ['POST', `works/${id}/away`],
      ['POST', 'shelf'],
      ['POST', 'plan'],
      ['POST', 'series'],
      ['POST', 'tablet'],
      ['DELETE', 'shelf/fabric-1'],
    ] as const)
      expect(await sent(method, path), path).toBe(403);
    for (const path of [`works/${id}/files/block.json`, 'shelf', `works/${id}/sheets`])
      expect((await ask(at(path), {})).status, path).toBe(403);
    expect(await v.work(id)).toEqual(before);
    // ticks
    expect(await sent('PUT', `works/${id}/ticks`, { on: ['xyz'], off: [] })).toBe(200);
    expect(await (await v.get(`works/${id}/ticks`)).json()).toContain('xyz');
    // where the person allows more it may change works, but opens no door
    const { body: more } = await v.send<Here>('POST', 'tablet', { on: true, shows: 'all' });
    expect(more.tablet!.address).not.toBe(address);
    await expect(ask(at('works'), {})).rejects.toThrow();
    const wide = (path: string): string => `${more.tablet!.address}api/${path}`;
    expect((await ask(wide('shelf'), {})).status).toBe(200);
    const opened = await fetch(wide('tablet'), { method: 'POST', body: JSON.stringify({ on: true }) });
    expect(opened.status).toBe(403);
    // shut
    expect((await v.send('POST', 'tablet', { on: false })).body).toEqual({ reads: false });
    await expect(ask(wide('works'), {})).rejects.toThrow();
  });
});
