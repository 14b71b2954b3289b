// The course of a fit: how a cutting is grown, annealed and mended, in which order and at which prices.
import type { Report } from '../data.ts';
import type { Cutting } from './cutting.ts';
import { latePrices, PRICES, raised, USUAL_PIECES } from './limits.ts';

/** glance: for a first look while a better one is on its way */
export type Effort = 'glance' | 'quick' | 'full' | 'long';
/** moves tried for each piece of a block of the usual number, and how the number of moves grows with that of pieces */
const MOVES: Record<Effort, number> = { glance: 60, quick: 700, full: 6000, long: 20000 };
const MOVES_GROW = 0.7;
/** temperatures at the beginning and the end, in cells that show the wrong fabric */
const HOT = 40;
const COLD = 0.3;
/** the same at the end of the second run, in which joins have a price */
const JOINS_COLD = 0.2;
/** pieces a section that are wished for, and what a section may be made to cost for it, in cells */
const SECTION_PIECES = 6.5;
const SECTION_PRICE = [65, 120] as const;

export const movesOf = (effort: Effort, pieces: number): number =>
  Math.round(MOVES[effort] * USUAL_PIECES * (pieces / USUAL_PIECES) ** MOVES_GROW);

interface Course {
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
export const AFRESH: Course = {
  ...{ firstShare: 0.6, impurity: 0.5, hot: HOT, moves: 0.6 },
  ...{ joins: 0.45, joinsHot: 3, sectionPrice: SECTION_PRICE },
};
/** a block that is grown from one of fewer pieces has few sections from the start, and pays less for them */
export const GROWN: Course = {
  ...{ firstShare: 1, impurity: 0.3, hot: 8, moves: 0.25 },
  ...{ joins: 0.15, joinsHot: 0.6, sectionPrice: [18, 50] },
};

/** Grows, anneals and mends what is there to `pieces` pieces. Where cells weigh more than one on average, all prices are as much
 *  higher, so that a section costs the same wherever the weight lies. */
export function fitCuts(
  cutting: Cutting,
  pieces: number,
  moves: number,
  course: Course,
  { weight, calm }: { readonly weight: number; readonly calm: number },
  report?: Report,
): void {
  const prices = raised(PRICES, weight);
  const sectionPrice = [weight * course.sectionPrice[0], weight * course.sectionPrice[1]] as const;
  const sections = pieces / SECTION_PIECES;
  // an earlier number of pieces has mended its joins and settled its price of sections
  cutting.setPrices({ ...prices, section: sectionPrice[0] + 5 });
  cutting.reprice();
  const { firstShare, impurity, hot } = course;
  cutting.grow(Math.round(firstShare * pieces));
  const first = { moves: Math.round(moves * course.moves), hot, cold: COLD };
  cutting.anneal({ pieces, firstShare, impurity, ...first, sections, sectionPrice }, report);
  // seam ends that nearly meet across a join are made to meet or parted; what that cost is won back in part, and mended again
  const section = cutting.sectionPrice;
  cutting.setPrices({ ...prices, ...raised(latePrices(calm), weight), section });
  cutting.reprice();
  cutting.mendJoins();
  cutting.anneal({
    ...{ pieces: cutting.pieceCount, moves: Math.round(moves * course.joins) },
    ...{ hot: course.joinsHot, cold: JOINS_COLD, sections, sectionPrice: [section, section] },
  });
  cutting.mendJoins();
}
