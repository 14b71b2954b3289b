// The fit's inner loop, compiled to WebAssembly: what ../cutting.ts may ask for. One instance fits one picture; it has no clock
// and no chance but what it is given, so the same input gives the same pieces on every machine.
import { Borders } from './borders';
import { Ground } from './calm';
import { fillSums, measure, sums } from './cell-sums';
import { deleteLeaf } from './edits';
import { Face } from './face';
import { missesOn, settle } from './joins';
import { accept, begin, clearLog, takeBack, takeNode, takeRegion } from './log';
import { Mirror } from './mirror';
import { priceLeaf, priceSection, sections } from './price';
import { Random } from './random';
import {
  AXIS,
  CORNERS,
  corners,
  cost,
  fabric,
  Limits,
  OUTER,
  owner,
  Prices,
  pieces,
  region,
  Tree,
  XY,
  xy,
} from './state';

export { annealOn, startAnneal } from './anneal';
export { addFeature, addFeatureCorner, seedCut, unseed } from './features';
export { growCuts } from './grow';
export { room } from './memory';
export { mendJoins } from './mend';
export { total } from './price';
export { reprice } from './reprice';
export { isLeaf, listNodes, nodeAt } from './state';

export function setLimits(
  smallest: f64,
  shortestEdge: f64,
  shortestFaceEdge: f64,
  shortestOuterEdge: f64,
  leastOuterSine: f64,
  leastCornerCosine: f64,
  mostStretch: f64,
  mostPieces: i32,
  paperWidth: f64,
  paperHeight: f64,
  nearMiss: f64,
  matchWithin: f64,
  pointsApart: f64,
  sectionStretch: f64,
  sharpCosine: f64,
  longStretch: f64,
): void {
  Limits.smallest = smallest;
  Limits.shortestEdge = shortestEdge;
  Limits.shortestFaceEdge = shortestFaceEdge;
  Limits.shortestOuterEdge = shortestOuterEdge;
  Limits.leastOuterSine = leastOuterSine;
  Limits.leastCornerCosine = leastCornerCosine;
  Limits.mostStretch = mostStretch;
  Limits.mostPieces = mostPieces;
  Limits.paperWidth = paperWidth;
  Limits.paperHeight = paperHeight;
  Limits.nearMiss = nearMiss;
  Limits.matchWithin = matchWithin;
  Limits.pointsApart = pointsApart;
  Limits.sectionStretch = sectionStretch;
  Limits.sharpCosine = sharpCosine;
  Limits.longStretch = longStretch;
}

export function setPrices(
  section: f64,
  smallSection: f64,
  longSection: f64,
  sharpCorner: f64,
  longPiece: f64,
  nearMiss: f64,
  match: f64,
  offPaper: f64,
  ground: f64,
  bleed: f64,
): void {
  Prices.section = section;
  Prices.smallSection = smallSection;
  Prices.longSection = longSection;
  Prices.sharpCorner = sharpCorner;
  Prices.longPiece = longPiece;
  Prices.nearMiss = nearMiss;
  Prices.match = match;
  Prices.offPaper = offPaper;
  Prices.ground = ground;
  Prices.bleed = bleed;
}

export function sectionPrice(): f64 {
  return Prices.section;
}

/** Addresses of: x and y (8 bytes a point), first and one past the last of the point's chain (4), whether it closes (1). */
export function setBorders(count: i32, x: usize, y: usize, first: usize, past: usize, closed: usize): void {
  Borders.count = count;
  Borders.x = x;
  Borders.y = y;
  Borders.first = first;
  Borders.past = past;
  Borders.closed = closed;
}

/** The fabric of the ground, -1 for none. */
export function setGround(which: i32): void {
  Ground.fabric = which;
}

/** What is cut is the left half of a mirrored block, `axis` wide (mm), with so many cells a mm across; what lies left of `trim` has no
 *  mirror image within the block. Before startCutting. */
export function setMirror(axis: f64, trim: f64, scale: f64): void {
  Mirror.axis = axis;
  Mirror.trim = trim;
  Mirror.scale = scale;
}

/** Makes the whole block one piece. Addresses of labels (a byte a cell), weights (2), face (1; 0 for none); the block in mm. 0 when
 *  done, 1 where the weights are too large, 2 where the block itself cannot be sewn. */
export function startCutting(
  labels: usize,
  weights: usize,
  face: usize,
  width: i32,
  height: i32,
  fabrics: i32,
  wide: f64,
  high: f64,
  seed: i32,
): i32 {
  if (!fillSums(labels, weights, width, height, fabrics, wide, high)) return 1;
  Face.at = face;
  Face.width = width;
  Face.height = height;
  Tree.width = wide;
  Tree.height = high;
  Random.state = seed;
  clearLog();
  begin();
  const whole = takeRegion();
  corners[whole] = 4;
  for (let i = 0; i < 8; i++) xy[whole * XY + i] = 0;
  xy[whole * XY + 2] = wide;
  xy[whole * XY + 4] = wide;
  xy[whole * XY + 5] = high;
  xy[whole * XY + 7] = high;
  for (let i = 0; i < 4; i++) owner[whole * CORNERS + i] = OUTER;
  if (Mirror.axis > 0) owner[whole * CORNERS + 1] = AXIS;
  Tree.root = takeNode(whole, -1);
  if (!priceLeaf(whole)) return 2;
  Tree.pieceCost = cost[whole];
  priceSection(Tree.root, 1, whole);
  accept();
  return 0;
}

export function pieceCount(): i32 {
  return pieces[Tree.root];
}

export function sectionCount(): i32 {
  return sections(Tree.root);
}

/** A piece's corners: how many, and the address of their x, y. */
export function cornerCount(v: i32): i32 {
  return corners[region[v]];
}
export function cornersAt(v: i32): usize {
  return changetype<usize>(xy) + 8 * <usize>(region[v] * XY);
}
export function fabricOf(v: i32): i32 {
  return fabric[region[v]];
}

/** Weight of a fabric in a piece, by the fast sums. */
export function weighPiece(v: i32, which: i32): f64 {
  measure(region[v] * XY, corners[region[v]]);
  return sums[which];
}

/** Pairs of seam ends that nearly meet across the cut of v. */
export function missCount(v: i32): i32 {
  return missesOn(v, -1);
}

/** Takes a piece away and takes that back; whether what was left could be sewn. */
export function tryWithout(v: i32): bool {
  begin();
  const sewable = deleteLeaf(v);
  if (sewable) settle();
  takeBack();
  return sewable;
}
