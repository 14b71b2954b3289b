// The addresses of the shelf, of plans for a class or a quilt, and of the tablet's door (../api.ts).
import { Hono } from 'hono';
import type { PlanAsked } from '../api.ts';
import { idOf, idOfPicture, withUpload } from './api-works.ts';
import { readFabricChange, readPlan, readShelf, readTablet } from './bodies.ts';
import { readJson } from './bodies-in.ts';
import { NotHere } from './held.ts';
import { ID } from './keep.ts';
import type { House } from './routes.ts';
import { attachment, bytesOf, sendFile, TYPES } from './send.ts';

export function moreApi(house: House): Hono {
  const { shelf, products, studio } = house;
  const api = new Hono();
  api.get('/shelf', async (c) => c.json(await shelf.list()));
  api.post('/shelf', async (c) => c.json(await shelf.add(readShelf(await readJson(c.req.raw)))));
  api.post('/shelf/list', (c) => withUpload(house, c, (file, name) => shelf.addList(file, name)));
  api.post('/shelf/snapshots', (c) => withUpload(house, c, (file, name) => shelf.addSnapshot(file, name)));
  api.patch('/shelf/:id', async (c) =>
    c.json(await shelf.change(idOf(c), readFabricChange(await readJson(c.req.raw)) as never)),
  );
  api.delete('/shelf/:id', async (c) => c.json(await shelf.remove(idOf(c))));
  api.get('/shelf/:file', (c) => sendFile(shelf.picture(idOfPicture(c)), 'image/jpeg'));

  const known = (asked: PlanAsked): PlanAsked => {
    for (const id of asked.works) if (!studio.has(id)) throw new NotHere();
    return asked;
  };
  api.get('/packets.zip', async (c) => {
    const works = (c.req.query('works') ?? '').split(',');
    for (const id of works) if (!ID.test(id) || !studio.has(id)) throw new NotHere();
    return bytesOf(await products.packets(works), TYPES.zip!, attachment('packets.zip'));
  });
  api.post('/plan', async (c) => c.json(await products.plan(known(readPlan(await readJson(c.req.raw))))));
  api.post('/plan/yardage.pdf', async (c) => {
    const asked = known(readPlan(await readJson(c.req.raw)));
    return bytesOf(await products.planPages(asked), TYPES.pdf!, attachment(`${asked.name}.yardage.pdf`));
  });
  return api;
}

/** Of the page itself alone: a tablet opens no door for others. */
export function tabletApi({ tablet }: House): Hono {
  const api = new Hono();
  api.get('/here', (c) => c.json(tablet.here()));
  api.post('/tablet', async (c) => {
    const { on, shows } = readTablet(await readJson(c.req.raw));
    return c.json(on ? await tablet.open(shows ?? 'sewing') : await tablet.shut());
  });
  return api;
}
