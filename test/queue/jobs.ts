// Jobs for the queue's tests, and the entry of their threads: small, and each goes wrong in its own way.
import { isMainThread } from 'node:worker_threads';
import { UserError } from '../../src/problems/problem.ts';
import { type JobTable, job } from '../../src/threads/jobs.ts';
import { serve } from '../../src/threads/serve.ts';

export interface TestJobs {
  /** the same bytes, each one greater */
  add: { input: { bytes: Uint8Array; end?: 'thread' | 'person' | 'fault' }; output: Uint8Array };
  /** goes on until nobody wants it any more */
  endless: { input: null; output: null };
}

const here = async (): Promise<null> => null;

export const testJobs: JobTable<TestJobs> = {
  add: job(here, (_, { bytes, end }) => {
    // as a thread that runs out of memory
    if (end === 'thread') process.exit(1);
    if (end === 'person') throw new UserError('no-pictures', { folder: 'shelter' });
    if (end === 'fault') throw new Error('a broken promise');
    return bytes.map((b) => b + 1);
  }),
  endless: job(here, async (_, __, told) => {
    while (!told.cancelled) await new Promise((r) => setTimeout(r, 5));
    return null;
  }),
};

if (!isMainThread) serve(testJobs);
