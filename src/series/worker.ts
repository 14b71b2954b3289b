// A worker thread of a series: takes one job after another, answers each with its result or its error.
import { parentPort } from 'node:worker_threads';
import { UserError } from '../errors.ts';
import { type Job, runJob } from './job.ts';

parentPort!.on('message', async (job: Job) => {
  try {
    parentPort!.postMessage({ result: await runJob(job) });
  } catch (e) {
    const { message } = e as Error;
    parentPort!.postMessage({ error: e instanceof UserError ? message : `a fault of the program: ${message}` });
  }
});
