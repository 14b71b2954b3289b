// A quilt of blocks, and all that is asked about the cloth of some blocks.
import type { Block } from '../block.ts';
import type { ClassPlan, Shopping, Work } from './cutting.ts';

/** 7. Parts of a quilt that are cut alike. Widths and lengths as cut, allowance included; mm. */
export interface QuiltCut {
  readonly what: string;
  /** the cloth it is cut from: "sashing", "border 2" */
  readonly from: string;
  readonly count: number;
  readonly width: number;
  readonly length: number;
  /** lengthwise: along the selvage, in one piece */
  readonly way: 'lengthwise' | 'across';
  /** mm off the bolt, were it cut by itself */
  readonly cloth: number;
}

/** 7. One cloth of a quilt besides its blocks. */
export interface QuiltCloth {
  readonly what: string;
  /** in cutting order; `beside`: so many are cut from what lies beside the long ones, the rest from `strips` across the cloth */
  readonly cuts: readonly (QuiltCut & { readonly beside: number; readonly strips: number })[];
  /** mm off the bolt, without safety */
  readonly cloth: number;
  readonly yards: number;
  readonly metres: number;
  readonly buy: string;
  /** what would do, were the long parts pieced from strips across the cloth; where that is less */
  readonly pieced?: string;
  readonly cost?: number;
}

export interface Panels {
  /** how many strips or panels, each of this size; mm */
  readonly count: number;
  readonly width: number;
  readonly length: number;
  /** mm of cloth off the bolt */
  readonly cloth: number;
}

/** 7. A quilt of blocks. */
export interface QuiltPlan {
  /** finished */
  readonly size: readonly [width: number, height: number];
  readonly setting: 'straight' | 'on point';
  readonly rows: number;
  readonly columns: number;
  readonly block: readonly [width: number, height: number];
  readonly sashing: number;
  readonly sashingAround: boolean;
  readonly cornerstones: boolean;
  /** finished widths, from the blocks outward */
  readonly borders: readonly number[];
  readonly blocks: number;
  /** all cuts, the long ones first */
  readonly cuts: readonly QuiltCut[];
  /** what to buy besides the fabrics of the blocks */
  readonly cloths: readonly QuiltCloth[];
  readonly binding: Panels & { readonly total: number };
  readonly backing: Panels & { readonly seams: 'up' | 'across' };
  readonly batting: { readonly width: number; readonly height: number };
  readonly cost?: number;
}

/** 7 -> 8. All that is asked about some blocks: what to cut, what to buy, how long it takes. */
export interface Yardage {
  readonly blocks: readonly { readonly block: Block; readonly copies: number; readonly work: Work }[];
  /** for a class, for all sets together */
  readonly shopping: Shopping;
  readonly class?: ClassPlan;
  readonly quilt?: QuiltPlan;
  /** of everything, where a price was given */
  readonly cost?: number;
}
