// What travels through the queue itself: a few words for each picture, never the picture. And which jobs are dealt out together.
import { type JobsOptions, Queue } from 'bullmq';
import type { Redis } from './connection.ts';
import { KEYS, lotsQueue, PICTURES, PREFIX } from './keys.ts';
import { seriesSeen } from './presence.ts';

/** A job as the queue holds it. */
export interface Stub {
  readonly run: string;
  /** the series' own name for it: round and place */
  readonly job: string;
  /** the picture's file, for whoever looks at the queue */
  readonly label: string;
  /** how often a worker was lost with it when it was last put off */
  readonly rested?: number;
}

export interface LotData {
  readonly lot: string;
}

/** A worker that reports a fault, or whose thread dies, is not asked at once again. */
export const ATTEMPTS = 3;
export const BACK_OFF_MS = 1000;
/** Workers that may be lost with one picture before it is given up. */
export const MOST_LOST = 3;

/** what the queue says then */
export const LOST_TOO_OFTEN = 'job stalled more than allowable limit';

/** A failure is shown by `queue status` for a day. */
const SHOWN = { age: 24 * 3600, count: 200 };

/** Of equals in their lots the one asked first goes first, so several series take turns. */
export const stubOptions = (jobId: string, place: number): JobsOptions => ({
  jobId,
  priority: 1 + place,
  attempts: ATTEMPTS,
  backoff: { type: 'exponential', delay: BACK_OFF_MS },
  removeOnComplete: true,
  removeOnFail: SHOWN,
  // a picture that cannot be used costs itself, not its lot
  ignoreDependencyOnFailure: true,
  stackTraceLimit: 0,
});

/** the queues' own diaries of what happened, which nobody reads */
const EVENTS_KEPT = 100;

export const base = (redis: Redis) => ({ connection: redis, prefix: PREFIX, skipVersionCheck: true });

export const openQueue = <Data>(redis: Redis, name: string): Queue<Data> => {
  const queue = new Queue<Data>(name, { ...base(redis), streams: { events: { maxLen: EVENTS_KEPT } } });
  queue.on('error', () => {});
  return queue;
};

const WAITING = ['wait', 'prioritized', 'delayed'] as const;

/** Takes a series' jobs out of the queue; what a worker is at it finds out itself. */
export async function removeRun(redis: Redis, pictures: Queue<Stub>, run: string): Promise<void> {
  const lots = openQueue<LotData>(redis, lotsQueue(run));
  try {
    for (const job of await pictures.getJobs([...WAITING]))
      if (job?.data.run === run) await job.remove().catch(() => {});
    await lots.obliterate({ force: true });
  } finally {
    await lots.close();
  }
}

/** Clears away what series left behind that ended without a word, and those for a place that has another one now. */
export async function removeLost(redis: Redis, pictures: Queue<Stub>, place?: string): Promise<void> {
  const { here, gone } = await seriesSeen(redis);
  const followed = [...here].filter(([, said]) => place !== undefined && said.place === place).map(([run]) => run);
  for (const run of [...gone, ...followed]) {
    await redis.unlink(KEYS.run(run));
    await removeRun(redis, pictures, run);
    await redis.srem(KEYS.runs, run);
  }
}

export const openPictures = (redis: Redis): Queue<Stub> => openQueue<Stub>(redis, PICTURES);
