// A worker thread of the same code, whether it runs bundled or from its sources.
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type ResourceLimits, Worker } from 'node:worker_threads';

/** `from`: the caller's import.meta.url; `source` lies beside it among the sources, `built` beside it in dist/. From its sources a
 *  thread has to be told how to read them: Node 20 does not hand that on. */
export function startThread(
  from: string,
  source: string,
  built: string,
  resourceLimits: ResourceLimits,
  workerData?: unknown,
): Worker {
  const options = { resourceLimits, workerData };
  if (!from.endsWith('.ts')) return new Worker(fileURLToPath(new URL(built, from)), options);
  const file = JSON.stringify(new URL(source, from).href);
  // by its place: a name would be looked for from the folder that the command was called in
  const home = dirname(createRequire(import.meta.url).resolve('tsx/package.json'));
  const tsx = pathToFileURL(join(home, 'dist', 'esm', 'api', 'index.mjs')).href;
  const read = `import(${JSON.stringify(tsx)}).then(({ register }) => (register(), import(${file})))`;
  return new Worker(read, { ...options, eval: true });
}
