// A work from the picture to its printed templates over HTTP: first look and full block, changes, the way back, downloads.
// What the page makes is what the commands make, byte for byte.
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { pieceName, readBlock, writeBlock } from '../../src/block.ts';
import type { Work } from '../../src/page/api.ts';
import { randomBlock } from '../check/random-block.ts';
import { fixture, runProgram } from '../cli/run-program.ts';
import { readPdf } from '../packet/read-back.ts';
import { WAIT_PATIENCE_MS } from '../patience.ts';
import { listen, newFolder, remove, type Visit, visit } from './visit.ts';

let folder: string;
let out: string;
let v: Visit;
let id: string;
const PICTURE = 'flat/noto-fox.svg';
/** few, so that a full fit takes half a second */
const PIECES = 20;

const isFull = (w: Work): boolean => w.stage === 'full';
const bytesOf = async (path: string): Promise<Buffer> => Buffer.from(await (await v.get(path)).arrayBuffer());

beforeAll(async () => {
  [folder, out] = [await newFolder(), await newFolder()];
  v = await visit(folder);
});
afterAll(async () => {
  await v.close();
  await remove(folder);
  await remove(out);
});

describe('from the picture to the paper', () => {
  test('a first look, then the block that the command makes; two tabs hear of both', async () => {
    const tabs = [await listen(v.page.address), await listen(v.page.address)];
    const { status, body } = await v.upload(fixture(PICTURE));
    expect(status).toBe(200);
    expect(body).toMatchObject({ name: 'noto-fox', picture: { width: expect.any(Number) } });
    id = body.id;
    expect((await v.get(`works/${id}/picture.jpg`)).headers.get('content-type')).toBe('image/jpeg');
    await v.send('PATCH', `works/${id}/settings`, { pieces: PIECES });
    const look = await v.until(id, (w) => w.stage === 'coarse' || w.stage === 'full');
    expect(look.block!.source!.settings.effort).toBe(look.stage === 'coarse' ? 'glance' : 'full');
    const work = await v.until(id, isFull);
    expect(work.settings.pieces).toBe(PIECES);
    expect(work.summary).toMatchObject({ sections: work.block!.sections.length, buy: expect.stringMatching(/\w/) });
    expect(work.choices).toMatchObject({ kind: 'flat', shades: work.block!.fabrics.length });
    for (const tab of tabs) {
      const words = (): number => tab.heard.filter((e) => e.kind === 'work' && e.id === id).length;
      await expect.poll(words, { timeout: WAIT_PATIENCE_MS }).toBeGreaterThanOrEqual(3);
      expect(tab.heard.some((e) => e.kind === 'progress' && e.stage === 'fitting the pieces')).toBe(true);
      tab.stop();
    }
    const made = await runProgram(['block', fixture(PICTURE), '--out', out, '--pieces', `${PIECES}`], out);
    expect(made.code, made.err).toBe(0);
    expect(await bytesOf(`works/${id}/files/block.json`)).toEqual(await readFile(join(out, 'noto-fox.block.json')));
  });

  test('its packet, preview, sections and shopping list are those of the commands', async () => {
    const file = join(out, 'noto-fox.block.json');
    const preview = await readFile(join(out, 'noto-fox.preview.png'));
    expect((await bytesOf(`works/${id}/files/preview.png`)).equals(preview)).toBe(true);
    // beside the block from the front the command's packet shows the picture, the page's the picture in its fabrics
    const pagesOf = async (bytes: Uint8Array): Promise<string[]> =>
      (await readPdf(new Uint8Array(bytes))).pages
        .map((page) => page.words.join(' '))
        .filter((text) => !text.includes('The block from the front'));
    const packet = await pagesOf(await readFile(join(out, 'noto-fox.packet.pdf')));
    expect(packet.length).toBeGreaterThan(5);
    expect(await pagesOf(await bytesOf(`works/${id}/files/packet.pdf`))).toEqual(packet);
    const [sheets, table] = await Promise.all([
      runProgram(['sheets', file, '--format', 'svg', '--each', 'section'], out),
      runProgram(['yardage', file, '--csv', 'shopping'], out),
    ]);
    expect(sheets.code, sheets.err).toBe(0);
    const zip = unzipSync(new Uint8Array(await bytesOf(`works/${id}/files/sections-svg.zip`)));
    const { sections } = readBlock(await readFile(file, 'utf8'), file);
    expect(Object.keys(zip)).toEqual(sections.map((s) => `noto-fox.section-${s.id}.svg`));
    for (const [name, bytes] of Object.entries(zip))
      expect(Buffer.from(bytes).toString()).toBe(await readFile(join(out, name), 'utf8'));
    expect((await bytesOf(`works/${id}/files/fabric.csv`)).toString()).toBe(table.out);
    const named = (await v.get(`works/${id}/files/packet.pdf`)).headers.get('content-disposition');
    expect(named).toMatch(/^attachment; filename="noto-fox.packet.pdf"/);
    expect((await v.get(`works/${id}/files/packet.exe`)).status).toBe(404);
  });

  test('sheets name every section once or more, and the plan of the cloth every patch once', async () => {
    const { block } = await v.work(id);
    const lines = (await (await v.get(`works/${id}/sheets`)).json()) as { number: number; sections: string[] }[];
    expect([...new Set(lines.flatMap((l) => l.sections))].sort()).toEqual(block!.sections.map((s) => s.id).sort());
    expect((await bytesOf(`works/${id}/sheets/1.svg`)).toString()).toMatch(/^(<\?xml[^>]*>\s*)?<svg /);
    expect((await v.get(`works/${id}/sheets/99.svg`)).status).toBe(404);
    const plan = (await (await v.get(`works/${id}/fabric`)).json()) as { fabrics: { patches: string[] }[] };
    const names = plan.fabrics.flatMap((f) => f.patches.map((p) => p.split(':')[0]!));
    const all = block!.sections.flatMap((s) => s.pieces.map((p) => pieceName(s, p)));
    expect(names.sort()).toEqual(all.sort());
  });
});

