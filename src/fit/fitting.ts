// One shading being cut: what is handed to the engine, and the pieces that come back, of the whole block or of the half of a mirrored
// one.
import { pointOnGrid } from '../block.ts';
import { oklabOfHex } from '../colour/oklab.ts';
import type { Report, Shading } from '../data.ts';
import { FACE_REACH, findFace, findLandmarks, type SmallRegion } from '../geometry/landmarks.ts';
import { traceBorders } from './borders.ts';
import { Cutting, type Half, UNIT_WEIGHT } from './cutting.ts';
import { AFRESH, fitCuts, GROWN, movesOf } from './fit-cuts.ts';
import type { FitFound, FitOptions } from './fit-partition.ts';
import { type FitLimits, PRICES } from './limits.ts';
import { type Axis, fold, NEARLY, symmetrise, turnShading, unfold } from './mirror.ts';
import { judgePieces } from './shown.ts';
import { weighCells } from './weigh-cells.ts';

export class Fitting {
  private readonly cutting: Cutting;
  private readonly marks: readonly SmallRegion[];
  /** as it is cut: the same on both sides where that is asked for, left and right exchanged where the left half is the narrower */
  private readonly shown: Shading;
  private readonly half: Half | undefined;
  private readonly turned: boolean;
  /** mean weight of a cell */
  private readonly weight: number;
  private begun = false;

  constructor(
    private readonly shading: Shading,
    private readonly options: FitOptions,
    limits: FitLimits,
    private readonly axis: Axis | undefined,
  ) {
    const { width, height, fabrics } = shading;
    const { size, seed } = options;
    this.turned = axis !== undefined && axis.at < width;
    const at = axis && (this.turned ? 2 * width - axis.at : axis.at);
    const facing = this.turned ? turnShading(shading) : shading;
    this.shown = at === undefined ? facing : symmetrise(facing, at, axis!.agreement < NEARLY);
    this.marks = this.marksOf(this.shown);
    const all = weighCells(this.shown, this.marks);
    this.weight = all.reduce((t, v) => t + v, 0) / (all.length * UNIT_WEIGHT);
    const reach = FACE_REACH * Math.min(width, height);
    const face = findFace(this.marks, width, height, reach);
    const whole = { labels: this.shown.labels, weights: all, width };
    const cut = at === undefined ? whole : fold(whole.labels, all, width, height, at, size[0]);
    this.half = 'half' in cut ? cut.half : undefined;
    const wide = (size[0] / width) * cut.width;
    this.cutting = new Cutting({
      ...{ labels: cut.labels, width: cut.width, height, fabrics: fabrics.length, seed },
      ...{ limits, prices: PRICES, weights: cut.weights, mirror: this.half },
      size: [this.half?.axis ?? size[0], size[1]],
      borders: traceBorders(cut.labels, cut.width, height, [wide, size[1]]),
      face: face && at !== undefined ? fold(face, all, width, height, at, size[0]).labels : face,
    });
  }

  private marksOf({ labels, width, height, fabrics }: Shading): SmallRegion[] {
    const colours = fabrics.map((f) => oklabOfHex(f.colour));
    const cell = this.options.size[0] / width;
    return findLandmarks(labels, width, height, colours, 1.5 * (this.options.smallest / cell) ** 2);
  }

  /** Pieces at most; more than the time before. */
  fit(pieces: number, limits: FitLimits, report?: Report): FitFound {
    const { cutting, options, shading } = this;
    const { size } = options;
    cutting.setLimits(limits);
    const course = this.begun ? GROWN : AFRESH;
    this.begun = true;
    fitCuts(cutting, pieces, movesOf(options.effort, pieces), course, this.weight, report);
    report?.(1);
    const cut = this.half ? unfold(cutting.pieces(), this.half, size[0]) : cutting.pieces();
    const laid = cut.map(({ outline, fabric }) => ({ outline: outline.map(pointOnGrid), fabric }));
    const mirrored = this.axis && {
      ...{ axis: this.axis.at / 2 / shading.width, agreement: this.axis.agreement },
      misplaced: judgePieces(laid, this.shown, size, []).misplaced,
    };
    const found = this.turned ? laid.map((p) => ({ ...p, outline: this.turnBack(p.outline) })) : laid;
    const shown = judgePieces(found, shading, size, this.axis ? this.marksOf(shading) : this.marks);
    return { size, pieces: found, sections: cutting.sections, ...shown, ...(mirrored && { mirrored }) };
  }

  private turnBack(outline: readonly (readonly [number, number])[]): [number, number][] {
    return outline.map(([x, y]) => pointOnGrid([this.options.size[0] - x, y])).reverse();
  }
}
