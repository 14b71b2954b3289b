// The picture as fabrics: a grid of labels, and what in it must not be lost.
import type { Fabric } from '../block.ts';
import type { Point } from '../geometry/polygon.ts';

/** A small region that stands out: an eye, a nose, a beak. Positions and sizes as shares of the block's width and height. */
export interface Landmark {
  readonly at: Point;
  /** share of the block's area */
  readonly area: number;
  readonly fabric: number;
}

/** A part of a face that must show as a shape of its own: an eye, its pupil, a nose, a beak, a mouth. */
export interface Feature {
  readonly kind: 'eye' | 'pupil' | 'nose' | 'beak' | 'mouth';
  /** convex, clockwise as seen, four to six corners; shares of the block's width and height */
  readonly outline: readonly Point[];
  readonly fabric: number;
  /** the same number stands on both of a pair */
  readonly pair?: number;
  /** for a pupil: index of the eye that it lies in */
  readonly within?: number;
}

/** 2 -> 3. The posterised picture: a grid of fabric labels that covers the block exactly. */
export interface Shading {
  readonly width: number;
  readonly height: number;
  /** width x height, index into fabrics */
  readonly labels: Uint8Array;
  /** light to dark */
  readonly fabrics: readonly Fabric[];
  /** how much a cell matters where it is shown in the wrong fabric, 1 = as any; absent where all are alike */
  readonly weights?: Float32Array;
  /** parts of a face that the fit keeps as shapes; painted into the labels already */
  readonly features?: readonly Feature[];
  /** where a face is seen straight from the front or the figure is symmetric: the upright axis it is mirrored about, as a share of
   *  the block's width */
  readonly axis?: number;
  /** strokes of a drawing that no piece shows (a smile, whiskers): lines to stitch or ink on the finished block; shares of the
   *  block's width and height, each from one end to the other */
  readonly strokes?: readonly (readonly Point[])[];
  /** regions that were too small to sew and stood out: grown until they can be sewn, or given up and reported */
  readonly grown: readonly Landmark[];
  readonly lost: readonly Landmark[];
  readonly notes: readonly string[];
}
