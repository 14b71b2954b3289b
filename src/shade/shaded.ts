// What each way of shading (photo, drawing, flat art) hands to the common finish, and the settings they share.
import type { Lab } from '../colour/oklab.ts';
import type { Feature } from '../data.ts';
import type { Point } from '../geometry/polygon.ts';
import type { Background } from './calm-ground.ts';
import type { Cells } from './cells.ts';

export interface Shaded {
  readonly labels: Uint8Array;
  readonly colours: readonly Lab[];
  /** n x k: how wrong shade l would be in cell i */
  readonly costs: Float32Array;
  /** what a person would see in each cell; for flat art and drawings without the paper's or the scanner's faults */
  readonly cells: Cells;
  readonly notes: readonly string[];
  /** the shades that took the background's place */
  readonly ground?: readonly number[];
  /** how much each cell counts where colours are fitted */
  readonly matters?: Float32Array;
  /** how many fabrics the picture asks for, where that was left to it */
  readonly suggested?: number;
  /** cells that later steps must leave alone */
  readonly hold?: Uint8Array;
  /** parts of a face, painted into the labels; their fabric is what the labels have in their middle */
  readonly features?: readonly Omit<Feature, 'fabric'>[];
  /** strokes that no piece shows, as shares of the block */
  readonly strokes?: readonly (readonly Point[])[];
  /** the upright axis of a figure that is its own mirror image, as a share of the block's width */
  readonly axis?: number;
}

export interface ShadeSettings {
  /** most fabrics; `auto` as many as the picture asks for */
  readonly shades: number | 'auto';
  /** what `auto` may not exceed */
  readonly most?: number;
  readonly background?: Background;
  /** how much dearer borders are than usual: a face is to be shown in few large masses */
  readonly calmer?: number;
  readonly seed: number;
  /** the narrowest piece, in cells */
  readonly narrow: number;
}
