// One thread beside the program's own, for a single block: it looks at the picture with the network, fits the pieces, plans the
// cloth, draws the preview and judges the block, while the program's own thread does what does not wait for that.
import { availableParallelism } from 'node:os';
import type { Block } from '../block.ts';
import type { Compared, CompareJob } from '../compare/job.ts';
import type { Shading } from '../data.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { UserError } from '../errors.ts';
import type { FabricOptions } from '../fabric/options.ts';
import type { FitFound, FitOptions } from '../fit/fit-partition.ts';
import type { Beside } from '../pipeline.ts';
import type { measureQuality } from '../quality/measure-quality.ts';
import type { runNetwork } from '../shade/run-network.ts';
import { Pool } from './pool.ts';
import type { Ready } from './worker.ts';

export type BesideJob =
  | { readonly kind: 'network'; readonly args: Parameters<typeof runNetwork> }
  | {
      readonly kind: 'fit';
      readonly shading: Shading;
      readonly options: FitOptions;
      readonly counts: readonly number[];
    }
  | { readonly kind: 'preview'; readonly block: Block }
  | { readonly kind: 'png'; readonly drawing: Drawing; readonly dpi: number }
  | { readonly kind: 'quality'; readonly args: Parameters<typeof measureQuality> }
  | { readonly kind: 'cloth'; readonly block: Block; readonly options: Partial<FabricOptions> };

/** As the program's own thread would do it, to the byte. What a thread of `pool` throws, these throw. */
export function besideIn(pool: Pool): Beside & {
  compare(job: Omit<CompareJob, 'kind'>): Promise<Compared>;
  png(drawing: Drawing, dpi: number): Promise<Uint8Array>;
} {
  const ask = async <T>(job: BesideJob | CompareJob, done?: (share: number) => void): Promise<T> => {
    const { result, error, exitCode } = await pool.ask<T>(job, done);
    if (error === undefined) return result!;
    throw exitCode ? new UserError(error, exitCode) : new Error(error);
  };
  return {
    network: (...args) => ask({ kind: 'network', args }),
    fit: (shading, options, counts, done) => ask<FitFound[]>({ kind: 'fit', shading, options, counts }, done),
    preview: (block) => ask({ kind: 'preview', block }),
    quality: (...args) => ask({ kind: 'quality', args }),
    cloth: (block, options) => ask({ kind: 'cloth', block, options }),
    compare: (job) => ask({ kind: 'compare', ...job }),
    png: (drawing, dpi) => ask({ kind: 'png', drawing, dpi }),
  };
}

/** Starts the thread. Undefined on a machine with one core, where it would only take turns, and where the program runs from its
 *  sources, which the thread would take longer to read than it saves. */
export function startBeside(ready: Ready): (Beside & { close(): Promise<void> }) | undefined {
  if (availableParallelism() < 2 || import.meta.url.endsWith('.ts')) return undefined;
  const pool = new Pool(1, new AbortController().signal);
  pool.prepareForFew();
  pool.start(1, ready);
  return { ...besideIn(pool), close: () => pool.close() };
}
