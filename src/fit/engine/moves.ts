// The moves that the annealing tries, each a change of the tree by chance. Each says whether what it leaves can be sewn.
import { Borders, borderX, borderY, chordThrough, Line } from './borders';
import { addCut, deleteLeaf, moveCut, swapWithParent } from './edits';
import { ends, findEnds, IMPOSSIBLE, probe, roomAt } from './look';
import { Ints } from './memory';
import { snapEnd } from './mend';
import { bell, below, next } from './random';
import { d, leafAt, left, margin, NODES, nx, ny, pieces, region, right, Tree } from './state';

/** border points looked at to find one that no seam lies on yet, and how far it must be from every seam, in cells */
const LOOKS: i32 = 6;
const CLEAR: f64 = 1.5;
/** cells that a seam laid square to where it was is held to be away */
const TURN: f64 = 30;
/** the largest shift of a seam over the smallest */
const SHIFT_RANGE: f64 = 30;

export class Moves {
  /** most pieces that the search may hold */
  static most: i32 = 0;
  /** width of a cell, mm */
  static cell: f64 = 0;
  /** the smallest shift of a seam, mm */
  static leastShift: f64 = 0;
  /** how far from a border the seam that is laid along it may be, in cells; what it turns by counts too */
  static far: f64 = 0;
}

const path = changetype<Ints>(memory.data(4 * NODES, 16));

function randomCut(): i32 {
  let v = below(Tree.usedNodes);
  while (left[v] < 0) v = below(Tree.usedNodes);
  return v;
}

/** a border point that no seam lies on yet, as far as a few looks find one */
function freePoint(): i32 {
  let i = 0;
  for (let t = 0; t < LOOKS; t++) {
    i = below(Borders.count);
    const x = borderX(i);
    const y = borderY(i);
    if (roomAt(leafAt(x, y), x, y, CLEAR * Moves.cell)) break;
  }
  return i;
}

function randomPiece(): i32 {
  const v = randomCut();
  const first = next() < 0.5;
  const a = first ? left[v] : right[v];
  const b = first ? right[v] : left[v];
  return left[a] < 0 ? a : left[b] < 0 ? b : -1;
}

/** of two pieces the one that would be missed less */
function cheapPiece(): i32 {
  const a = randomPiece();
  const b = randomPiece();
  if (a < 0 || b < 0) return max(a, b);
  return margin[region[a]] <= margin[region[b]] ? a : b;
}

/** the nodes from the root to the piece at a place; returns how many */
function walkTo(x: f64, y: f64): i32 {
  let n = 0;
  let v = Tree.root;
  while (left[v] >= 0) {
    path[n++] = v;
    v = nx[v] * x + ny[v] * y < d[v] ? left[v] : right[v];
  }
  path[n++] = v;
  return n;
}

function randomChord(i: i32): bool {
  const reach = 3 + below(40);
  return chordThrough(i, next() < 0.5 ? reach : -reach);
}

/** one end, or both, moved square to the seam */
export function shift(): bool {
  const v = randomCut();
  findEnds(v);
  const size = bell();
  const o = size * Moves.leastShift * SHIFT_RANGE ** next();
  const which = next();
  const atA = which < 0.35 || which >= 0.7 ? o : 0;
  const atB = which >= 0.35 ? o : 0;
  const ax = ends[0] + nx[v] * atA;
  const ay = ends[1] + ny[v] * atA;
  const dx = ends[2] + nx[v] * atB - ax;
  const dy = ends[3] + ny[v] * atB - ay;
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length < 1e-6) return false;
  const turn = (nx[v] * -dy + ny[v] * dx < 0 ? -1 : 1) / length;
  const mx = -dy * turn;
  const my = dx * turn;
  return moveCut(v, mx, my, mx * ax + my * ay);
}

/** the seam nearest to a border is laid along it; where it is far, which would hardly ever be kept, a seam is shifted instead */
export function align(): bool {
  const i = below(Borders.count);
  if (!randomChord(i)) return false;
  const x = borderX(i);
  const y = borderY(i);
  const n = walkTo(x, y) - 1;
  let best = -1;
  let bestScore = f64.MAX_VALUE;
  let far: f64 = 0;
  for (let j = 0; j < n; j++) {
    const v = path[j];
    const off = Math.abs(nx[v] * x + ny[v] * y - d[v]) / Moves.cell;
    const turn = 1 - Math.abs(nx[v] * Line.nx + ny[v] * Line.ny);
    const score = (off + TURN * turn + 1) * (0.5 + next());
    if (score < bestScore) {
      bestScore = score;
      best = v;
      far = off + TURN * turn;
    }
  }
  if (best < 0) return false;
  if (far > Moves.far) return shift();
  const s: f64 = nx[best] * Line.nx + ny[best] * Line.ny < 0 ? -1 : 1;
  return moveCut(best, s * Line.nx, s * Line.ny, s * Line.d);
}

/** the piece at a border is divided along it, by the best of some chords */
export function divide(): bool {
  if (pieces[Tree.root] >= Moves.most) return false;
  const i = freePoint();
  const place = leafAt(borderX(i), borderY(i));
  let gain = IMPOSSIBLE;
  let bx: f64 = 0;
  let by: f64 = 0;
  let bd: f64 = 0;
  for (let t = 0; t < 5; t++) {
    if (!randomChord(i)) continue;
    const g = probe(place, Line.nx, Line.ny, Line.d);
    if (g <= gain) continue;
    gain = g;
    bx = Line.nx;
    by = Line.ny;
    bd = Line.d;
  }
  return gain > IMPOSSIBLE && addCut(place, bx, by, bd, true);
}

/** the last seam at a border that no seam follows yet is laid along it */
export function recut(): bool {
  const i = freePoint();
  if (!randomChord(i)) return false;
  const n = walkTo(borderX(i), borderY(i));
  return n >= 2 && moveCut(path[n - 2], Line.nx, Line.ny, Line.d);
}

/** a new cut above a subtree takes a piece off it */
export function cutOff(): bool {
  if (pieces[Tree.root] >= Moves.most) return false;
  const i = freePoint();
  if (!randomChord(i)) return false;
  const n = walkTo(borderX(i), borderY(i));
  let up = 1;
  while (up < n - 1 && next() < 0.6) up++;
  const at = path[max(0, n - 1 - up)];
  return addCut(at, Line.nx, Line.ny, Line.d, next() < 0.5);
}

export function remove(): bool {
  if (pieces[Tree.root] <= 2) return false;
  const v = cheapPiece();
  return v >= 0 && deleteLeaf(v);
}

export function swap(): bool {
  return swapWithParent(randomCut());
}

/** a seam end that nearly meets another across a join is laid on it, or away from it */
export function snap(): bool {
  return snapEnd(randomCut(), next());
}
