// What a piece, a section and a subtree cost.
import { calm, sameCost } from './calm';
import { impurity, loadSums, measure, Sums, sums } from './cell-sums';
import { save } from './log';
import { Mirror, onAxis } from './mirror';
import { fitsPaper, isLonger, shapeLeaf } from './shape';
import {
  corners,
  cost,
  extra,
  fabric,
  isSection,
  joinCost,
  Limits,
  left,
  margin,
  nx,
  Prices,
  packed0,
  packed1,
  parent,
  pieces,
  region,
  right,
  sewing,
  Tree,
  UNIT_WEIGHT,
  XY,
} from './state';

/** Fills fabric and cost of a piece's region; false where it is no piece that can be sewn. */
export function priceLeaf(b: i32): bool {
  if (!shapeLeaf(b)) return false;
  weighLeaf(b);
  return true;
}

/** Fabric and cost of a region that can be sewn as a piece; what lies in it is counted, or known. By what shows wrong alone, a cut
 *  along a border is worth nothing before a second one has made another fabric the foremost on one of its sides; impurity sees
 *  what it is good for at once. */
export function weighLeaf(b: i32): void {
  let total: f64 = 0;
  if (b === Tree.knownRegion) {
    total = loadSums(Tree.known0, Tree.known1);
    Tree.knownRegion = -1;
  } else total = measure(b * XY, corners[b]);
  packed0[b] = Sums.packed0;
  packed1[b] = Sums.packed1;
  let best = 0;
  let most = sums[0];
  let second: f64 = 0;
  for (let f = 1; f < Sums.fabrics; f++) {
    const s = sums[f];
    if (s > most) {
      second = most;
      most = s;
      best = f;
    } else if (s > second) second = s;
  }
  fabric[b] = best;
  margin[b] = most - second;
  const wrong = total - most;
  cost[b] = wrong + extra[b];
  if (Prices.impurity > 0 && wrong > 0) cost[b] += Prices.impurity * (impurity() - wrong);
}

/** What region b holds is known without counting: what `whole` holds, less what `part` does. */
export function knowRest(b: i32, whole0: f64, whole1: f64, part: i32): void {
  if (Sums.lanes > 2) return;
  Tree.knownRegion = b;
  Tree.known0 = whole0 - (part < 0 ? 0 : packed0[part]);
  Tree.known1 = whole1 - (part < 0 ? 0 : packed1[part]);
}

export function priceSection(v: i32, n: i32, b: i32): void {
  let price = Prices.section;
  if (n <= 2) price += Prices.smallSection;
  if (Prices.longSection > 0 && isLonger(b, Limits.sectionStretch)) price += Prices.longSection;
  // a piece too large for the paper must be pasted together from parts
  if (n === 1 && !fitsPaper(b)) price += Prices.offPaper;
  sewing[v] = price * UNIT_WEIGHT;
}

/** What an inner node is, from its two sides. What may be sewn as a section is the rule of tree/sections.ts. */
export function gather(v: i32): void {
  const l = left[v];
  const r = right[v];
  if (Mirror.axis > 0 && isPair(v)) {
    gatherPair(v);
    return;
  }
  const n = pieces[l] + pieces[r];
  pieces[v] = n;
  const b = region[v];
  // the half of a level seam that runs on across the axis
  const twice: f64 = onAxis(b) ? 2 : 1;
  calm[v] = calm[l] + calm[r] + twice * sameCost[v];
  if (
    n <= Limits.mostPieces &&
    ((pieces[l] === 1 && isSection[r] === 1) || (pieces[r] === 1 && isSection[l] === 1)) &&
    fitsPaper(b)
  ) {
    isSection[v] = 1;
    priceSection(v, n, b);
  } else {
    isSection[v] = 0;
    sewing[v] = sewing[l] + sewing[r] + twice * joinCost[v];
  }
}

/** Whether the cut of v is made twice, with its mirror image, in a region that is its own mirror image. */
function isPair(v: i32): bool {
  return nx[v] !== 0 && onAxis(region[v]);
}

/** Two mirrored cuts, one after the other: what lies off the axis is there twice. */
function gatherPair(v: i32): void {
  const off = onAxis(region[left[v]]) ? right[v] : left[v];
  const middle = off === left[v] ? right[v] : left[v];
  const n = 2 * pieces[off] + pieces[middle];
  pieces[v] = n;
  isSection[v] = 0;
  calm[v] = 2 * calm[off] + calm[middle] + 2 * sameCost[v];
  const paper = fitsPaper(region[v]);
  if (pieces[off] === 1 && isSection[middle] && paper && n - 1 <= Limits.mostPieces) {
    isSection[v] = n <= Limits.mostPieces ? 1 : 0;
    priceSection(v, min(n, Limits.mostPieces), region[v]);
    // where there is room for one of the two pieces only, the other is a section of its own
    if (!isSection[v]) sewing[v] += sewing[off] + 2 * joinCost[v];
  } else if (joinsOneSide(off, middle) && paper) {
    priceSection(v, pieces[off] + 1, region[v]);
    sewing[v] += sewing[off] + 2 * joinCost[v];
  } else sewing[v] = 2 * sewing[off] + sewing[middle] + 2 * joinCost[v];
}

/** The piece on the axis goes with one of the two sections beside it. */
function joinsOneSide(off: i32, middle: i32): bool {
  return pieces[middle] === 1 && isSection[off] === 1 && pieces[off] + 1 <= Limits.mostPieces;
}

/** What the fit makes small: wrong weight, prices of pieces, sections, joins and seams within one fabric. */
export function total(): f64 {
  return Tree.pieceCost + sewing[Tree.root] + calm[Tree.root];
}

/** How often a cut may be in the block, at most. */
export function mostTimes(): f64 {
  return Mirror.axis > 0 ? 2 : 1;
}

/** The fewest sections of this tree: its maximal subtrees that are sections. */
export function sections(v: i32): i32 {
  if (isSection[v]) return 1;
  const l = left[v];
  const r = right[v];
  if (Mirror.axis === 0 || !isPair(v)) return sections(l) + sections(r);
  const off = onAxis(region[l]) ? r : l;
  const middle = off === l ? r : l;
  if (fitsPaper(region[v]) && joinsOneSide(off, middle)) return 2;
  if (pieces[off] === 1 && isSection[middle] && fitsPaper(region[v]) && pieces[middle] + 1 <= Limits.mostPieces)
    return 2;
  return 2 * sections(off) + sections(middle);
}

/** Works out v and what lies above it afresh, as far as anything changes. */
export function lift(v: i32): void {
  for (let u = v; u >= 0; u = parent[u]) {
    const n = pieces[u];
    const was = isSection[u];
    const before = sewing[u];
    const wasCalm = calm[u];
    save(u);
    gather(u);
    if (u !== v && n === pieces[u] && was === isSection[u] && before === sewing[u] && wasCalm === calm[u]) return;
  }
}
