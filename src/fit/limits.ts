// What a piece, a seam and a section must be to be sewn (refusals), and what makes them worse to sew (prices).
// Lengths in mm.
import type { SectionLimits } from '../tree/sections.ts';

/** the number of pieces that the rules of a 12 in block are for */
export const USUAL_PIECES = 80;

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
  /** a cell's length of a seam between two pieces of the ground's fabric */
  readonly ground: number;
  /** the same between a feature and a piece of its fabric beside it */
  readonly bleed: number;
}

/** The shortest edge that can be sewn and pressed (house rule), mm. */
const SHORTEST_EDGE = 6.35;
/** Edges under 3/8 in are slivers in a 12 in block (house rule); lengths scale with the block. */
const SLIVER_EDGE = 9.525;
const BLOCK_OF_RULES = 304.8;
/** rounding to the micrometre must not bring a piece under its limits, mm */
const ROUNDING = 0.01;

const cosineOf = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);

/** What may not be, for a block of this size (mm) in so many pieces. */
export function limitsOf(options: {
  readonly size: readonly [number, number];
  readonly smallest: number;
  readonly pieces: number;
  readonly sections: SectionLimits;
}): FitLimits {
  // more pieces than usual are smaller ones, and their edges are shorter
  const scale = (Math.min(...options.size) / BLOCK_OF_RULES) * Math.min(1, Math.sqrt(USUAL_PIECES / options.pieces));
  const shortestEdge = Math.max(SHORTEST_EDGE, Math.min(options.smallest, SLIVER_EDGE * scale)) + ROUNDING;
  return {
    smallest: options.smallest + ROUNDING,
    shortestEdge,
    shortestFaceEdge: Math.min(shortestEdge, SHORTEST_EDGE + ROUNDING),
    shortestOuterEdge: Math.max(shortestEdge, 2 * SLIVER_EDGE * Math.min(1, scale) + ROUNDING),
    leastOuterSine: 0.5,
    leastCornerCosine: cosineOf(15),
    mostStretch: 8,
    mostPieces: options.sections.mostPieces,
    paper: options.sections.paper,
    allowance: options.sections.allowance,
    nearMiss: (SLIVER_EDGE * Math.min(...options.size)) / BLOCK_OF_RULES,
    matchWithin: 0.25,
    pointsApart: (12.7 * Math.min(...options.size)) / BLOCK_OF_RULES,
    sectionStretch: 5,
    sharpCosine: cosineOf(25),
    longStretch: 5,
  };
}

export const PRICES: FitPrices = {
  section: 40,
  smallSection: 24,
  longSection: 45,
  sharpCorner: 8,
  longPiece: 8,
  nearMiss: 0,
  match: 0,
  offPaper: 60,
  ground: 0,
  bleed: 0,
};
/** What has a price in the second run only, for it takes long to look at on every move; seams inside the ground at `calm` times the usual. */
export const latePrices = (calm: number) => ({ nearMiss: 25, match: 2, ground: 0.8 * calm, bleed: 3 });

/** Where cells weigh more than one on average, all prices are as much higher, so that a section costs the same wherever the weight
 *  lies. */
export const raised = <T extends Partial<FitPrices>>(prices: T, times: number): T =>
  Object.fromEntries(Object.entries(prices).map(([name, price]) => [name, times * price])) as unknown as T;
