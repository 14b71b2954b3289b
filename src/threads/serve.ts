// The thread's side: takes one job after another from its pool, and answers each with its result, its error, or that it was stopped.
import { parentPort, workerData } from 'node:worker_threads';
import type { Job, Told } from './jobs.ts';
import { type JobOrder, type Ready, type Said, toFailure } from './messages.ts';

/** ms between two words on how far a stage is */
const EVERY_MS = 100;

type AnyTable = Readonly<Record<string, Job<never, unknown, never>>>;

/** Serves the jobs of all these tables until the thread is ended. To be called once, by a thread's entry. */
export function serve(...tables: readonly AnyTable[]): void {
  const jobs = joinTables(tables);
  const named = (name: string): Job<never, unknown, never> => {
    const found = jobs.get(name);
    if (!found) throw new Error(`this thread has no job "${name}"`);
    return found;
  };
  const load = async (names: readonly string[]): Promise<void> => {
    for (const name of names) await named(name).load();
  };
  const port = parentPort!;
  const { now, afterFirst } = workerData as Ready;
  let first = true;
  port.on('message', async ({ name, input, stop }: JobOrder) => {
    const flag = new Int32Array(stop);
    let last: Said;
    try {
      const answer = await named(name).run(
        input as never,
        tellVia((said) => port.postMessage(said), flag),
      );
      last = { kind: 'answer', answer };
    } catch (e) {
      last = failed(e, flag);
    }
    try {
      port.postMessage(last);
    } catch (e) {
      // an answer that cannot be handed over
      port.postMessage(failed(e, flag));
    }
    if (first) void load(afterFirst);
    first = false;
  });
  void load(now);
}

class Stopped extends Error {}

const failed = (e: unknown, flag: Int32Array): Said =>
  e instanceof Stopped || isSet(flag) ? { kind: 'stopped' } : { kind: 'failed', failure: toFailure(e) };

const isSet = (flag: Int32Array): boolean => Atomics.load(flag, 0) !== 0;

function tellVia(say: (said: Said) => void, flag: Int32Array): Told<unknown> {
  let stage = '';
  let last = -EVERY_MS;
  const leaveOff = (): void => {
    if (isSet(flag)) throw new Stopped();
  };
  return {
    stage(name) {
      leaveOff();
      stage = name;
      last = performance.now();
      say({ kind: 'progress', stage, share: 0 });
    },
    done(share) {
      leaveOff();
      if (share < 1 && performance.now() - last < EVERY_MS) return;
      last = performance.now();
      say({ kind: 'progress', stage, share });
    },
    part: (part) => say({ kind: 'part', part }),
    get cancelled() {
      return isSet(flag);
    },
  };
}

function joinTables(tables: readonly AnyTable[]): ReadonlyMap<string, AnyTable[string]> {
  const jobs = new Map<string, AnyTable[string]>();
  for (const [name, one] of tables.flatMap(Object.entries<AnyTable[string]>)) {
    if (jobs.has(name)) throw new Error(`two tables have a job "${name}"`);
    jobs.set(name, one);
  }
  return jobs;
}
