// The addresses of ../api.ts. Thin: what is sent is read and checked, the studio does it, errors become one sentence.
import { randomBytes } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { type Context, Hono } from 'hono';
import { shownText } from '../../names.ts';
import { isSystemError, whySystem } from '../../problems/errno.ts';
import { UserError, wordProblem } from '../../problems/problem.ts';
import type { Format } from '../api.ts';
import { readChange, readCompare, readSeries, readSettings } from './bodies.ts';
import { fileName, readJson, saveBody, TooLarge } from './bodies-in.ts';
import type { Events } from './events.ts';
import { guard } from './guard.ts';
import { NotHere } from './held.ts';
import { ID } from './keep.ts';
import { faceOf, shadesOf } from './pictures.ts';
import type { Products } from './products.ts';
import type { DiskRoom } from './room.ts';
import type { SeriesRoom } from './series-room.ts';
import type { Studio } from './studio.ts';
import { PAGE } from './voice.ts';

export interface House {
  readonly key: string;
  /** known once it listens */
  readonly port: () => number;
  /** where the view lies */
  readonly view: string;
  readonly studio: Studio;
  readonly products: Products;
  readonly series: SeriesRoom;
  readonly events: Events;
  /** most bytes of an upload */
  readonly most: number;
  /** of all of them together */
  readonly room: DiskRoom;
  /** each leads to the page once */
  readonly tickets: Set<string>;
}

const TYPES: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  svg: 'image/svg+xml',
  png: 'image/png',
  jpg: 'image/jpeg',
  pdf: 'application/pdf',
  json: 'application/json',
  zip: 'application/zip',
  csv: 'text/csv; charset=utf-8',
};
const typeOf = (name: string): string => TYPES[name.slice(name.lastIndexOf('.') + 1)] ?? 'application/octet-stream';

const FORMATS: readonly Format[] = [
  'packet.pdf',
  'block.json',
  'preview.png',
  'sections-svg.zip',
  'sections-dxf.zip',
  'sheets-png.zip',
  'fabric.csv',
];

/** Pictures keep their address while what they show changes: asked again, but not sent again. */
const AGAIN = 'private, no-cache';

const bytesOf = (bytes: Uint8Array | string, type: string, more: Record<string, string> = {}): Response =>
  new Response(bytes as Uint8Array<ArrayBuffer> | string, { headers: { 'content-type': type, ...more } });

/** Names of any letters (RFC 6266, RFC 8187). */
const attachment = (name: string): Record<string, string> => ({
  'content-disposition': `attachment; filename="${name.replace(/[^\x20-\x7e]|["\\%]/g, '_')}"; filename*=UTF-8''${encodeURIComponent(name).replace(/['()*]/g, (ch) => `%${ch.charCodeAt(0).toString(16).toUpperCase()}`)}`,
});

