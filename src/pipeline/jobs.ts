// Single stages of a block as jobs for a thread: what the program's own thread need not do itself.
import type { Block } from '../block.ts';
import type { Shading, Shopping } from '../data.ts';
import type { Drawing } from '../drawing/drawing.ts';
import type { FabricOptions } from '../fabric/options.ts';
import type { FitFound, FitOptions } from '../fit/fit-partition.ts';
import type { measureQuality, Quality } from '../quality/measure-quality.ts';
import type { runNetwork } from '../shade/run-network.ts';
import { type JobTable, job } from '../threads/jobs.ts';

export interface BlockJobs {
  runNetwork: { input: Parameters<typeof runNetwork>; output: Float32Array };
  /** several numbers of pieces, ascending; says how far it is */
  fitPieces: {
    input: { readonly shading: Shading; readonly options: FitOptions; readonly counts: readonly number[] };
    output: FitFound[];
  };
  planCloth: { input: { readonly block: Block; readonly options: Partial<FabricOptions> }; output: Shopping };
  drawPreview: { input: Block; output: Uint8Array };
  measureQuality: { input: Parameters<typeof measureQuality>; output: Quality };
  drawPng: { input: { readonly drawing: Drawing; readonly dpi: number }; output: Uint8Array };
}

export const blockJobs: JobTable<BlockJobs> = {
  runNetwork: job(
    async () => {
      const network = await import('../shade/run-network.ts');
      await network.loadNetwork();
      return network;
    },
    ({ runNetwork }, input) => runNetwork(...input),
  ),
  fitPieces: job(
    async () => {
      const [fit, { loadEngine }] = await Promise.all([import('../fit/fit-partition.ts'), import('../fit/cutting.ts')]);
      loadEngine();
      return fit;
    },
    ({ fitPartitions }, { shading, options, counts }, told) => fitPartitions(shading, options, counts, told.done),
  ),
  planCloth: job(
    () => import('../fabric/plan-fabric.ts'),
    ({ planFabric }, { block, options }) => planFabric([{ block }], options),
  ),
  drawPreview: job(
    () => import('../packet/preview.ts'),
    ({ previewOf }, block) => previewOf(block),
  ),
  measureQuality: job(
    () => import('../quality/measure-quality.ts'),
    ({ measureQuality }, input) => measureQuality(...input),
  ),
  drawPng: job(
    () => import('../drawing/png.ts'),
    ({ writePng }, { drawing, dpi }) => writePng(drawing, dpi),
  ),
};
