// A series handed out over a queue, and a worker that makes its blocks: what the shells call for both.
import { createHash } from 'node:crypto';
import { hostname } from 'node:os';
import { resolve } from 'node:path';
import type { QueueAddress } from '../queue/address.ts';
import { connect } from '../queue/connection.ts';
import { HandOut } from '../queue/hand-out.ts';
import type { Log } from '../queue/log.ts';
import { type Family, figure, queueFamilies, readPlace, serveMetrics } from '../queue/metrics.ts';
import { versionOf } from '../queue/presence.ts';
import { type QueueStatus, readStatus } from '../queue/status.ts';
import { type Worked, WorkOff } from '../queue/work-off.ts';
import type { SeriesCrew } from '../series/crew.ts';
import { crewOverQueue } from '../series/crew-over-queue.ts';
import type { SentJobs, SeriesJobs } from '../series/jobs.ts';
import type { Pool } from '../threads/pool.ts';
import { prepareForSharing } from '../threads/v8-flags.ts';

export interface AtQueue {
  readonly address: QueueAddress;
  /** the program's */
  readonly version: string;
  readonly log: Log;
  /** where figures are served, as a person writes it */
  readonly metrics?: string | undefined;
  readonly signal: AbortSignal;
}

export interface HandOutSummary {
  readonly workers: number;
  readonly letters: number;
  readonly bytesToWorkers: number;
  readonly bytesFromWorkers: number;
  /** the most that the queue's server held, with all that was in it besides */
  readonly peakMemory: number;
}

/** Runs with a crew that hands everything out. */
export async function withQueue<T>(
  o: AtQueue & {
    readonly name: string;
    readonly out: string;
    readonly seen?: (workers: number, threads: number) => void;
  },
  run: (crew: SeriesCrew, summary: () => HandOutSummary) => Promise<T>,
): Promise<T> {
  const connected = await connect(o.address);
  try {
    connected.watch((there) => o.log(there ? 'queue-back' : 'queue-lost', { queue: o.address.shown }));
    const { version, name, signal, log, seen } = o;
    const hand = await HandOut.open<SentJobs>({
      ...{ connected, version: versionOf(version), name, signal, log, ...(seen && { seen }) },
      place: markOf(o.out),
    });
    try {
      const figures = async (): Promise<Family[]> => [
        figure('series_pictures_done', 'counter', 'Results that came back', hand.counts.done),
        figure('series_pictures_failed', 'counter', 'Pictures that could not be used', hand.counts.failed),
        figure('series_sent_bytes', 'counter', 'Sent to workers', hand.travelled.bytesToWorkers, 'bytes'),
        figure('series_received_bytes', 'counter', 'Received from workers', hand.travelled.bytesFromWorkers, 'bytes'),
        ...(await queueFamilies(connected.redis)),
      ];
      return await whileServed(o.metrics, figures, () =>
        run(crewOverQueue(hand), () => ({
          ...{ workers: hand.counts.workers.size, peakMemory: hand.counts.peakMemory },
          letters: hand.travelled.letters,
          bytesToWorkers: hand.travelled.bytesToWorkers,
          bytesFromWorkers: hand.travelled.bytesFromWorkers,
        })),
      );
    } finally {
      await hand.close();
    }
  } finally {
    connected.close();
  }
}

/** Of a folder of this computer; others learn nothing of it. */
const markOf = (folder: string): string =>
  createHash('sha256')
    .update(`${hostname()}:${resolve(folder)}`)
    .digest('hex')
    .slice(0, 16);

/** What is done for whoever asks through the queue, by the names of the table of jobs. */
const JOBS: Readonly<Record<keyof SentJobs, string>> = {
  shadeSentPicture: 'shades chosen',
  makeSentBlock: 'block made',
};

/** Works for a queue until the signal is aborted. */
export async function workForQueue(
  o: AtQueue & { readonly lostAfter: number },
  pool: Pool<SeriesJobs>,
): Promise<Worked> {
  const connected = await connect(o.address);
  try {
    connected.watch((there) => o.log(there ? 'queue-back' : 'queue-lost', { queue: o.address.shown }));
    prepareForSharing();
    pool.start(pool.size, ['shadeSentPicture']);
    const { log, signal, lostAfter } = o;
    const work = await WorkOff.open<SeriesJobs>({
      ...{ connected, pool, version: versionOf(o.version), jobs: JOBS, signal, log, lostAfter },
    });
    const figures = async (): Promise<Family[]> => [
      figure('worker_jobs_done', 'counter', 'Jobs that this worker has done', work.worked.done),
      figure('worker_jobs_failed', 'counter', 'Pictures that it could not use', work.worked.failed),
      figure('worker_jobs_again', 'counter', 'Jobs that it gave up, to be tried again', work.worked.again),
      figure('worker_work_seconds', 'counter', 'Time of its threads at work', work.worked.seconds, 'seconds'),
      figure('worker_received_bytes', 'counter', 'Received for its jobs', work.worked.bytesIn, 'bytes'),
      figure('worker_sent_bytes', 'counter', 'Sent as results', work.worked.bytesOut, 'bytes'),
      figure('worker_threads', 'gauge', 'Pictures that it can work on at once', pool.size),
      figure('worker_busy_threads', 'gauge', 'Pictures that it works on now', work.busy),
      ...(await queueFamilies(connected.redis)),
    ];
    await whileServed(o.metrics, figures, () => work.run());
    return work.worked;
  } finally {
    connected.close();
  }
}

export async function queueStatus(address: QueueAddress): Promise<QueueStatus> {
  const connected = await connect(address);
  try {
    return await readStatus(connected.redis);
  } finally {
    connected.close();
  }
}

async function whileServed<T>(
  place: string | undefined,
  figures: () => Promise<readonly Family[]>,
  run: () => Promise<T>,
): Promise<T> {
  if (place === undefined) return run();
  const server = await serveMetrics(readPlace(place), figures);
  try {
    return await run();
  } finally {
    await server.close();
  }
}
