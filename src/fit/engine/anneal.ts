// Takes a cutting tree and makes it better by chance moves that are kept when they help, and now and then when they do not
// (simulated annealing, Kirkpatrick, Gelatt & Vecchi 1983). A piece has a price that is steered so that as many are bought as were
// wished for; so pieces wander to where they help most. Budgets are in moves.
import { Borders } from './borders';
import { Sums } from './cell-sums';
import { deleteLeaf } from './edits';
import { noteJoins, settle, settleNoted } from './joins';
import { accept, begin, takeBack } from './log';
import { align, cutOff, divide, Moves, recut, remove, shift, snap, swap } from './moves';
import { sections, total } from './price';
import { next } from './random';
import { reprice, repriceSections } from './reprice';
import { isLeaf, listNodes, nodeAt, Prices, pieces, Tree, UNIT_WEIGHT } from './state';

/** share of the moves that lay one seam end on another, where joins have a price */
const SNAPS: f64 = 0.1;
/** the smallest shift of a seam, in cells at temperature 1; it goes with the root of the temperature */
const SHIFT: f64 = 0.18;
/** how far from a border a seam may be to be laid along it, in cells: when it is cold, and for every temperature more */
const FAR: f64 = 3;
const FAR_WARM: f64 = 1.5;
/** what a piece must be worth at least, in cells, when it is cold; less by so many temperatures when it is warm */
const LEAST_WORTH: f64 = 3;
const WARM: f64 = 10;
/** how often in a run prices are set anew, and how strongly that of a section */
const PRICE_STEPS: f64 = 60;
const SECTION_STEER: f64 = 0.2;
/** pieces over the wish that the search may hold for a while */
const OVER: i32 = 6;
/** how the price of a piece follows the number of pieces, in cells: what stays, and what goes with the excess */
const STEER: f64 = 0.01;
const PULL: f64 = 4;

/** parts of a run in which more and more pieces are wished for, and in which impurity has a share in costs, falling to nothing */
const GROWS: f64 = 0.6;
const SOFT: f64 = 0.8;

class Plan {
  static most: i32 = 0;
  /** of these, how many are wished for at the beginning, and now */
  static firstShare: f64 = 1;
  static pieces: i32 = 0;
  static impurity: f64 = 0;
  static moves: i32 = 0;
  static done: i32 = 0;
  static hot: f64 = 0;
  static cooling: f64 = 0;
  static temperature: f64 = 0;
  static sections: f64 = 0;
  static leastSectionPrice: f64 = 0;
  static mostSectionPrice: f64 = 0;
  static nextPrices: f64 = 0;
  static piecePrice: f64 = 0;
  static pull: f64 = 0;
}

/** Begins a run: pieces at most, and the share of them with which it begins; the share of impurity in costs at first; moves;
 *  temperatures at the beginning and the end, in cells; sections wished for, and between what their price may move to get there,
 *  in cells. */
export function startAnneal(
  most: i32,
  firstShare: f64,
  impurity: f64,
  moves: i32,
  hot: f64,
  cold: f64,
  wished: f64,
  leastSectionPrice: f64,
  mostSectionPrice: f64,
): void {
  Plan.most = most;
  Plan.firstShare = firstShare;
  Plan.impurity = impurity;
  Plan.moves = moves;
  Plan.done = 0;
  Plan.hot = hot;
  Plan.cooling = cold / hot;
  Plan.sections = wished;
  Plan.leastSectionPrice = leastSectionPrice;
  Plan.mostSectionPrice = mostSectionPrice;
  Plan.nextPrices = 0;
  Plan.piecePrice = 8 * UNIT_WEIGHT;
  Plan.pull = 0;
  Moves.cell = 1 / Sums.scaleX;
  if (Borders.count === 0 || isLeaf(Tree.root)) Plan.moves = 0;
}

