// The addresses of works (../api.ts). Thin: what is sent is read and checked, the studio does it.
import { randomBytes } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type Context, Hono } from 'hono';
import { readChange, readCompare, readSeries, readSettings, readTicks } from './bodies.ts';
import { fileName, readJson, saveBody } from './bodies-in.ts';
import { NotHere } from './held.ts';
import { ID } from './keep.ts';
import { faceOf, shadesOf } from './pictures.ts';
import type { House } from './routes.ts';
import { AGAIN, attachment, bytesOf, FORMATS, sendFile, TYPES, typeOf } from './send.ts';

/** An upload on disk while it is used, then gone. */
export async function withUpload<T>(
  house: House,
  c: Context,
  use: (file: string, name: string) => Promise<T>,
): Promise<Response> {
  const name = fileName(c.req.header('x-file-name'));
  const file = join(house.studio.folder.root, 'works', `${randomBytes(8).toString('hex')}.part`);
  try {
    await house.room.count();
    await saveBody(c.req.raw, file, name, house.most, house.room);
    return c.json(await use(file, name));
  } finally {
    await rm(file, { force: true });
  }
}

export function idOf(c: Context, name = 'id'): string {
  const id = c.req.param(name) ?? '';
  if (!ID.test(id)) throw new NotHere();
  return id;
}

/** `FABRIC.jpg` -> FABRIC */
export function idOfPicture(c: Context): string {
  const [, id] = /^([a-z0-9-]+)\.jpg$/.exec(c.req.param('file') ?? '') ?? [];
  if (!id || !ID.test(id)) throw new NotHere();
  return id;
}

export function worksApi(house: House): Hono {
  const { studio, products, series, events, ticks, shelf } = house;
  const api = new Hono();
  const workOf = (c: Context): string => {
    const id = idOf(c);
    if (!studio.has(id)) throw new NotHere();
    return id;
  };

  api.get('/works', async (c) => c.json(await studio.list()));
  api.post('/works', async (c) => withUpload(house, c, (file, name) => studio.begin(file, name)));
  api.get('/works/:id', async (c) => c.json(await studio.get(workOf(c))));
  api.patch('/works/:id/settings', async (c) =>
    c.json(await studio.set(workOf(c), readSettings(await readJson(c.req.raw)), c.req.query('over') === 'hand')),
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
    return withUpload(house, c, async (file, name) => {
      const cloth = await studio.addCloth(id, file, name);
      await shelf.keepCloth(cloth, studio.folder.work(id, 'cloths', `${cloth.id}.jpg`));
      return cloth;
    });
  });
  api.post('/works/:id/cloths/shelf/:fabric', async (c) => {
    const own = await shelf.find(idOf(c, 'fabric'));
    return c.json(await studio.takeCloth(workOf(c), own, shelf.picture(own.id)));
  });
  api.get('/works/:id/ticks', async (c) => c.json(await ticks.read(workOf(c))));
  api.put('/works/:id/ticks', async (c) => {
    const id = workOf(c);
    const { on, off } = readTicks(await readJson(c.req.raw));
    return c.json(await ticks.change(id, on, off));
  });
  api.get('/works/:id/cloths/:file', async (c) => {
    const id = workOf(c);
    return sendFile(studio.folder.work(id, 'cloths', `${idOfPicture(c)}.jpg`), 'image/jpeg');
  });
  api.get('/works/:id/picture.jpg', async (c) => sendFile(studio.folder.work(workOf(c), 'upright.jpg'), 'image/jpeg'));
  api.get('/works/:id/face.svg', async (c) => {
    const { step, before, look, last } = await studio.hold(workOf(c));
    // as it was before the last step
    const block = c.req.query('before') ? before?.block : (step.block ?? look?.block ?? last);
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
  return api;
}
