// What goes along with every stage: somebody who hears how far it is, and other threads that may do parts of it.
import type { Block } from '../block.ts';
import type { Shading, Shopping } from '../data.ts';
import type { FabricOptions } from '../fabric/options.ts';
import type { FitFound, FitOptions } from '../fit/fit-partition.ts';
import { UserError } from '../problems/problem.ts';
import type { measureQuality, Quality } from '../quality/measure-quality.ts';
import type { runNetwork } from '../shade/run-network.ts';

/** What hears of the work: a stage that begins, and how far a long one is (0..1). May throw to cancel. */
export interface Progress {
  stage(name: string): void;
  done(share: number): void;
}

export const quiet: Progress = { stage: () => {}, done: () => {} };

/** What another thread does for this one, with the same results to the byte. */
export interface Beside {
  readonly network: typeof runNetwork;
  fit(
    shading: Shading,
    options: FitOptions,
    counts: readonly number[],
    done: (share: number) => void,
  ): Promise<FitFound[]>;
  preview(block: Block): Promise<Uint8Array>;
  cloth(block: Block, options: Partial<FabricOptions>): Promise<Shopping>;
  quality: (...of: Parameters<typeof measureQuality>) => Promise<Quality>;
}

/** What another thread was to do is done here where that thread has failed; what the person can mend is thrown. */
export const orHere = <T>(beside: Promise<T> | undefined): Promise<T | undefined> | undefined =>
  beside?.catch((e: unknown) => {
    if (e instanceof UserError) throw e;
    return undefined;
  });
