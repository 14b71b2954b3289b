// A worker thread of the same code, whether it runs bundled or from its sources.
import { fileURLToPath } from 'node:url';
import { type ResourceLimits, Worker } from 'node:worker_threads';

/** `from`: the caller's import.meta.url; `source` lies beside it among the sources, `built` beside it in dist/. From its sources a
 *  thread has to be told how to read them: Node 20 does not hand that on. */
export function startThread(from: string, source: string, built: string, resourceLimits: ResourceLimits): Worker {
  if (!from.endsWith('.ts')) return new Worker(fileURLToPath(new URL(built, from)), { resourceLimits });
  const file = JSON.stringify(new URL(source, from).href);
  const read = `import('tsx/esm/api').then(({ register }) => (register(), import(${file})))`;
  return new Worker(read, { eval: true, resourceLimits });
}
