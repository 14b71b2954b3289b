// One shading being cut from one start: the pieces that come back, of the whole block or of the half of a mirrored one, and what they are
// worth.
import { pointOnGrid } from '../block.ts';
import type { Report } from '../data.ts';
import { type Cutting, type Half, UNIT_WEIGHT } from './cutting.ts';
import { shareShown } from './feature-cells.ts';
import { AFRESH, fitCuts, GROWN, movesOf } from './fit-cuts.ts';
import type { FeatureKept, FitFound } from './fit-partition.ts';
import { type FitLimits, latePrices, PRICES, raised } from './limits.ts';
import { unfold } from './mirror.ts';
import type { Prepared } from './prepare.ts';
import { judgePieces } from './shown.ts';
import { type Start, scoreOf } from './starts.ts';

/** A feature that was given up as a shape is lost where less of it than this share shows. */
const SHOWN = 0.4;

export class Fitting {
  private readonly cutting: Cutting;
  private readonly half: Half | undefined;
  private begun = false;

  constructor(
    private readonly prepared: Prepared,
    readonly start: Start,
  ) {
    const { cutting, half } = prepared.begin(start.seed);
    this.cutting = cutting;
    this.half = half;
  }

  /** Pieces at most; more than the time before. */
  fit(pieces: number, limits: FitLimits, report?: Report): Omit<FitFound, 'scores'> & { readonly score: number } {
    const { cutting, prepared, start } = this;
    const { options, shading, axis, shown, turned, weight } = prepared;
    const { size } = options;
    cutting.setLimits(limits);
    const moves = Math.round(movesOf(options.effort, pieces) * (this.begun ? 1 : start.moves));
    fitCuts(cutting, pieces, moves, this.begun ? GROWN : AFRESH, { weight, calm: start.calm }, report);
    this.begun = true;
    report?.(1);
    const cut = this.half ? unfold(cutting.pieces(), this.half, size[0]) : cutting.pieces();
    const laid = cut.map(({ outline, fabric }) => ({ outline: outline.map(pointOnGrid), fabric }));
    const mirrored = axis && {
      ...{ axis: axis.at / 2 / shading.width, agreement: axis.agreement },
      misplaced: judgePieces(laid, shown, size, []).misplaced,
    };
    const features = this.keptIn(laid);
    const found = turned ? laid.map((p) => ({ ...p, outline: this.turnBack(p.outline) })) : laid;
    const judged = judgePieces(found, shading, size, axis ? prepared.marksOf(shading) : prepared.marks);
    return {
      ...{ size, pieces: found, sections: cutting.sections, ...judged },
      ...(mirrored && { mirrored }),
      ...(shading.features && { features }),
      score: this.score(features.filter((f) => f.kept === 'lost').length),
    };
  }

  private score(lost: number): number {
    const { cutting, prepared } = this;
    cutting.setPrices(raised({ ...PRICES, ...latePrices(1) }, prepared.weight));
    cutting.reprice();
    return scoreOf(cutting.total, prepared.shading.labels.length, prepared.weight, UNIT_WEIGHT, lost);
  }

  private keptIn(pieces: FitFound['pieces']): FeatureKept[] {
    const { facing, small, wish, options } = this.prepared;
    const features = facing.features ?? [];
    return features.map(({ kind, outline, fabric }, feature) => {
      if (small.includes(feature)) return { feature, kept: 'mark' };
      const shape = wish.held.find((s) => s.of.includes(feature));
      if (shape) return { feature, kept: kind === 'pupil' && !shape.pupil ? 'merged' : 'shape' };
      const share = shareShown({ outline: this.prepared.inMm(outline), fabric }, pieces, facing, options.size);
      return { feature, kept: share >= SHOWN ? 'weighed' : 'lost' };
    });
  }

  private turnBack(outline: readonly (readonly [number, number])[]): [number, number][] {
    return outline.map(([x, y]) => pointOnGrid([this.prepared.options.size[0] - x, y])).reverse();
  }
}
