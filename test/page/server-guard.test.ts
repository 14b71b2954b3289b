// Who may ask the page's server, and for what: key, host, origin, sizes, names; one server a folder.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fixture } from '../cli/run-program.ts';
import { ask, newFolder, remove, type Visit, visit } from './visit.ts';

let folder: string;
let view: string;
let v: Visit;
const MOST = 20_000;

beforeAll(async () => {
  folder = await newFolder();
  view = await newFolder();
  await writeFile(join(view, 'index.html'), '<!doctype html><title>page</title>');
  await writeFile(join(view, 'app.js'), 'export {};');
  v = await visit(folder, { view, most: MOST });
});
afterAll(async () => {
  await v.close();
  await remove(folder);
  await remove(view);
});

describe('who may ask', () => {
  const at = (path = ''): string => `${v.page.address}${path}`;

  test('the page and its parts come with their types and a policy that lets nothing in', async () => {
    const page = await ask(at(), {});
    expect(page.status).toBe(200);
    expect(page.headers['content-type']).toMatch(/^text\/html/);
    const policy = String(page.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
    expect(page.headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer' });
    const script = await ask(at('app.js'), {});
    expect(script.headers['content-type']).toMatch(/^text\/javascript/);
    const works = await ask(at('api/works'), {});
    expect(works.headers).toMatchObject({ 'cache-control': 'no-store', 'content-type': 'application/json' });
    expect(works.text).toBe('[]');
  });

  test('a wrong key, another name for this machine and another origin find nothing, and no hint', async () => {
    const { origin, port } = new URL(at());
    const wrong = at('api/works').replace(/\/[^/]{32}\//, `/${'A'.repeat(32)}/`);
    const refused = [
      await ask(wrong, {}),
      await ask(`${origin}/`, {}),
      await ask(`${origin}/api/works`, {}),
      await ask(at('api/works'), { host: `pictures.example:${port}` }),
      await ask(at('api/works'), { host: '127.0.0.1' }),
      await ask(at('api/works'), { origin: 'http://pictures.example' }),
      await ask(at('api/works'), { origin: 'null' }),
      await ask(at('api/works'), { 'sec-fetch-site': 'cross-site' }),
      await ask(at('api/works'), { 'sec-fetch-site': 'same-site' }),
      await ask(at('api/works'), { 'sec-fetch-site': 'none' }, 'POST'),
    ];
    expect(new Set(refused.map((r) => `${r.status} ${r.text}`))).toEqual(new Set(['404 Not found.']));
  });

  test('the page itself may, also by the name localhost', async () => {
    const { port } = new URL(at());
    const own = { host: `localhost:${port}`, origin: `http://localhost:${port}`, 'sec-fetch-site': 'same-origin' };
    expect((await ask(at('api/works'), own)).status).toBe(200);
  });

  test('names that are no ids lead out of no folder', async () => {
    await mkdir(join(folder, 'works', 'real'), { recursive: true });
    for (const path of [
      'works/..%2f..%2faddress.json',
      'works/%2e%2e/picture.jpg',
      'works/real/cloths/..%2f..%2fwork.jpg',
      'works/Real/face.svg',
      'works/nothing-here',
      'series/..%2fworks/files/a',
    ])
      expect(await ask(at(`api/${path}`), {}), path).toMatchObject({ status: 404 });
    for (const path of ['address.json', '..%2faddress.json', '%2e%2e%2fapp.js', 'lock.json'])
      expect(await ask(at(path), {}), path).toMatchObject({ status: 404 });
  });
});

describe('what may be sent', () => {
  test('no file over the limit, said or not, and nothing of it stays', async () => {
    const large = await v.upload(fixture('photos/cat-chelsea-face.jpg'));
    expect(large).toMatchObject({ status: 413, body: { says: expect.stringMatching(/too large/) } });
    let sent = 0;
    const stream = new ReadableStream<Uint8Array>({
      pull(c) {
        sent += 5000;
        c.enqueue(new Uint8Array(5000));
        if (sent >= 1000 * MOST) c.close();
      },
    });
    const endless = await fetch(`${v.page.address}api/works`, {
      method: 'POST',
      body: stream,
      duplex: 'half',
    } as RequestInit).then(
      (r) => r.status,
      () => 413,
    );
    expect(endless).toBe(413);
    expect(sent).toBeLessThan(1000 * MOST);
    expect((await readdir(join(folder, 'works'))).filter((f) => f.endsWith('.part'))).toEqual([]);
  });

  test.each([
    ['hostile/html-named.jpg'],
    ['hostile/pdf-named.png'],
    ['hostile/empty.jpg'],
    ['hostile/truncated-header.jpg'],
    ['hostile/svg-billion-laughs.svg'],
    ['hostile/bomb-max-header.png'],
    ['hostile/one-pixel.png'],
  ])('%s is refused in one sentence, and the page lives on', async (file) => {
    const { status, body } = await v.upload(fixture(file));
    expect(status).toBe(422);
    expect(body.says).toMatch(/^\S.*\.$/);
    expect(body.says).not.toMatch(/fault of the program|seamwright-page-/);
    expect(await (await v.get('works')).json()).toEqual([]);
  });

  test('JSON that is none, too long, or no settings', async () => {
    const { body: work } = await v.upload(fixture('flat/noto-fox.svg'));
    const settings = `works/${work.id}/settings`;
    const bad = await fetch(`${v.page.address}api/${settings}`, { method: 'PATCH', body: '{"pieces":' });
    expect(bad.status).toBe(422);
    for (const [given, says] of [
      [{ pieces: 601 }, /^Pieces: "601" is not a whole number from 2 to 600/],
      [{ shades: 1 }, /^Fabrics: /],
      [{ smallest: 1 }, /under 1\/4 in/],
      [{ size: [10, 10] }, /from 3 to 60 in/],
      [{ name: '../fox' }, /^Name/],
      [{ paper: 'a0' }, /^Paper: /],
      [{ crop: [0, 0, 2, 1] }, /^What the block shows: /],
      [{ colour: 'red' }, /^There is no setting Colour\./],
      [{ designer: 'x'.repeat(2_000_000) }, /too long/],
    ] as const) {
      const { status, body } = await v.send('PATCH', settings, given);
      expect(status).toBeGreaterThanOrEqual(400);
      expect(status).toBeLessThan(500);
      expect(body.says).toMatch(says);
    }
    expect((await v.work(work.id)).undo).toBeUndefined();
  });
});

describe('one program a folder', () => {
  test('a second one is told where the first is', async () => {
    await expect(visit(folder)).rejects.toThrow(/already|in use/);
  });

  test('a lock that a dead program left is taken over; one of a living program is not', async () => {
    const other = await newFolder();
    try {
      const lock = join(other, 'lock.json');
      // the pid of init lives, and no page answers at that address
      await writeFile(lock, JSON.stringify({ pid: 1, address: 'http://127.0.0.1:1/key/' }));
      const first = await visit(other);
      expect(JSON.parse(await readFile(lock, 'utf8'))).toEqual({ pid: process.pid, address: first.page.address });
      await first.close();
      expect((await readdir(other)).sort()).toEqual(['address.json', 'series', 'works']);
      await writeFile(lock, JSON.stringify({ pid: 1 }));
      await expect(visit(other)).rejects.toThrow(/Another page works with/);
    } finally {
      await remove(other);
    }
  });
});
