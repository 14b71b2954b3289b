// Cloth: what is cut of it, what is bought, how much work it is, and kits of it for a class.
import type { Point } from '../geometry/polygon.ts';

/** 7. One patch to cut: a rectangle, its width square to the seam that it is laid along. */
export interface Patch {
  readonly block: string;
  readonly section: string;
  readonly piece: number;
  readonly fabric: string;
  /** mm, square to the seam */
  readonly width: number;
  /** mm, along the seam */
  readonly length: number;
  /** what one side of it runs along: its seam, the block's outer edge (so it is on the straight grain there), or the block's
   *  sides with the print upright; turned: neither, as `lies` has it, where that takes a much smaller patch */
  readonly along?: 'seam' | 'edge' | 'upright' | 'turned';
  /** a section of one piece: cut to this shape, not pieced */
  readonly plain?: boolean;
  /** its four corners on the finished face when it has been laid, sewn and opened; mm, y down */
  readonly lies?: readonly Point[];
}

/** One patch in its place on the cloth. Positions in mm from the strip's end, across and along the strip. */
export interface Cell {
  /** "A3", or "pepper A3" where several blocks are cut together */
  readonly name: string;
  /** index into Shopping.patches */
  readonly patch: number;
  readonly along: number;
  readonly across: number;
  readonly length: number;
  readonly width: number;
  /** cut from what is left beside a larger patch */
  readonly leaving: boolean;
}

export interface Strip {
  /** mm */
  readonly width: number;
  /** mm used along the cloth */
  readonly length: number;
  /** names of the patches in it, in cutting order: "A3" */
  readonly patches: readonly string[];
  /** which of several fat quarters it is cut from, from 1 */
  readonly from?: number;
  /** the cutting plan: one cell a patch, in cutting order */
  readonly cells?: readonly Cell[];
}

/** 7 -> 8. What to cut and what to buy. */
export interface Shopping {
  readonly patches: readonly Patch[];
  readonly fabrics: readonly {
    readonly id: string;
    /** cut from what `buy` says: strips of a fat quarter are at most 21 in long */
    readonly strips: readonly Strip[];
    /** rounded up as shops cut */
    readonly yards: number;
    readonly metres: number;
    /** the least length of cloth in mm that could do, by area alone */
    readonly bound: number;
    /** "1 fat quarter", "1 fat eighth", "3/8 yd" */
    readonly buy: string;
    /** where each person gets a length: how much */
    readonly each?: string;
    readonly code?: string;
    /** usable width of what is bought, across which the strips run; mm */
    readonly clothWidth?: number;
    /** mm of cloth that strips across the whole width take off the bolt, without safety */
    readonly cloth?: number;
    /** mm² of finished pieces, and of all patches */
    readonly finished?: number;
    readonly cut?: number;
    /** in the currency of the price a yard or a metre that was given */
    readonly cost?: number;
  }[];
  /** "5 fat eighths and 1 fat quarter", where one block was asked for */
  readonly buy?: string;
  /** the whole cost, where a price was given */
  readonly cost?: number;
  readonly notes?: readonly string[];
}

/** 7. How much work a block is, and whom it suits; by house rules. */
export interface Work {
  readonly pieces: number;
  readonly sections: number;
  /** straight lines of stitching: inside sections and joins */
  readonly seams: number;
  /** metres of stitching */
  readonly metres: number;
  readonly joins: number;
  /** places on joins where seams of both sides meet */
  readonly points: number;
  /** narrowest finished piece; mm */
  readonly narrowest: number;
  readonly mostInSection: number;
  /** the lowest level whose limits all hold */
  readonly level: Skill;
  /** what keeps it from the level below, in words */
  readonly because: readonly string[];
  /** hours of sewing for each level, rounded to half an hour */
  readonly hours: Readonly<Record<Skill, number>>;
}
export type Skill = 'beginner' | 'intermediate' | 'advanced';

/** 7. What one fabric's cutter needs to know. */
export interface Ticket {
  readonly fabric: string;
  readonly code: string;
  readonly name: string;
  /** so many strips of this width, the longest used to this length; mm */
  readonly strips: readonly { readonly count: number; readonly width: number; readonly length: number }[];
  readonly patches: number;
  readonly buy: string;
  /** left blank for the shop to write in */
  readonly bolt: '';
  readonly price: '';
}

/** 7. A class or a shop: kits for many people. */
export interface ClassPlan {
  readonly people: number;
  readonly spare: number;
  readonly kit: 'patches' | 'lengths';
  readonly shopping: Shopping;
  /** what one person gets, a line a fabric */
  readonly card: readonly string[];
  readonly tickets: readonly Ticket[];
  /** bag labels in sewing order, for one set: "pepper, section A: A1 A2 A3" */
  readonly labels: readonly {
    readonly block: string;
    readonly section: string;
    readonly patches: readonly { readonly name: string; readonly code: string }[];
  }[];
  readonly supplies: readonly string[];
  /** packets to print, one a set */
  readonly packets: number;
  /** hours of cutting, rounded up to half an hour: of all sets, or of one person who gets lengths */
  readonly cuttingHours: number;
}
