// Figures for monitoring tools, at an address that they ask from time to time, in the open text format: OpenMetrics 1.0, as in the
// Internet-Draft draft-richih-opsawg-openmetrics-00.
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { whySystem } from '../problems/errno.ts';
import { UserError } from '../problems/problem.ts';
import { memoryOf, type Redis } from './connection.ts';
import { workersSeen } from './presence.ts';
import { countJobs } from './status.ts';
import { openPictures } from './tasks.ts';

/** One figure, or one for each set of labels. A counter's samples are written with the ending that the format asks for. */
export interface Family {
  readonly name: string;
  readonly type: 'counter' | 'gauge';
  /** the last part of the name */
  readonly unit?: 'seconds' | 'bytes';
  readonly help: string;
  readonly samples: readonly (readonly [labels: Readonly<Record<string, string>>, value: number])[];
}

const CONTENT_TYPE = 'application/openmetrics-text; version=1.0.0; charset=utf-8';

export function writeMetrics(families: readonly Family[]): string {
  const lines: string[] = [];
  for (const { name, type, unit, help, samples } of families) {
    lines.push(`# TYPE ${name} ${type}`);
    if (unit) lines.push(`# UNIT ${name} ${unit}`);
    lines.push(`# HELP ${name} ${escaped(help)}`);
    for (const [labels, value] of samples) {
      const pairs = Object.entries(labels).map(([k, v]) => `${k}="${escaped(v)}"`);
      const set = pairs.length ? `{${pairs.join(',')}}` : '';
      lines.push(`${name}${type === 'counter' ? '_total' : ''}${set} ${value}`);
    }
  }
  return `${lines.join('\n')}\n# EOF\n`;
}

const escaped = (text: string): string => text.replace(/\\/g, '\\\\').replace(/\n/g, '\\n').replace(/"/g, '\\"');

/** A figure without labels. */
export const figure = (
  name: string,
  type: Family['type'],
  help: string,
  value: number,
  unit?: Family['unit'],
): Family => ({
  ...{ name: `seamwright_${name}`, type, help },
  samples: [[{}, value]],
  ...(unit && { unit }),
});

/** Where the server does not answer, the figures are those of this process alone. */
const ANSWER_MS = 1000;

/** Of the queue as a whole, for series and workers alike. */
export async function queueFamilies(redis: Redis): Promise<Family[]> {
  const asked = askQueue(redis).catch(() => undefined);
  const found = await Promise.race([
    asked,
    new Promise<undefined>((r) => setTimeout(() => r(undefined), ANSWER_MS).unref()),
  ]);
  return [figure('queue_up', 'gauge', 'Whether the queue answers', found ? 1 : 0), ...(found ?? [])];
}

async function askQueue(redis: Redis): Promise<Family[]> {
  const pictures = openPictures(redis);
  try {
    const jobs = await countJobs(pictures);
    const workers = await workersSeen(redis);
    const threads = [...workers.values()].reduce((n, w) => n + w.threads, 0);
    return [
      {
        name: 'seamwright_queue_jobs',
        type: 'gauge',
        help: 'Pictures in the queue, of all series',
        samples: Object.entries(jobs).map(([state, n]) => [{ state }, n] as const),
      },
      figure('queue_workers', 'gauge', 'Workers that were seen', workers.size),
      figure('queue_threads', 'gauge', 'Pictures that they can work on at once', threads),
      figure('queue_memory_bytes', 'gauge', 'Memory of the queue server', await memoryOf(redis), 'bytes'),
    ];
  } finally {
    await pictures.close();
  }
}

export interface MetricsServer {
  readonly address: string;
  close(): Promise<void>;
}

/** "9464", "0.0.0.0:9464", "[::]:9464"; of this computer alone where no host is named. Throws UserError. */
export function readPlace(text: string): { host: string; port: number } {
  const [, host, digits] = /^(?:(.+):)?(\d{1,5})$/.exec(text.trim()) ?? [];
  const port = Number(digits);
  if (!digits || port > 65535)
    throw new UserError('not-like', { field: 'metrics', value: text, example: '9464 or 0.0.0.0:9464' }, 2);
  return { host: host?.replace(/^\[(.*)\]$/, '$1') ?? '127.0.0.1', port };
}

/** Answers at /metrics. Throws UserError where nothing can be served there. */
export async function serveMetrics(
  { host, port }: { readonly host: string; readonly port: number },
  read: () => Promise<readonly Family[]>,
): Promise<MetricsServer> {
  const server: Server = createServer((request, answer) => {
    if (request.method !== 'GET' || request.url?.split('?')[0] !== '/metrics') {
      answer.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' }).end('The figures are at /metrics.\n');
      return;
    }
    read().then(
      (families) => answer.writeHead(200, { 'content-type': CONTENT_TYPE }).end(writeMetrics(families)),
      () => answer.writeHead(500).end(),
    );
  });
  const shown = (p: number): string => `http://${host.includes(':') ? `[${host}]` : host}:${p}/metrics`;
  await new Promise<void>((ready, fail) => {
    server.once('error', (e) =>
      fail(new UserError('cannot-serve', { field: 'metrics', address: shown(port), why: whyNot(e) }, 2)),
    );
    server.listen(port, host, ready);
  });
  return {
    address: shown((server.address() as AddressInfo).port),
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

const whyNot = (e: NodeJS.ErrnoException): string =>
  e.code === 'EADDRINUSE' ? 'another program has this port' : whySystem(e);
