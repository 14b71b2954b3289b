// Jobs of no work, for what the queue itself costs: an answer of so many bytes to so many bytes.
import { isMainThread } from 'node:worker_threads';
import { type JobTable, job } from '../../src/threads/jobs.ts';
import { serve } from '../../src/threads/serve.ts';

export interface EchoJobs {
  echo: { input: { readonly sent: Uint8Array; readonly answer: number }; output: Uint8Array };
}

export const echoJobs: JobTable<EchoJobs> = {
  echo: job(
    async () => null,
    (_, { answer }) => new Uint8Array(answer).fill(7),
  ),
};

if (!isMainThread) serve(echoJobs);
