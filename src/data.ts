// The plain data that one stage hands to the next. Types only: stages do not know one another, they know these.
// (The finished Block has its own file, block.ts.) Everything here can be written as JSON or PNG and looked at.
import type { Fabric } from './block.ts';
import type { Point } from './geometry/polygon.ts';

/** Says how far a long step is, 0..1, and throws when the work was cancelled. */
export type Report = (done: number) => void;

/** 1 -> 2. The part of the picture that the block shows: upright, sRGB, no alpha. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** width x height x 3, sRGB bytes, row by row */
  readonly pixels: Uint8Array;
  readonly source: {
    readonly sha256: string;
    /** of the whole upright picture */
    readonly pixels: readonly [width: number, height: number];
    /** of what the block shows, in upright pixels */
    readonly crop: readonly [x: number, y: number, width: number, height: number];
    /** what the file was by its content: "jpeg", "heic", "svg" … */
    readonly format: string;
  };
  /** what the person should know, one sentence each: "first of 6 frames used" */
  readonly notes: readonly string[];
}

/** A small region that stands out: an eye, a nose, a beak. Positions and sizes as shares of the block's width and height. */
export interface Landmark {
  readonly at: Point;
  /** share of the block's area */
  readonly area: number;
  readonly fabric: number;
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
  /** regions that were too small to sew and stood out: grown until they can be sewn, or given up and reported */
  readonly grown: readonly Landmark[];
  readonly lost: readonly Landmark[];
  readonly notes: readonly string[];
}

/** 3 -> 4. The pieces that the picture was cut into: convex, without gap or overlap, on the grid of 1 micrometre. */
export interface Partition {
  /** finished width and height in mm */
  readonly size: readonly [number, number];
  readonly pieces: readonly { readonly outline: readonly Point[]; readonly fabric: number }[];
}

/** A side way from 2. Regions of one fabric as polygons whose borders are shared: no gap, no overlap. */
export interface Outlines {
  readonly size: readonly [number, number];
  readonly regions: readonly {
    readonly fabric: number;
    /** outer ring first, then holes; mm, y down */
    readonly rings: readonly (readonly Point[])[];
  }[];
}

/** 5. What the sewing check found; sewable where faults is empty. */
export interface Verdict {
  readonly faults: readonly Fault[];
}

export interface Fault {
  /** one of the kinds that check/ lists: "gap", "overlap", "not convex", "seam", "join" … */
  readonly kind: string;
  /** where in the block, mm */
  readonly at: Point;
  readonly text: string;
}

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
   *  sides with the print upright */
  readonly along?: 'seam' | 'edge' | 'upright';
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
    readonly code?: string;
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
