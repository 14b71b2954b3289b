// 3. Shading -> Partition. The pieces: cuts are grown along the label borders, annealed as one tree, and laid on the grid of
// 1 micrometre. As little of the picture in the wrong fabric as possible, for as few sections as possible.
import { pointOnGrid } from '../block.ts';
import { oklabOfHex } from '../colour/oklab.ts';
import type { Landmark, Partition, Report, Shading } from '../data.ts';
import { FACE_REACH, findFace, findLandmarks } from '../geometry/landmarks.ts';
import { UserError } from '../problems/problem.ts';
import type { SectionLimits } from '../tree/sections.ts';
import { traceBorders } from './borders.ts';
import { Cutting, UNIT_WEIGHT } from './cutting.ts';
import type { FitLimits, FitPrices } from './limits.ts';
import { judgePieces } from './shown.ts';
import { weighCells } from './weigh-cells.ts';

/** glance: for a first look while a better one is on its way */
export type Effort = 'glance' | 'quick' | 'full' | 'long';
/** moves tried for each piece of a block of the usual number, and how the number of moves grows with that of pieces */
const MOVES: Record<Effort, number> = { glance: 60, quick: 700, full: 6000, long: 20000 };
const USUAL_PIECES = 80;
const MOVES_GROW = 0.7;
/** temperatures at the beginning and the end, in cells that show the wrong fabric */
const HOT = 40;
const COLD = 0.3;
/** the same at the end of the second run, in which joins have a price */
const JOINS_COLD = 0.2;
/** pieces a section that are wished for, and what a section may be made to cost for it, in cells */
const SECTION_PIECES = 6.5;
const SECTION_PRICE = [65, 120] as const;

export interface FitOptions {
  /** finished width and height, mm */
  readonly size: readonly [number, number];
  /** narrowest finished width of a piece, mm */
  readonly smallest: number;
  /** pieces at most */
  readonly pieces: number;
  readonly sections: SectionLimits;
  readonly seed: number;
  readonly effort: Effort;
}

export interface FitFound extends Partition {
  /** share of the block's area that shows the wrong fabric */
  readonly misplaced: number;
  /** small regions that stand out and show less than 40 % of themselves */
  readonly lost: readonly Landmark[];
  /** sections of the tree that was fitted; another tree of the same pieces may need fewer */
  readonly sections: number;
}

/** The shortest edge that can be sewn and pressed (house rule), mm. */
const SHORTEST_EDGE = 6.35;
/** Edges under 3/8 in are slivers in a 12 in block (house rule); lengths scale with the block. */
const SLIVER_EDGE = 9.525;
const BLOCK_OF_RULES = 304.8;
/** rounding to the micrometre must not bring a piece under its limits, mm */
const ROUNDING = 0.01;

const cosineOf = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);

