// A thread of its own for the subject network and for faces, begun before the picture is read, so that one command uses two
// cores to see what is in a picture.
import { availableParallelism } from 'node:os';
import type { SeeBeside } from '../shade/see-picture.ts';
import type { Asked } from './seeing-worker.ts';
import { startThread } from './start-thread.ts';

/** As runNetwork and findFaces, with the same results; both throw where the thread has ended. */
export interface SeeingThread extends SeeBeside {
  close(): void;
}

/** `faces`: whether it is to load at once what faces need. Undefined on a machine with one core, where it would only take turns. */
export function startSeeing(faces: boolean): SeeingThread | undefined {
  if (availableParallelism() < 2) return undefined;
  const thread = startThread(import.meta.url, './seeing-worker.ts', './seeing-worker.js', {});
  // it keeps nobody from ending
  thread.unref();
  const waiting: ((answer: unknown) => void)[] = [];
  thread.on('message', (answer) => waiting.shift()!(answer));
  const failed = new Promise<never>((_, reject) => {
    thread.once('error', reject);
    thread.once('exit', () => reject(new Error('the thread that looks at the picture has ended')));
  });
  failed.catch(() => {});
  const ask = <T>(asked: Asked): Promise<T> => {
    thread.ref();
    const answer = new Promise<T>((resolve) => waiting.push(resolve as (answer: unknown) => void));
    thread.postMessage(asked);
    return Promise.race([answer, failed]).finally(() => {
      if (!waiting.length) thread.unref();
    });
  };
  if (faces) {
    // nobody waits for it
    waiting.push(() => {});
    thread.postMessage({ what: 'ready for faces' } satisfies Asked);
  }
  return {
    network: (...args) => ask({ what: 'network', args }),
    faces: ({ pixels, width, height }) => ask({ what: 'faces', args: [{ pixels, width, height }] }),
    close: () => void thread.terminate(),
  };
}
