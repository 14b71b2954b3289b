// One thread beside the program's own, for a single block: it looks at the picture with the network, fits the pieces, plans the
// cloth, draws the preview and judges the block, while the program's own thread does what does not wait for that.
import { availableParallelism } from 'node:os';
import { Pool, type PoolOf } from '../threads/pool.ts';
import { prepareForFew } from '../threads/v8-flags.ts';
import { WORKER } from '../worker-file.ts';
import type { BlockJobs } from './jobs.ts';
import type { Beside } from './work.ts';

/** As the program's own thread would do it, to the byte. What a thread of `pool` throws, these throw. */
export function besideIn(pool: PoolOf<BlockJobs>): Beside {
  return {
    network: (...input) => pool.ask('runNetwork', input).answer,
    fit: (shading, options, counts, done) =>
      pool.ask('fitPieces', { shading, options, counts }, { progress: (_, share) => done(share) }).answer,
    preview: (block) => pool.ask('drawPreview', block).answer,
    quality: (...input) => pool.ask('measureQuality', input).answer,
    cloth: (block, options) => pool.ask('planCloth', { block, options }).answer,
  };
}

/** Starts the thread; `looks`: it begins with the picture, not with the pieces. Undefined on a machine with one core, where it would
 *  only take turns, and where the program runs from its sources, which the thread would take longer to read than it saves. */
export function startBeside(looks: boolean): (Beside & { close(): Promise<void> }) | undefined {
  if (availableParallelism() < 2 || import.meta.url.endsWith('.ts')) return undefined;
  const pool = new Pool<BlockJobs>({ entry: WORKER, threads: 1 });
  prepareForFew(pool.size);
  pool.start(1, [
    ...(looks ? (['runNetwork'] as const) : []),
    ...(['fitPieces', 'drawPreview', 'measureQuality', 'planCloth'] as const),
  ]);
  return { ...besideIn(pool), close: () => pool.close() };
}