export function routes(house: House): Hono {
  const { key, studio, products, series, events } = house;
  const app = new Hono();
  const api = new Hono();

  const idOf = (c: Context, name = 'id'): string => {
    const id = c.req.param(name) ?? '';
    if (!ID.test(id)) throw new NotHere();
    return id;
  };
  const workOf = (c: Context): string => {
    const id = idOf(c);
    if (!studio.has(id)) throw new NotHere();
    return id;
  };

  api.get('/works', async (c) => c.json(await studio.list()));
  api.post('/works', async (c) => withUpload(c, (file, name) => studio.begin(file, name)));
  api.get('/works/:id', async (c) => c.json(await studio.get(workOf(c))));
  api.patch('/works/:id/settings', async (c) =>
    c.json(await studio.set(workOf(c), readSettings(await readJson(c.req.raw)))),
  );
  api.post('/works/:id/changes', async (c) =>
    c.json(await studio.change(workOf(c), readChange(await readJson(c.req.raw)))),
  );
  api.post('/works/:id/looks', async (c) =>
    c.json(await products.look(workOf(c), readSettings(await readJson(c.req.raw)))),
  );
  api.post('/works/:id/undo', async (c) => c.json(await studio.undo(workOf(c))));
  api.post('/works/:id/redo', async (c) => c.json(await studio.redo(workOf(c))));
  api.post('/works/:id/away', async (c) => c.json(await studio.putAway(workOf(c), true)));
  api.post('/works/:id/back', async (c) => c.json(await studio.putAway(workOf(c), false)));
  api.post('/works/:id/copy', async (c) => c.json(await studio.copy(workOf(c))));
  api.post('/works/:id/cloths', async (c) => {
    const id = workOf(c);
    return withUpload(c, (file, name) => studio.addCloth(id, file, name));
  });
  api.get('/works/:id/cloths/:file', async (c) => {
    const id = workOf(c);
    const [, cloth] = /^([a-z0-9-]+)\.jpg$/.exec(c.req.param('file')) ?? [];
    if (!cloth || !ID.test(cloth)) throw new NotHere();
    return sendFile(studio.folder.work(id, 'cloths', `${cloth}.jpg`), 'image/jpeg');
  });
  api.get('/works/:id/picture.jpg', async (c) => sendFile(studio.folder.work(workOf(c), 'upright.jpg'), 'image/jpeg'));
  api.get('/works/:id/face.svg', async (c) => {
    const { step, look, last } = await studio.hold(workOf(c));
    const block = step.block ?? look?.block ?? last;
    if (!block) throw new NotHere();
    return bytesOf(await faceOf(block), TYPES.svg!, { 'cache-control': AGAIN });
  });
  api.get('/works/:id/shades.png', async (c) => {
    const { id, step, look } = await studio.hold(workOf(c));
    const block = step.block ?? look?.block;
    const regions = step.block ? await studio.folder.readRegions(id, step.number) : look?.regions;
    if (!block || !regions) throw new NotHere();
    return bytesOf(await shadesOf(regions, block), TYPES.png!, { 'cache-control': AGAIN });
  });
  api.get('/works/:id/sheets', async (c) => c.json((await products.sheets(workOf(c))).lines));
  api.get('/works/:id/sheets/:file', async (c) => {
    const id = workOf(c);
    const [, n] = /^([1-9]\d{0,3})\.svg$/.exec(c.req.param('file')) ?? [];
    const picture = n && (await products.sheets(id)).pictures[Number(n) - 1];
    if (!picture) throw new NotHere();
    return bytesOf(picture, TYPES.svg!, { 'cache-control': AGAIN });
  });
  api.get('/works/:id/fabric', async (c) => c.json(await products.fabric(workOf(c))));
  api.post('/works/:id/compare', async (c) =>
    c.json(await series.compare(workOf(c), readCompare(await readJson(c.req.raw)))),
  );
  api.get('/works/:id/files/:format', async (c) => {
    const id = workOf(c);
    const format = FORMATS.find((f) => f === c.req.param('format'));
    if (!format) throw new NotHere();
    const { name, bytes } = await products.file(id, format);
    return bytesOf(bytes, typeOf(format), attachment(name));
  });
  api.get('/series', (c) => c.json(series.list()));
  api.post('/series', async (c) => c.json(await series.begin(readSeries(await readJson(c.req.raw)))));
  api.get('/series/:id', (c) => c.json(series.get(idOf(c))));
  api.get('/series/:id/files/:name', async (c) => {
    const { path, name } = await series.file(idOf(c), c.req.param('name'));
    return sendFile(path, typeOf(name), attachment(name));
  });
  api.get('/events', (c) => events.stream(c));

  async function withUpload<T>(c: Context, use: (file: string, name: string) => Promise<T>): Promise<Response> {
    const name = fileName(c.req.header('x-file-name'));
    const file = join(studio.folder.root, 'works', `${randomBytes(8).toString('hex')}.part`);
    try {
      await house.room.count();
      await saveBody(c.req.raw, file, name, house.most, house.room);
      return c.json(await use(file, name));
    } finally {
      await rm(file, { force: true });
    }
  }

  app.use('*', guard(key, house.port, house.tickets));
  app.get('/open/:ticket', (c) => c.redirect(`/${key}/`, 303));
  app.route(`/${key}/api`, api);
  app.get(`/${key}/:file{[a-z0-9-]+\\.(?:html|js|css|svg|png|json)}`, async (c) =>
    showView(house.view, c.req.param('file')),
  );
  app.get(`/${key}/`, async () => showView(house.view, 'index.html'));
  app.get(`/${key}`, (c) => c.redirect(`/${key}/`, 301));
  app.notFound((c) => c.json({ says: 'There is nothing of that name here.' }, 404));
  const refuse = (e: Error, c: Context): Response => {
    if (e instanceof NotHere) return c.json({ says: 'There is nothing of that name here.' }, 404);
    if (e instanceof TooLarge) return c.json({ says: e.message }, 413);
    if (e instanceof UserError) return c.json({ says: wordProblem(e, PAGE) }, 422);
    // the disk is full, a folder was taken away: nobody's fault, and said as such
    if (isSystemError(e)) return c.json({ says: wordProblem(systemProblem(e), PAGE) }, e.code === 'ENOENT' ? 404 : 507);
    process.stderr.write(
      `seamwright: ${c.req.method} ${shownText(c.req.path.slice(key.length + 2))}: ${shownText(e.message)}\n`,
    );
    if (process.env.SEAMWRIGHT_TRACE) process.stderr.write(`${e.stack}\n`);
    return c.json({ says: `This is a fault of the program, not yours: ${e.message}` }, 500);
  };
  app.onError(refuse);
  api.onError(refuse);
  return app;
}

const systemProblem = (e: Error): UserError => new UserError('page-system-refused', { why: whySystem(e) });

async function showView(folder: string, file: string): Promise<Response> {
  try {
    return bytesOf(new Uint8Array(await readFile(join(folder, file))), typeOf(file), { 'cache-control': AGAIN });
  } catch {
    throw new NotHere();
  }
}

async function sendFile(path: string, type: string, more: Record<string, string> = {}): Promise<Response> {
  const stream = createReadStream(path);
  await new Promise<void>((open, fail) => stream.once('open', () => open()).once('error', fail)).catch(() => {
    throw new NotHere();
  });
  return new Response(Readable.toWeb(stream) as unknown as ReadableStream<Uint8Array>, {
    headers: { 'content-type': type, 'cache-control': AGAIN, ...more },
  });
}