function limitsOf(options: FitOptions): FitLimits {
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

/** what a near miss across a join and a point to match are worth mending for, in cells */
const NEAR_MISS = 25;
const MATCH = 2;
const PRICES: FitPrices = {
  section: 40,
  smallSection: 24,
  longSection: 45,
  sharpCorner: 8,
  longPiece: 8,
  nearMiss: 0,
  match: 0,
  offPaper: 60,
};

/** Throws UserError where a block of this size cannot be cut into pieces of the width that was asked for. */
export function fitPartition(shading: Shading, options: FitOptions, report?: Report): FitFound {
  return fitPartitions(shading, options, [options.pieces], report)[0]!;
}

/** The same picture in several numbers of pieces (`options.pieces` is not looked at), in the order of `counts`, which ascends.
 *  The first is what fitPartition gives; each further one is grown from the one before, at two fifths of the moves, and never shows
 *  less of the picture. */
export function fitPartitions(
  shading: Shading,
  options: FitOptions,
  counts: readonly number[],
  report?: Report,
): FitFound[] {
  const { width, height, labels, fabrics } = shading;
  const limits = counts.map((pieces) => limitsOf({ ...options, pieces }));
  if (Math.min(...options.size) < 2 * limits[0]!.smallest)
    throw new UserError(
      'too-small-to-cut',
      { size: options.size.map((v) => Math.round(v)), smallest: Math.round(options.smallest * 10) / 10 },
      2,
    );
  const cellWidth = options.size[0] / width;
  const colours = fabrics.map((f) => oklabOfHex(f.colour));
  const marks = findLandmarks(labels, width, height, colours, 1.5 * (options.smallest / cellWidth) ** 2);
  const weights = weighCells(shading, marks);
  const mean = weights.reduce((t, v) => t + v, 0) / (weights.length * UNIT_WEIGHT);
  const cutting = new Cutting({
    ...{ labels, width, height, fabrics: fabrics.length, size: options.size, seed: options.seed },
    ...{ limits: limits[0]!, prices: PRICES, weights },
    borders: traceBorders(labels, width, height, options.size),
    face: findFace(marks, width, height, FACE_REACH * Math.min(width, height)),
  });
  const fits: FitFound[] = [];
  counts.forEach((pieces, i) => {
    cutting.setLimits(limits[i]!);
    const moves = Math.round(MOVES[options.effort] * USUAL_PIECES * (pieces / USUAL_PIECES) ** MOVES_GROW);
    const part = (done: number): void => report?.((i + done) / counts.length);
    fitCuts(cutting, pieces, moves, i === 0 ? AFRESH : GROWN, mean, part);
    part(1);
    const found = cutting.pieces().map(({ outline, fabric }) => ({ outline: outline.map(pointOnGrid), fabric }));
    const shown = judgePieces(found, shading, options.size, marks);
    const before = fits.at(-1);
    // pieces are at most as many as were asked for: where more of them came out worse, the fewer stand
    if (before && before.misplaced <= shown.misplaced) fits.push(before);
    else fits.push({ size: options.size, pieces: found, sections: cutting.sections, ...shown });
  });
  return fits;
}

interface Start {
  /** share of the pieces with which it begins, and of impurity in their costs */
  readonly firstShare: number;
  readonly impurity: number;
  readonly hot: number;
  /** shares of the moves: of the first run, and of the second, in which joins have a price */
  readonly moves: number;
  readonly joins: number;
  /** temperature at which the second begins */
  readonly joinsHot: number;
  readonly sectionPrice: readonly [number, number];
}
const AFRESH: Start = {
  ...{ firstShare: 0.6, impurity: 0.5, hot: HOT, moves: 0.6 },
  ...{ joins: 0.45, joinsHot: 3, sectionPrice: SECTION_PRICE },
};
/** a block that is grown from one of fewer pieces has few sections from the start, and pays less for them */
const GROWN: Start = {
  ...{ firstShare: 1, impurity: 0.3, hot: 8, moves: 0.25 },
  ...{ joins: 0.15, joinsHot: 0.6, sectionPrice: [18, 50] },
};

/** Grows, anneals and mends what is there to `pieces` pieces. Where cells weigh more than one on average, all prices are as much
 *  higher, so that a section costs the same wherever the weight lies. */
function fitCuts(cutting: Cutting, pieces: number, moves: number, start: Start, weight: number, report: Report): void {
  const prices = raised(PRICES, weight);
  const sectionPrice = [weight * start.sectionPrice[0], weight * start.sectionPrice[1]] as const;
  const sections = pieces / SECTION_PIECES;
  // an earlier number of pieces has mended its joins and settled its price of sections
  cutting.setPrices({ ...prices, section: sectionPrice[0] + 5 });
  cutting.reprice();
  const { firstShare, impurity, hot } = start;
  cutting.grow(Math.round(firstShare * pieces));
  const course = { moves: Math.round(moves * start.moves), hot, cold: COLD };
  cutting.anneal({ pieces, firstShare, impurity, ...course, sections, sectionPrice }, report);
  // seam ends that nearly meet across a join are made to meet or parted; what that cost is won back in part, and mended again
  const section = cutting.sectionPrice;
  cutting.setPrices({ ...prices, section, nearMiss: weight * NEAR_MISS, match: weight * MATCH });
  cutting.reprice();
  cutting.mendJoins();
  cutting.anneal({
    ...{ pieces: cutting.pieceCount, moves: Math.round(moves * start.joins) },
    ...{ hot: start.joinsHot, cold: JOINS_COLD, sections, sectionPrice: [section, section] },
  });
  cutting.mendJoins();
}

const raised = (prices: FitPrices, times: number): FitPrices =>
  Object.fromEntries(Object.entries(prices).map(([name, price]) => [name, times * price])) as unknown as FitPrices;
