// What a piece, a seam and a section must be to be sewn (refusals), and what makes them worse to sew (prices).
// Lengths in mm.

export interface FitLimits {
  /** narrowest finished width of a piece */
  readonly smallest: number;
  /** shortest seam, and shortest edge of a piece */
  readonly shortestEdge: number;
  /** the same in the face: near eyes and noses */
  readonly shortestFaceEdge: number;
  /** shortest edge of a piece on the block's outer edge, and least distance of a seam end from the block's corner */
  readonly shortestOuterEdge: number;
  /** sine of the least angle between a seam and the block's outer edge */
  readonly leastOuterSine: number;
  /** cosine of the least corner of a piece */
  readonly leastCornerCosine: number;
  /** length over width of a piece, at most */
  readonly mostStretch: number;
  readonly mostPieces: number;
  /** printable width and height, and what lies outside the section on every side */
  readonly paper: readonly [number, number];
  readonly allowance: number;
  /** seam ends on the two sides of a join lie apart by at least this much, or at one place to within `matchWithin` */
  readonly nearMiss: number;
  readonly matchWithin: number;
  /** points to match on one join lie apart by at least this much */
  readonly pointsApart: number;
  /** a section longer than this many times its width costs */
  readonly sectionStretch: number;
  /** a corner of a piece over this cosine, a piece longer than this many times its width, cost */
  readonly sharpCosine: number;
  readonly longStretch: number;
}

/** Prices in cells that show the wrong fabric. */
export interface FitPrices {
  readonly section: number;
  /** added for a section of one or two pieces */
  readonly smallSection: number;
  readonly longSection: number;
  readonly sharpCorner: number;
  readonly longPiece: number;
  readonly nearMiss: number;
  readonly match: number;
  /** added for a piece that is too large for the paper */
  readonly offPaper: number;
}
