// The pieces, the regions that they show, and what the sewing check says of them.
import type { Point } from '../geometry/polygon.ts';

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
