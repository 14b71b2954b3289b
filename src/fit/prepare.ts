// What is made ready before a shading is cut: the same on both sides where that is asked for, its features as shapes that can be cut, its
// cells weighed. All starts of a fit share it.
import { labDistance, oklabOfHex } from '../colour/oklab.ts';
import type { Shading } from '../data.ts';
import { FACE_REACH, findFace, findLandmarks, type SmallRegion } from '../geometry/landmarks.ts';
import type { Point, Polygon } from '../geometry/polygon.ts';
import { findSilhouette } from '../geometry/silhouette.ts';
import { type Borders, traceBorders } from './borders.ts';
import { Cutting, UNIT_WEIGHT } from './cutting.ts';
import { paintShapes, regionsOf, weighRegions } from './feature-cells.ts';
import { mirrorShapes, type Shape, shapesOf, type Wish, wishes } from './features.ts';
import type { FitOptions } from './fit-partition.ts';
import { type FitLimits, PRICES } from './limits.ts';
import { type Axis, fold, NEARLY, symmetrise, turnShading, unfold } from './mirror.ts';
import { seedFeatures } from './seed-features.ts';
import { weighCells } from './weigh-cells.ts';

const NO_BORDERS: Borders = {
  ...{ count: 0, x: new Float64Array(), y: new Float64Array() },
  ...{ first: new Int32Array(), past: new Int32Array(), closed: new Uint8Array() },
};

export class Prepared {
  readonly marks: readonly SmallRegion[];
  /** left and right exchanged where the left half is the narrower one */
  readonly facing: Shading;
  /** as it is cut: features painted as shapes, the same on both sides where that is asked for */
  readonly shown: Shading;
  /** half cells from the left of what is cut */
  private readonly at: number | undefined;
  readonly turned: boolean;
  readonly wish: Wish;
  /** features too small to be cut */
  readonly small: readonly number[];
  /** mean weight of a cell */
  readonly weight: number;
  private readonly weights: Uint16Array;
  private readonly face: readonly SmallRegion[];

  constructor(
    readonly shading: Shading,
    readonly options: FitOptions,
    private readonly limits: FitLimits,
    readonly axis: Axis | undefined,
  ) {
    const { width } = shading;
    const { size } = options;
    this.turned = axis !== undefined && axis.at < width;
    this.at = axis && (this.turned ? 2 * width - axis.at : axis.at);
    this.facing = this.turned ? turnShading(shading) : shading;
    const alike = this.at === undefined ? this.facing : symmetrise(this.facing, this.at, axis!.agreement < NEARLY);
    const { shapes, marks } = shapesOf(this.facing, size, limits.smallest);
    this.small = marks;
    const axisAt = this.at === undefined ? undefined : (this.at * size[0]) / width / 2;
    const own = axisAt === undefined ? shapes : mirrorShapes(shapes, axisAt, limits.smallest);
    const drawn = (this.facing.features ?? []).filter((f) => f.kind !== 'pupil').map((f) => this.inMm(f.outline));
    const faceOf = (list: readonly Shape[]): SmallRegion[] => regionsOf(this.bothSides(list), alike, size);
    this.wish = this.firstThatCanBe(own, alike, faceOf(own));
    this.shown =
      drawn.length === 0
        ? alike
        : paintShapes(
            alike,
            size,
            [...drawn, ...this.otherSides(drawn)],
            this.bothSides([...this.wish.held, ...this.wish.weighed]),
          );
    this.marks = this.marksOf(this.shown);
    const weights = weighCells(this.shown, this.marks);
    weighRegions(weights, faceOf(this.wish.weighed));
    this.weight = weights.reduce((t, v) => t + v, 0) / (weights.length * UNIT_WEIGHT);
    this.weights = weights;
    this.face = own.length > 0 ? faceOf(own) : this.marks;
  }

  /** The block, or its half, as one piece with its features cut out. */
  begin(seed: number) {
    const { cutting, half } = this.cut(this.shown.labels, this.weights, this.face, true, seed);
    if (!seedFeatures(cutting, this.wish.held, this.cutSize()))
      throw new Error('features that could be cut no longer can');
    return { cutting, half };
  }

  inMm(outline: Polygon): Point[] {
    return outline.map(([x, y]): Point => [x * this.options.size[0], y * this.options.size[1]]);
  }

  /** Mirror images of outlines, on a mirrored block. */
  private otherSides(outlines: readonly Polygon[]): Point[][] {
    const { at } = this;
    if (at === undefined) return [];
    const twice = (at * this.options.size[0]) / this.shading.width;
    return outlines.map((o) => o.map(([x, y]): Point => [twice - x, y]).reverse());
  }

