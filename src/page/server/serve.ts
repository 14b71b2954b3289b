// Starts the page: a server on this machine alone over a folder of works, and ends it with nothing half done.
import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import { fileURLToPath } from 'node:url';
import { getRequestListener } from '@hono/node-server';
import { LARGEST_FILE } from '../../files.ts';
import { UserError } from '../../problems/problem.ts';
import { Crew } from './crew.ts';
import { Events } from './events.ts';
import { Folder } from './keep.ts';
import { lockFolder, readAddress, writeAddress } from './lock.ts';
import { Products } from './products.ts';
import { DiskRoom } from './room.ts';
import { type House, routes, tabletRoutes } from './routes.ts';
import { SeriesRoom } from './series-room.ts';
import { Shelf } from './shelf.ts';
import { Studio } from './studio.ts';
import { TabletDoor } from './tablet.ts';
import { Ticks } from './ticks.ts';

/** series and comparisons at once, each over threads of its own */
const MOST_LONG = 2;
/** how long a browser may take to start */
const TICKET_MS = 120_000;

export interface ServeOptions {
  /** where the works are kept; made where it is not there */
  readonly folder: string;
  /** 0: any free one; absent: the last one's, where it is free */
  readonly port?: number;
  readonly workers: number;
  /** where the view was built; beside the program where absent */
  readonly view?: string;
  /** most bytes of an upload, as the commands' where absent */
  readonly most?: number;
  /** most bytes of all works together, 20 GB where absent */
  readonly room?: number;
}

export interface Page {
  /** with the key */
  readonly address: string;
  /** an address that leads there once, for a browser that is started: whoever lists the machine's processes sees it, too late */
  once(): string;
  readonly crew: Crew;
  close(): Promise<void>;
}

/** Throws UserError where the folder or the port cannot be had. */
export async function servePage(options: ServeOptions): Promise<Page> {
  const lock = await lockFolder(options.folder);
  try {
    return await open(options, lock);
  } catch (e) {
    await lock.release();
    throw e;
  }
}

async function open(options: ServeOptions, lock: Awaited<ReturnType<typeof lockFolder>>): Promise<Page> {
  const { workers } = options;
  const last = await readAddress(options.folder);
  const folder = new Folder(options.folder);
  const events = new Events();
  const crew = new Crew(workers);
  const longWork = new Crew(MOST_LONG);
  const studio = new Studio(folder, crew, await folder.readAll(), events.tell);
  const series = new SeriesRoom(studio, longWork, workers, events.tell);
  await series.open();
  let port = 0;
  const tickets = new Set<string>();
  const house: House = {
    ...{ key: last.key, port: () => port, view: options.view ?? besideProgram(), most: options.most ?? LARGEST_FILE },
    ...{ studio, events, series, room: new DiskRoom(options.folder, options.room) },
    products: new Products(studio, events.tell),
    shelf: new Shelf(folder, crew, events.tell),
    ticks: new Ticks(folder, events.tell),
    tablet: new TabletDoor((door) => tabletRoutes(house, door)),
    tickets,
  };
  const app = routes(house);
  const server = createServer(getRequestListener(app.fetch));
  port = await listen(server, options.port, last.port);
  const address = `http://127.0.0.1:${port}/${last.key}/`;
  await writeAddress(options.folder, { key: last.key, port: options.port === 0 ? last.port : port });
  await lock.name(address);
  crew.warm();
  let closing: Promise<void> | undefined;
  const close = async (): Promise<void> => {
    events.close();
    await house.tablet.shut();
    const closed = new Promise<void>((done) => server.close(() => done()));
    await Promise.all([crew.close(), longWork.close()]);
    await studio.close();
    server.closeAllConnections();
    await closed;
    await lock.release();
  };
  const ticketed = (): string => {
    const ticket = randomBytes(24).toString('base64url');
    tickets.add(ticket);
    setTimeout(() => tickets.delete(ticket), TICKET_MS).unref();
    return `http://127.0.0.1:${port}/open/${ticket}`;
  };
  return { address, once: ticketed, crew, close: () => (closing ??= close()) };
}

/** On 127.0.0.1 and nothing else. A port that was asked for is had or refused; the last one is only tried. */
async function listen(server: Server, asked: number | undefined, last: number): Promise<number> {
  for (const port of asked === undefined && last ? [last, 0] : [asked ?? 0]) {
    try {
      server.listen(port, '127.0.0.1');
      await once(server, 'listening');
      return (server.address() as { port: number }).port;
    } catch (e) {
      const { code } = e as NodeJS.ErrnoException;
      if (asked === undefined && port !== 0) continue;
      throw code === 'EADDRINUSE'
        ? new UserError('port-taken', { port })
        : new UserError('port-refused', { port, why: (e as Error).message }, 2);
    }
  }
  throw new Error('no port was tried');
}

/** dist/page, whether this runs from dist/ or from its sources. */
const besideProgram = (): string =>
  fileURLToPath(new URL(import.meta.url.endsWith('.ts') ? '../../../dist/page' : './page', import.meta.url));
