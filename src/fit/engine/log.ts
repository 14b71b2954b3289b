// A change of the tree: begun, made of one or more edits, then accepted or taken back. Every node and region that it touches is
// logged, so that a try costs what it touches.
import { calm, sameCost } from './calm';
import { Features, FREE, locked } from './features';
import { Doubles, Ints } from './memory';
import {
  across,
  d,
  isSection,
  joinCost,
  left,
  NODES,
  nx,
  ny,
  onPaper,
  parent,
  pieces,
  REGIONS,
  region,
  right,
  sewing,
  stretches,
  Tree,
} from './state';

/** a change that would take away more nodes than this is refused */
export const MOST_GONE: i32 = 24;
const LOG_INTS: i32 = 7;
const LOG_NUMBERS: i32 = 7;

const freeNodes = changetype<Ints>(memory.data(4 * NODES, 16));
const freeRegions = changetype<Ints>(memory.data(4 * REGIONS, 16));
const logInts = changetype<Ints>(memory.data(4 * LOG_INTS * NODES, 16));
const logNumbers = changetype<Doubles>(memory.data(8 * LOG_NUMBERS * NODES, 16));
const stamp = changetype<Ints>(memory.data(4 * NODES, 16));
export const madeRegions = changetype<Ints>(memory.data(4 * REGIONS, 16));
export const oldRegions = changetype<Ints>(memory.data(4 * REGIONS, 16));
const madeNodes = changetype<Ints>(memory.data(4 * 16, 16));
export const oldNodes = changetype<Ints>(memory.data(4 * (MOST_GONE + 8), 16));

export class Log {
  static change: i32 = 0;
  static logged: i32 = 0;
  static freeNodeCount: i32 = 0;
  static freeRegionCount: i32 = 0;
  static madeRegionCount: i32 = 0;
  static oldRegionCount: i32 = 0;
  static madeNodeCount: i32 = 0;
  static oldNodeCount: i32 = 0;
  static startCost: f64 = 0;
  static startRoot: i32 = 0;
}

/** All nodes and regions are free. */
export function clearLog(): void {
  for (let i = 0; i < NODES; i++) freeNodes[i] = NODES - 1 - i;
  for (let i = 0; i < REGIONS; i++) freeRegions[i] = REGIONS - 1 - i;
  for (let i = 0; i <= NODES; i++) left[i] = -1;
  Log.freeNodeCount = NODES;
  Log.freeRegionCount = REGIONS;
}

export function begin(): void {
  Tree.knownRegion = -1;
  Features.refused = false;
  Log.logged = 0;
  Log.madeRegionCount = 0;
  Log.oldRegionCount = 0;
  Log.madeNodeCount = 0;
  Log.oldNodeCount = 0;
  Log.startCost = Tree.pieceCost;
  Log.startRoot = Tree.root;
  Log.change++;
}

export function accept(): void {
  for (let i = 0; i < Log.oldRegionCount; i++) freeRegions[Log.freeRegionCount++] = oldRegions[i];
  for (let i = 0; i < Log.oldNodeCount; i++) freeNode(oldNodes[i]);
}

export function takeBack(): void {
  for (let i = Log.logged - 1; i >= 0; i--) {
    const o = i * LOG_INTS;
    const v = logInts[o];
    parent[v] = logInts[o + 1];
    left[v] = logInts[o + 2];
    right[v] = logInts[o + 3];
    pieces[v] = logInts[o + 4];
    isSection[v] = logInts[o + 5];
    region[v] = logInts[o + 6];
    const n = i * LOG_NUMBERS;
    nx[v] = logNumbers[n];
    ny[v] = logNumbers[n + 1];
    d[v] = logNumbers[n + 2];
    sewing[v] = logNumbers[n + 3];
    joinCost[v] = logNumbers[n + 4];
    sameCost[v] = logNumbers[n + 5];
    calm[v] = logNumbers[n + 6];
  }
  for (let i = Log.madeRegionCount - 1; i >= 0; i--) freeRegions[Log.freeRegionCount++] = madeRegions[i];
  for (let i = Log.madeNodeCount - 1; i >= 0; i--) freeNode(madeNodes[i]);
  Tree.pieceCost = Log.startCost;
  Tree.root = Log.startRoot;
}

function freeNode(v: i32): void {
  left[v] = -1;
  freeNodes[Log.freeNodeCount++] = v;
}

/** Keeps node v as it was at the beginning of the change; call before touching it. */
export function save(v: i32): void {
  if (stamp[v] === Log.change) return;
  stamp[v] = Log.change;
  const o = Log.logged * LOG_INTS;
  logInts[o] = v;
  logInts[o + 1] = parent[v];
  logInts[o + 2] = left[v];
  logInts[o + 3] = right[v];
  logInts[o + 4] = pieces[v];
  logInts[o + 5] = isSection[v];
  logInts[o + 6] = region[v];
  const n = Log.logged * LOG_NUMBERS;
  logNumbers[n] = nx[v];
  logNumbers[n + 1] = ny[v];
  logNumbers[n + 2] = d[v];
  logNumbers[n + 3] = sewing[v];
  logNumbers[n + 4] = joinCost[v];
  logNumbers[n + 5] = sameCost[v];
  logNumbers[n + 6] = calm[v];
  Log.logged++;
}

export function takeRegion(): i32 {
  const b = freeRegions[--Log.freeRegionCount];
  madeRegions[Log.madeRegionCount++] = b;
  stretches[b] = 0;
  across[b] = 0;
  onPaper[b] = 0;
  return b;
}

/** A region that is free and stays free: for looking only, the first or the second one. */
export function spareRegion(which: i32): i32 {
  return freeRegions[Log.freeRegionCount - 1 - which];
}

export function takeNode(b: i32, above: i32): i32 {
  const v = freeNodes[--Log.freeNodeCount];
  if (v >= Tree.usedNodes) Tree.usedNodes = v + 1;
  madeNodes[Log.madeNodeCount++] = v;
  stamp[v] = Log.change;
  parent[v] = above;
  left[v] = -1;
  right[v] = -1;
  region[v] = b;
  pieces[v] = 1;
  isSection[v] = 1;
  joinCost[v] = 0;
  sameCost[v] = 0;
  calm[v] = 0;
  locked[v] = FREE;
  sewing[v] = 0;
  return v;
}

/** Region b is no longer used once the change is accepted. */
export function dropRegion(b: i32): void {
  oldRegions[Log.oldRegionCount++] = b;
}

export function retire(v: i32): void {
  oldNodes[Log.oldNodeCount++] = v;
  dropRegion(region[v]);
}

export function setRegion(v: i32, b: i32): void {
  save(v);
  dropRegion(region[v]);
  region[v] = b;
}

export function replaceChild(above: i32, from: i32, to: i32): void {
  if (above < 0) Tree.root = to;
  else {
    save(above);
    if (left[above] === from) left[above] = to;
    else right[above] = to;
  }
  parent[to] = above;
}
