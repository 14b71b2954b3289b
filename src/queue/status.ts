// What is going on at a queue, for whoever asks: nothing is changed by looking.
import type { Redis } from './connection.ts';
import { memoryOf } from './connection.ts';
import { type RunSaid, seriesSeen, type WorkerSaid, workersSeen } from './presence.ts';
import { openPictures } from './tasks.ts';

export interface QueueStatus {
  readonly series: readonly (RunSaid & { readonly id: string })[];
  readonly workers: readonly (WorkerSaid & { readonly id: string })[];
  /** pictures in the queue; `later` those that are tried again after a pause */
  readonly jobs: JobCounts;
  /** the last ones, with the reason of each */
  readonly failed: readonly { readonly why: string; readonly at: string }[];
  /** bytes that the server holds in all */
  readonly memory: number;
}

export interface JobCounts {
  readonly waiting: number;
  readonly active: number;
  readonly later: number;
  readonly failed: number;
}

const MOST_SHOWN = 50;

export async function countJobs(pictures: ReturnType<typeof openPictures>): Promise<JobCounts> {
  const n = await pictures.getJobCounts('wait', 'prioritized', 'active', 'delayed', 'failed');
  const count = (name: string): number => n[name] ?? 0;
  return {
    waiting: count('wait') + count('prioritized'),
    active: count('active'),
    later: count('delayed'),
    failed: count('failed'),
  };
}

export async function readStatus(redis: Redis): Promise<QueueStatus> {
  const pictures = openPictures(redis);
  try {
    const [jobs, { here }, workers, memory] = await Promise.all([
      countJobs(pictures),
      seriesSeen(redis),
      workersSeen(redis),
      memoryOf(redis),
    ]);
    const failed = await pictures.getFailed(0, MOST_SHOWN - 1);
    return {
      series: [...here].map(([id, said]) => ({ id, ...said })),
      workers: [...workers].map(([id, said]) => ({ id, ...said })),
      jobs,
      failed: failed.map((j) => ({
        why: j.failedReason ?? '',
        at: new Date(j.finishedOn ?? j.timestamp).toISOString(),
      })),
      memory,
    };
  } finally {
    await pictures.close();
  }
}