/** Tries so many moves more; says how many of the run are left. At the end the pieces are no more than were wished for. */
export function annealOn(moves: i32): i32 {
  const past = min(Plan.moves, Plan.done + moves);
  for (let m = Plan.done; m < past; m++) {
    if ((m & 63) === 0) steer(m);
    tryMove();
  }
  Plan.done = past;
  if (past < Plan.moves) return Plan.moves - past;
  if (Plan.moves === 0) return 0;
  setImpurity(0);
  trim(Plan.most);
  return 0;
}

/** Temperature and prices as they are to be after m moves. */
function steer(m: i32): void {
  const course = <f64>m / <f64>Plan.moves;
  if (m >= Plan.nextPrices) {
    Plan.nextPrices += <f64>Plan.moves / PRICE_STEPS;
    setImpurity(Plan.impurity * max(0, 1 - course / SOFT));
    const off = <f64>sections(Tree.root) / Plan.sections - 1;
    const price = Prices.section * (1 + SECTION_STEER * max(-0.5, min(0.5, off)));
    repriceSections(max(Plan.leastSectionPrice, min(Plan.mostSectionPrice, price)));
  }
  Plan.temperature = Plan.hot * UNIT_WEIGHT * Plan.cooling ** course;
  const grown = Plan.firstShare + (1 - Plan.firstShare) * min(1, course / GROWS);
  Plan.pieces = <i32>Math.round(<f64>Plan.most * grown);
  Moves.most = Plan.pieces + OVER;
  const over = <f64>(pieces[Tree.root] - Plan.pieces);
  Moves.leastShift = SHIFT * Moves.cell * Math.sqrt(Plan.temperature / UNIT_WEIGHT);
  Moves.far = FAR + (FAR_WARM * Plan.temperature) / UNIT_WEIGHT;
  const least = LEAST_WORTH * UNIT_WEIGHT - WARM * Plan.temperature;
  Plan.piecePrice = max(least, Plan.piecePrice + STEER * UNIT_WEIGHT * over);
  Plan.pull = over < 0 && Plan.piecePrice === least ? 0 : PULL * UNIT_WEIGHT * over;
}

function setImpurity(share: f64): void {
  if (share === Prices.impurity) return;
  Prices.impurity = share;
  reprice();
}

function tryMove(): void {
  const piecePrice = Plan.piecePrice + Plan.pull;
  const r = next();
  const before = total() + piecePrice * <f64>pieces[Tree.root];
  begin();
  if (!change(r)) {
    takeBack();
    return;
  }
  // how much worse it may be; joins take long to look at, and mostly there is no need to
  const bar = before - Plan.temperature * Math.log(next()) - piecePrice * <f64>pieces[Tree.root];
  if (isLeaf(Tree.root) || total() - noteJoins() > bar) {
    takeBack();
    return;
  }
  settleNoted();
  if (total() <= bar) accept();
  else takeBack();
}

/** One move, its kind by a number in [0, 1). */
function change(r: f64): bool {
  if (Prices.nearMiss > 0) {
    if (r < SNAPS) return snap();
    r = (r - SNAPS) / (1 - SNAPS);
  }
  if (r < 0.47) return shift();
  if (r < 0.65) return align();
  if (r < 0.75) return divide();
  if (r < 0.83) return cutOff();
  if (r < 0.93) return remove();
  if (r < 0.97) return swap();
  return recut();
}

/** Takes the cheapest pieces away until no more than `most` are left. */
function trim(most: i32): void {
  while (pieces[Tree.root] > most) {
    let best = -1;
    let least = f64.MAX_VALUE;
    const n = listNodes();
    for (let i = 0; i < n; i++) {
      const v = nodeAt(i);
      if (!isLeaf(v)) continue;
      begin();
      if (deleteLeaf(v)) {
        settle();
        if (total() < least) {
          least = total();
          best = v;
        }
      }
      takeBack();
    }
    if (best < 0) return;
    begin();
    deleteLeaf(best);
    settle();
    accept();
  }
}