describe('there and back', () => {
  test('a newer change cancels an older one, and is one step back', async () => {
    await v.send('PATCH', `works/${id}/settings`, { pieces: 120 });
    await v.send('PATCH', `works/${id}/settings`, { pieces: 90 });
    const { body } = await v.send('PATCH', `works/${id}/settings`, { pieces: 16 });
    expect(body).toMatchObject({ stage: 'waiting', undo: `back to ${PIECES} pieces` });
    const work = await v.until(id, isFull);
    expect(work.summary!.pieces).toBeLessThanOrEqual(16);
    expect((await v.send('POST', `works/${id}/undo`)).body).toMatchObject({ stage: 'full', redo: 'on to 16 pieces' });
  });

  test('a name, measures, paper and what is on it fit nothing again, and give what the command gives', async () => {
    const { block, stage } = await v.work(id);
    expect(stage).toBe('full');
    const set = { name: 'yard fox', paper: 'a4', units: 'metric', fill: 'tint', designer: 'Pepper' };
    const { body } = await v.send('PATCH', `works/${id}/settings`, set);
    expect(body).toMatchObject({ stage: 'full', block: { name: 'yard fox' } });
    expect(body.block!.sections).toEqual(block!.sections);
    const words = [
      '--name',
      'yard fox',
      '--paper',
      'a4',
      '--units',
      'metric',
      '--fill',
      'tint',
      '--designer',
      'Pepper',
    ];
    const call = ['block', fixture(PICTURE), '--pieces', `${PIECES}`, ...words, '--out', out];
    const made = await runProgram(call, out);
    expect(made.code, made.err).toBe(0);
    expect(await bytesOf(`works/${id}/files/block.json`)).toEqual(await readFile(join(out, 'yard fox.block.json')));
    await v.send('POST', `works/${id}/undo`);
  });

  test('while a block is being made, a name is given to that one', async () => {
    const copy = (await v.send('POST', `works/${id}/copy`)).body.id;
    await v.send('PATCH', `works/${copy}/settings`, { seed: 7 });
    const { body } = await v.send('PATCH', `works/${copy}/settings`, { name: 'barn fox', designer: 'Pepper' });
    expect(body.stage).not.toBe('full');
    expect(body.undo).toBeDefined();
    const done = await v.until(copy, isFull);
    expect(done).toMatchObject({ name: 'barn fox', block: { name: 'barn fox' }, settings: { seed: 7 } });
    await v.send('POST', `works/${copy}/away`);
  });

  test('changes by hand: what can be sewn is the next edition, what cannot says why and does not happen', async () => {
    const before = await v.work(id);
    const fabricOfA1 = before.block!.sections[0]!.pieces[0]!.fabric;
    const other = before.block!.fabrics.find((f) => f.id !== fabricOfA1)!;
    const change = (body: unknown) => v.send('POST', `works/${id}/changes`, body);
    const there = await change({ kind: 'fabric', pieces: ['A1'], fabric: other.id });
    expect(there).toMatchObject({ status: 200, body: { stage: 'changed', block: { edition: 'B' } } });
    const { sections } = there.body.block!;
    expect(sections[0]!.pieces[0]!.fabric).toBe(other.id);
    const far = await change({ kind: 'move', seam: 'A2', by: 500 });
    expect(far).toMatchObject({ status: 422, body: { says: expect.stringMatching(/nothing of|too narrow|leaves/) } });
    for (const wrong of [{ kind: 'merge', first: 'A1', second: 'Z9' }, { kind: 'melt' }, { kind: 'move', seam: 'A2' }])
      expect((await change(wrong)).status).toBe(422);
    const now = await v.work(id);
    expect(now.block!.sections).toEqual(sections);
    expect(now.undo).toBe(`take back: A1 in ${other.name}`);

    await writeFile(join(out, 'mine.block.json'), await bytesOf(`works/${id}/files/block.json`));
    const packet = await bytesOf(`works/${id}/files/packet.pdf`);
    const file = join(out, 'noto-fox.block.json');
    const command = ['change', file, '--fabric', `A1=${other.code}`, '--name', 'two'];
    expect((await runProgram(command, out)).code).toBe(0);
    expect(await readFile(join(out, 'mine.block.json'), 'utf8')).toBe(
      await readFile(join(out, 'two.block.json'), 'utf8'),
    );
    expect(packet.equals(await readFile(join(out, 'two.packet.pdf')))).toBe(true);
  });

  test('the way back goes over a restart, at the same address, through changes and settings alike', async () => {
    const { address } = v.page;
    const { port } = new URL(address);
    const changed = await v.work(id);
    await v.close();
    v = await visit(folder, { port: Number(port) });
    expect(v.page.address).toBe(address);
    expect((await v.work(id)).block).toEqual(changed.block);
    const undo = async (): Promise<Work> => (await v.send('POST', `works/${id}/undo`)).body;
    const back = await undo();
    expect(back).toMatchObject({ stage: 'full', settings: { pieces: PIECES }, undo: 'back to 80 pieces' });
    expect((await undo()).settings.pieces).toBe(80);
    expect((await v.send('POST', `works/${id}/undo`)).status).toBe(422);
    for (let i = 0; i < 2; i++) await v.send('POST', `works/${id}/redo`);
    const there = await v.work(id);
    expect(there.block).toEqual(changed.block);
    expect(there.redo).toBeUndefined();
  });

  test('what is for the paper alone leaves a changed block as it is; what is not fits it anew', async () => {
    const changed = await v.work(id);
    const paper = await v.send('PATCH', `works/${id}/settings`, { designer: 'Pepper', fill: 'tint' });
    expect(paper.body).toMatchObject({ stage: 'changed', block: { edition: 'B' } });
    expect(paper.body.block!.sections).toEqual(changed.block!.sections);
    // another fit would set the changes aside: it is asked first, and nothing has happened
    const asked = await v.send('PATCH', `works/${id}/settings`, { seed: 2 });
    expect(asked).toMatchObject({ status: 409, body: { changes: 1, says: expect.stringContaining('set aside') } });
    expect((await v.work(id)).settings.seed).toBe(1);
    expect(paper.body.byHand).toBe(1);
    const { body } = await v.send('PATCH', `works/${id}/settings?over=hand`, { seed: 2 });
    expect(body.stage).toBe('waiting');
    // what became of them is said
    const told = await v.until(id, (w) => w.notes.some((n) => /your (1 )?changes/i.test(n)));
    expect(told.block!.sections).not.toEqual(changed.block!.sections);
    if (told.stage === 'changed') await v.send('POST', `works/${id}/undo`);
    expect((await v.send('POST', `works/${id}/undo`)).body.block!.edition).toBe('B');
  });

  test('put away, taken back, copied', async () => {
    await v.send('POST', `works/${id}/away`);
    expect(await (await v.get('works')).json()).toContainEqual(expect.objectContaining({ id, away: true }));
    await v.send('POST', `works/${id}/back`);
    const { body: copy } = await v.send('POST', `works/${id}/copy`);
    expect(copy.id).not.toBe(id);
    expect(copy.block).toEqual((await v.work(id)).block);
    await v.send('POST', `works/${copy.id}/undo`);
    expect((await v.work(id)).redo).toBeDefined();
    expect(((await (await v.get('works')).json()) as unknown[]).length).toBe(3);
  });

  test('a block file opens again and goes on', async () => {
    const { status, body } = await v.upload(join(out, 'two.block.json'));
    expect(status).toBe(200);
    expect(body).toMatchObject({ stage: 'changed', block: { edition: 'B' } });
    expect(body.picture).toBeUndefined();
    expect(await bytesOf(`works/${body.id}/files/block.json`)).toEqual(await readFile(join(out, 'two.block.json')));
    const { body: next } = await v.send('POST', `works/${body.id}/changes`, {
      kind: 'rename',
      fabric: 'f1',
      name: 'fur',
    });
    expect(next.block).toMatchObject({ edition: 'C' });
    // nothing of C has been given out: it is still C
    const rename = (name: string) => v.send('POST', `works/${body.id}/changes`, { kind: 'rename', fabric: 'f1', name });
    expect((await rename('coat')).body.block!.edition).toBe('C');
    await bytesOf(`works/${body.id}/files/block.json`);
    expect((await rename('hide')).body.block!.edition).toBe('D');
    // back where the letter C still meant another block: that goes out under a letter of its own
    await v.send('POST', `works/${body.id}/undo`);
    await v.send('POST', `works/${body.id}/undo`);
    expect(JSON.parse((await bytesOf(`works/${body.id}/files/block.json`)).toString())).toMatchObject({ edition: 'D' });
    expect((await v.send('PATCH', `works/${body.id}/settings`, { pieces: 30 })).status).toBe(422);
  });

  test('a block file that asks for narrower pieces than a fit may opens, prints and changes', async () => {
    const narrow = { ...randomBlock(5), name: '../barn' };
    await writeFile(join(out, 'narrow.json'), writeBlock(narrow));
    const { status, body } = await v.upload(join(out, 'narrow.json'));
    expect(status, body.says).toBe(200);
    const [first, second] = narrow.fabrics;
    const own = narrow.sections[0]!.pieces[0]!.fabric;
    const fabric = (own === first!.id ? second! : first!).id;
    const changed = await v.send('POST', `works/${body.id}/changes`, { kind: 'fabric', pieces: ['A1'], fabric });
    expect(changed.status, changed.body.says).toBe(200);
    const zip = unzipSync(new Uint8Array(await bytesOf(`works/${body.id}/files/sections-dxf.zip`)));
    expect(Object.keys(zip).every((name) => !/[/\\]|^\./.test(name))).toBe(true);
    expect(Object.keys(zip).length).toBe(narrow.sections.length);
  });

  test('a thread that dies costs its own work, and the page goes on', async () => {
    await v.send('PATCH', `works/${id}/settings?over=hand`, { pieces: 300 });
    await v.until(id, (w) => w.stage === 'coarse');
    await Promise.all(v.page.crew.threads.map((t) => t.terminate()));
    const failed = await v.until(id, (w) => w.stage === 'failed');
    expect(failed.failed).toMatch(/broken off by a fault of the program/);
    expect((await v.send('POST', `works/${id}/undo`)).body.stage).toBe('changed');
    await v.send('PATCH', `works/${id}/settings?over=hand`, { pieces: 12 });
    const made = await v.until(id, (w) => w.stage === 'full' || w.stage === 'changed');
    expect(made.summary!.pieces).toBeLessThanOrEqual(12);
  });

  test('an upload does not wait for the long fit of another work', async () => {
    await v.send('PATCH', `works/${id}/settings?over=hand`, { pieces: 400 });
    await v.until(id, (w) => w.stage !== 'waiting');
    const { body } = await v.upload(fixture('lines/lucide-cat.png'));
    const shown = await v.until(body.id, (w) => w.block !== undefined);
    expect(shown.block!.sections.length).toBeGreaterThan(0);
    expect((await v.work(id)).stage).toBe('coarse');
  });
});

test('a work that is looked at all the time while it is changed keeps every change', async () => {
  const { body } = await v.upload(fixture('flat/twemoji-sunflower.svg'));
  let looking = true;
  const looks = (async () => {
    while (looking) await v.work(body.id);
  })();
  for (const pieces of [12, 14, 16, 18]) {
    await v.send('PATCH', `works/${body.id}/settings`, { pieces });
    expect((await v.work(body.id)).settings.pieces).toBe(pieces);
  }
  const work = await v.until(body.id, isFull);
  looking = false;
  await looks;
  expect(work.settings.pieces).toBe(18);
  expect(work.block!.sections.flatMap((x) => x.pieces).length).toBeLessThanOrEqual(18);
});
