// The subject network in a thread of its own, begun before the picture is read, so that one command uses two cores to find the subject.
import { availableParallelism } from 'node:os';
import type { runNetwork } from '../shade/run-network.ts';
import { startThread } from './start-thread.ts';

export interface NetworkBeside {
  /** as runNetwork, with the same result; one call at a time */
  readonly run: typeof runNetwork;
  close(): void;
}

/** Undefined on a machine with one core, where it would only take turns. */
export function startNetwork(): NetworkBeside | undefined {
  if (availableParallelism() < 2) return undefined;
  const thread = startThread(import.meta.url, './network-worker.ts', './network-worker.js', {});
  // it keeps nobody from ending
  thread.unref();
  const failed = new Promise<never>((_, reject) => {
    thread.once('error', reject);
    thread.once('exit', () => reject(new Error('the thread that finds the subject has ended')));
  });
  failed.catch(() => {});
  return {
    run: (...asked) => {
      thread.ref();
      const answer = new Promise<Float32Array>((resolve) => thread.once('message', resolve));
      thread.postMessage(asked);
      return Promise.race([answer, failed]).finally(() => thread.unref());
    },
    close: () => void thread.terminate(),
  };
}
