// The cutting tree: every inner node a straight cut, every leaf a piece. A cut is a line that stays put in the plane: moving it
// changes only the regions that touch it. Lengths in mm; costs in weight, UNIT_WEIGHT a cell.
import { Bytes, Doubles, Ints } from './memory';

/** nodes of two thousand pieces, and one that is only looked at */
export const NODES: i32 = 4096;
export const PROBED: i32 = NODES;
export const REGIONS: i32 = 3 * NODES + 64;
/** most corners of a region; a cut that would give more is refused */
export const CORNERS: i32 = 12;
export const XY: i32 = 2 * CORNERS;
/** a corner this near to a cut lies on it, mm */
export const ON_CUT: f64 = 1e-5;
/** the owner of an edge that no cut made */
export const OUTER: i32 = -1;
/** the owner of an edge on the axis that the block is mirrored about (mirror.ts) */
export const AXIS: i32 = -2;
/** regions that are only looked at, beyond the others */
const LOOKED: i32 = 4;
/** the weight of a cell that matters as any other does */
export const UNIT_WEIGHT: f64 = 2;

// a node: links, its cut (nx·x + ny·y = d, left where it is smaller), its region, what its subtree is and costs to sew
export const parent = changetype<Ints>(memory.data(4 * NODES, 16));
export const left = changetype<Ints>(memory.data(4 * (NODES + 1), 16));
export const right = changetype<Ints>(memory.data(4 * NODES, 16));
export const nx = changetype<Doubles>(memory.data(8 * (NODES + 1), 16));
export const ny = changetype<Doubles>(memory.data(8 * (NODES + 1), 16));
export const d = changetype<Doubles>(memory.data(8 * (NODES + 1), 16));
export const region = changetype<Ints>(memory.data(4 * NODES, 16));
export const pieces = changetype<Ints>(memory.data(4 * NODES, 16));
export const isSection = changetype<Bytes>(memory.data(NODES, 16));
export const sewing = changetype<Doubles>(memory.data(8 * NODES, 16));
export const joinCost = changetype<Doubles>(memory.data(8 * NODES, 16));

// a region: its corners, who made each edge (from that corner on); for a piece its fabric, wrong weight and whole cost
export const corners = changetype<Bytes>(memory.data(REGIONS + LOOKED, 16));
export const xy = changetype<Doubles>(memory.data(8 * (REGIONS + LOOKED) * XY, 16));
export const owner = changetype<Ints>(memory.data(4 * (REGIONS + LOOKED) * CORNERS, 16));
export const fabric = changetype<Bytes>(memory.data(REGIONS, 16));
export const margin = changetype<Doubles>(memory.data(8 * REGIONS, 16));
export const extra = changetype<Doubles>(memory.data(8 * (REGIONS + LOOKED), 16));
export const packed0 = changetype<Doubles>(memory.data(8 * REGIONS, 16));
export const packed1 = changetype<Doubles>(memory.data(8 * REGIONS, 16));
export const cost = changetype<Doubles>(memory.data(8 * REGIONS, 16));
// of a region, worked out when asked for: length over width (0: not yet), narrowest width, bounds of both squared (0: not yet),
// whether it fits the paper (0: not yet, 1 no, 2 yes)
export const stretches = changetype<Doubles>(memory.data(8 * (REGIONS + LOOKED), 16));
export const narrow = changetype<Doubles>(memory.data(8 * (REGIONS + LOOKED), 16));
export const thick = changetype<Doubles>(memory.data(8 * (REGIONS + LOOKED), 16));
export const across = changetype<Doubles>(memory.data(8 * (REGIONS + LOOKED), 16));
export const onPaper = changetype<Bytes>(memory.data(REGIONS + LOOKED, 16));

/** What may not be: see FitLimits. */
export class Limits {
  static smallest: f64 = 0;
  static shortestEdge: f64 = 0;
  static shortestFaceEdge: f64 = 0;
  static shortestOuterEdge: f64 = 0;
  static leastOuterSine: f64 = 0;
  static leastCornerCosine: f64 = 0;
  static mostStretch: f64 = 0;
  static mostPieces: i32 = 0;
  static paperWidth: f64 = 0;
  static paperHeight: f64 = 0;
  static nearMiss: f64 = 0;
  static matchWithin: f64 = 0;
  static pointsApart: f64 = 0;
  static sectionStretch: f64 = 0;
  static sharpCosine: f64 = 0;
  static longStretch: f64 = 0;
}

/** What is worse than it could be: see FitPrices. */
export class Prices {
  static section: f64 = 0;
  static smallSection: f64 = 0;
  static longSection: f64 = 0;
  static sharpCorner: f64 = 0;
  static longPiece: f64 = 0;
  static nearMiss: f64 = 0;
  static match: f64 = 0;
  static offPaper: f64 = 0;
  static ground: f64 = 0;
  static bleed: f64 = 0;
  /** share of Gini's impurity in what a piece costs, the rest is what shows wrong: see weighLeaf */
  static impurity: f64 = 0;
}

export class Tree {
  static root: i32 = 0;
  /** one past the highest node that was ever in use */
  static usedNodes: i32 = 0;
  /** what all pieces cost */
  static pieceCost: f64 = 0;
  /** a region whose cells are known without counting them, and what they are */
  static knownRegion: i32 = -1;
  static known0: f64 = 0;
  static known1: f64 = 0;
  /** the block, mm */
  static width: f64 = 0;
  static height: f64 = 0;
}

export function isLeaf(v: i32): bool {
  return left[v] < 0;
}

const listed = changetype<Ints>(memory.data(4 * NODES, 16));

/** Every node, parents before children, into a list that the next call writes over; returns how many. */
export function listNodes(): i32 {
  listed[0] = Tree.root;
  let n = 1;
  for (let i = 0; i < n; i++) {
    const v = listed[i];
    if (left[v] < 0) continue;
    listed[n++] = left[v];
    listed[n++] = right[v];
  }
  return n;
}

export function nodeAt(i: i32): i32 {
  return listed[i];
}

/** The leaf that holds a place. */
export function leafAt(x: f64, y: f64): i32 {
  let v = Tree.root;
  while (left[v] >= 0) v = nx[v] * x + ny[v] * y < d[v] ? left[v] : right[v];
  return v;
}

/** Which edge of region b the cut of v made, or -1. */
export function edgeOn(b: i32, v: i32): i32 {
  const n = corners[b];
  const at = b * CORNERS;
  for (let i = 0; i < n; i++) if (owner[at + i] === v) return i;
  return -1;
}
