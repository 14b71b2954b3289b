// A worker thread of the page: one job after another, each answered with its result, a sentence, or that it was stopped.
import { parentPort } from 'node:worker_threads';
import { UserError } from '../../errors.ts';
import type { Progress } from '../../pipeline.ts';
import type { Ask, Job, Said } from './jobs.ts';
import { runJob } from './run-job.ts';

/** ms between two words on how far it is */
const EVERY = 100;

class Stopped extends Error {}

const say = (said: Said): void => parentPort!.postMessage(said);

/** Throws where the work is no longer wanted: every long stage asks it often. */
function listeningTo(stop: Int32Array): Progress {
  let stage = '';
  let last = 0;
  const look = (): void => {
    if (Atomics.load(stop, 0) !== 0) throw new Stopped();
  };
  return {
    stage(name) {
      look();
      stage = name;
      last = performance.now();
      say({ kind: 'progress', stage, share: 0 });
    },
    done(share) {
      look();
      if (performance.now() - last < EVERY) return;
      last = performance.now();
      say({ kind: 'progress', stage, share });
    },
  };
}

async function answer({ job, stop }: Ask): Promise<Said> {
  const flag = new Int32Array(stop);
  try {
    const result = await runJob(job as Job, listeningTo(flag), (part) => say({ kind: 'part', part }));
    return Atomics.load(flag, 0) === 0 ? { kind: 'answer', answer: result } : { kind: 'stopped' };
  } catch (e) {
    if (e instanceof Stopped || Atomics.load(flag, 0) !== 0) return { kind: 'stopped' };
    if (e instanceof UserError) return { kind: 'refused', says: e.message };
    return { kind: 'fault', says: (e as Error)?.message ?? String(e) };
  }
}

parentPort?.on('message', async (ask: Ask) => say(await answer(ask)));
// what nearly every job needs is loaded while nobody waits
void import('./make-work.ts');
