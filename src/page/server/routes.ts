// Everything that is asked for, behind its guard: the page's own files and the calls of ../api.ts. Errors become one sentence.
import { type Context, Hono } from 'hono';
import { shownText } from '../../names.ts';
import { isSystemError, whySystem } from '../../problems/errno.ts';
import { UserError, wordProblem } from '../../problems/problem.ts';
import { moreApi, tabletApi } from './api-more.ts';
import { worksApi } from './api-works.ts';
import { TooLarge } from './bodies-in.ts';
import type { Events } from './events.ts';
import { guard, ownNames } from './guard.ts';
import { NotHere } from './held.ts';
import type { Products } from './products.ts';
import type { DiskRoom } from './room.ts';
import { showView } from './send.ts';
import type { SeriesRoom } from './series-room.ts';
import { HandChanges } from './set-settings.ts';
import type { Shelf } from './shelf.ts';
import type { Studio } from './studio.ts';
import type { Shows, TabletDoor } from './tablet.ts';
import type { Ticks } from './ticks.ts';
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
  readonly shelf: Shelf;
  readonly ticks: Ticks;
  readonly tablet: TabletDoor;
  /** most bytes of an upload */
  readonly most: number;
  /** of all of them together */
  readonly room: DiskRoom;
  /** each leads to the page once */
  readonly tickets: Set<string>;
}

/** The page itself, for this machine alone. */
export function routes(house: House): Hono {
  const { key, tickets } = house;
  const app = new Hono();
  app.use(
    '*',
    guard(key, () => ownNames(house.port()), tickets),
  );
  app.get('/open/:ticket', (c) => c.redirect(`/${key}/`, 303));
  app.route(`/${key}/api`, tabletApi(house));
  return behind(app, key, house);
}

/** What a tablet may ask for that looks on: works and how they are sewn. */
const READS: readonly RegExp[] = [
  /^works$/,
  /^works\/[^/]+$/,
  /^works\/[^/]+\/(?:fabric|ticks|face\.svg|picture\.jpg)$/,
  /^works\/[^/]+\/cloths\/[^/]+\.jpg$/,
  /^(?:series|events|here)$/,
];
const TICKS = /^works\/[^/]+\/ticks$/;

/** What the tablet's door leads to. */
export function tabletRoutes(
  house: House,
  { key, hosts, shows }: { readonly key: string; readonly hosts: () => readonly string[]; readonly shows: Shows },
): Hono {
  const app = new Hono();
  app.use('*', guard(key, hosts));
  app.use(`/${key}/api/*`, async (c, next) => {
    const path = c.req.path.slice(`/${key}/api/`.length);
    const reads = c.req.method === 'GET' && READS.some((r) => r.test(path));
    const ticks = c.req.method === 'PUT' && TICKS.test(path);
    // nobody opens the door from outside
    if (path === 'tablet' || (shows === 'sewing' && !reads && !ticks))
      return c.json({ says: 'A tablet looks on and ticks what is sewn; change the block on the computer.' }, 403);
    await next();
    return undefined;
  });
  app.get(`/${key}/api/here`, (c) => c.json({ reads: shows === 'sewing' }));
  return behind(app, key, house);
}

function behind(app: Hono, key: string, house: House): Hono {
  const apis = [worksApi(house), moreApi(house)];
  for (const api of apis) app.route(`/${key}/api`, api);
  app.get(`/${key}/:file{[a-z0-9-]+\\.(?:html|js|css|svg|png|jpg|json)}`, async (c) =>
    showView(house.view, c.req.param('file')),
  );
  app.get(`/${key}/`, async () => showView(house.view, 'index.html'));
  app.get(`/${key}`, (c) => c.redirect(`/${key}/`, 301));
  app.notFound((c) => c.json({ says: 'There is nothing of that name here.' }, 404));
  const refuse = (e: Error, c: Context): Response => {
    if (e instanceof NotHere) return c.json({ says: 'There is nothing of that name here.' }, 404);
    if (e instanceof HandChanges) return c.json({ says: e.message, changes: e.count }, 409);
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
  for (const one of [app, ...apis]) one.onError(refuse);
  return app;
}

const systemProblem = (e: Error): UserError => new UserError('page-system-refused', { why: whySystem(e) });
