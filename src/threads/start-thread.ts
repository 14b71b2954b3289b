// A worker thread of the program's own code, whether that runs bundled or from its sources.
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type ResourceLimits, Worker } from 'node:worker_threads';

/** Where a thread's entry lies: `source` beside the file of `from` (its import.meta.url) among the sources, `built` beside it in dist/. */
export const threadFile = (from: string, source: string, built: string): URL =>
  new URL(from.endsWith('.ts') ? source : built, from);

/** From its sources a thread has to be told how to read them: Node 20 does not hand that on. */
export function startThread(entry: URL, resourceLimits: ResourceLimits, workerData?: unknown): Worker {
  const options = { resourceLimits, workerData };
  if (!entry.href.endsWith('.ts')) return new Worker(entry, options);
  // by its place: a name would be looked for from the folder that the command was called in
  const home = dirname(createRequire(import.meta.url).resolve('tsx/package.json'));
  const tsx = pathToFileURL(join(home, 'dist', 'esm', 'api', 'index.mjs')).href;
  const read = `import(${JSON.stringify(tsx)}).then(({ register }) => (register(), import(${JSON.stringify(entry.href)})))`;
  return new Worker(read, { ...options, eval: true });
}