  /** The shapes, on a mirrored block with their mirror images. */
  private bothSides(shapes: readonly Shape[]): Shape[] {
    const outlines = this.otherSides(shapes.map((s) => s.outline));
    const twice = ((this.at ?? 0) * this.options.size[0]) / this.shading.width;
    return [
      ...shapes,
      ...outlines.map((outline, i): Shape => {
        const { pupil } = shapes[i]!;
        return {
          ...{ ...shapes[i]!, outline },
          pupil: pupil && { ...pupil, from: twice - pupil.to, to: twice - pupil.from },
        };
      }),
    ];
  }

  /** What is cut, mm. */
  private cutSize(): [number, number] {
    const { at, options, shading } = this;
    const [wide, high] = options.size;
    return [at === undefined ? wide : (at * wide) / shading.width / 2, high];
  }

  /** The engine with the whole block, or its half, as one piece. */
  private cut(labels: Uint8Array, weights: Uint16Array, face: readonly SmallRegion[], borders: boolean, seed: number) {
    const { width, height, fabrics } = this.shading;
    const { size } = this.options;
    const reach = FACE_REACH * Math.min(width, height);
    const near = findFace(face, width, height, reach);
    const folded = (cells: Uint8Array) => fold(cells, weights, width, height, this.at!, size[0]);
    const cut = this.at === undefined ? { labels, weights, width, half: undefined } : folded(labels);
    const wide = (size[0] / width) * cut.width;
    const ground = groundOf(labels, width, height);
    const cutting = new Cutting({
      ...{ labels: cut.labels, width: cut.width, height, fabrics: fabrics.length, seed, size: this.cutSize() },
      ...{ limits: this.limits, prices: PRICES, weights: cut.weights, mirror: cut.half, ground },
      borders: borders ? traceBorders(cut.labels, cut.width, height, [wide, size[1]]) : NO_BORDERS,
      face: near && this.at !== undefined ? folded(near).labels : near,
    });
    return { cutting, half: cut.half };
  }

  /** The most of the features that can be cut as shapes, in no more pieces than the block is to have: tried on an empty block. */
  private firstThatCanBe(shapes: readonly Shape[], shading: Shading, face: readonly SmallRegion[]): Wish {
    const blank = {
      labels: new Uint8Array(shading.labels.length),
      weights: new Uint16Array(shading.labels.length).fill(1),
    };
    for (const wish of wishes(shapes, (eye) => this.standsOut(eye, shading))) {
      if (wish.held.length === 0) return wish;
      const { cutting, half } = this.cut(blank.labels, blank.weights, face, false, 1);
      if (!seedFeatures(cutting, wish.held, this.cutSize())) continue;
      const pieces = half ? unfold(cutting.pieces(), half, this.options.size[0]) : cutting.pieces();
      if (pieces.length <= this.options.pieces) return wish;
    }
    return { held: [], weighed: shapes };
  }

  /** Of an eye's two fabrics the one that is further from what is about the eye. */
  private standsOut(eye: Shape, { labels, width, height, fabrics }: Shading): number {
    const colours = fabrics.map((f) => oklabOfHex(f.colour));
    const [own, ring] = [1, 1.6].map((by) => {
      const [cx, cy] = eye.outline.reduce(
        ([x, y], p) => [x + p[0] / eye.outline.length, y + p[1] / eye.outline.length],
        [0, 0],
      );
      const outline = eye.outline.map(([x, y]): Point => [cx! + by * (x - cx!), cy! + by * (y - cy!)]);
      return regionsOf([{ outline, fabric: 0 }], { ...this.shading, width, height }, this.options.size)[0]!.cells;
    }) as [Int32Array, Int32Array];
    const inside = new Set(own);
    const away = (fabric: number): number =>
      ring.reduce((t, i) => t + (inside.has(i) ? 0 : labDistance(colours[labels[i]!]!, colours[fabric]!)), 0);
    return away(eye.pupil!.fabric) >= away(eye.fabric) ? eye.pupil!.fabric : eye.fabric;
  }

  marksOf({ labels, width, height, fabrics }: Shading): SmallRegion[] {
    const colours = fabrics.map((f) => oklabOfHex(f.colour));
    const cell = this.options.size[0] / width;
    return findLandmarks(labels, width, height, colours, 1.5 * (this.options.smallest / cell) ** 2);
  }
}

/** The label of the ground that a figure stands on, where it stands on one. */
function groundOf(labels: Uint8Array, width: number, height: number): number | undefined {
  const subject = findSilhouette(labels, width, height);
  return subject && labels[subject.indexOf(0)];
}
