// The first partition: cuts laid along label borders, the one that tells the fabrics apart best first (as in Radha, Vetterli &
// Leonardi 1996, and in oblique decision trees), until the wished-for number of pieces is reached.
import { Borders, borderX, borderY, chordThrough, Line } from './borders';
import { impurity, measure } from './cell-sums';
import { addCut } from './edits';
import { settle } from './joins';
import { accept, begin } from './log';
import { IMPOSSIBLE, Probe, probe } from './look';
import { Doubles, Ints, room } from './memory';
import { below, next } from './random';
import { corners, isLeaf, leafAt, listNodes, NODES, nodeAt, parent, pieces, region, right, Tree, XY } from './state';

/** chords tried for each piece */
const TRIES: i32 = 60;

// open pieces: the best cut found of each, and which border points lie in it (a run of `order`)
const leaf = changetype<Ints>(memory.data(4 * NODES, 16));
const gain = changetype<Doubles>(memory.data(8 * NODES, 16));
const lineX = changetype<Doubles>(memory.data(8 * NODES, 16));
const lineY = changetype<Doubles>(memory.data(8 * NODES, 16));
const lineD = changetype<Doubles>(memory.data(8 * NODES, 16));
const from = changetype<Ints>(memory.data(4 * NODES, 16));
const to = changetype<Ints>(memory.data(4 * NODES, 16));

class Room {
  static order: usize = 0;
  static spare: usize = 0;
}

/** Finds the best cut of a piece, as the open one at `slot`. */
function open(slot: i32, v: i32, first: i32, past: i32): void {
  leaf[slot] = v;
  from[slot] = first;
  to[slot] = past;
  const b = region[v];
  measure(b * XY, corners[b]);
  const before = impurity();
  let best: f64 = 0;
  for (let t = 0; past > first && t < TRIES; t++) {
    const i = changetype<Ints>(Room.order)[first + below(past - first)];
    const reach = 3 + below(45);
    if (!chordThrough(i, next() < 0.5 ? reach : -reach)) continue;
    if (probe(v, Line.nx, Line.ny, Line.d) === IMPOSSIBLE) continue;
    const g = before - Probe.gini;
    if (g <= best) continue;
    best = g;
    lineX[slot] = Line.nx;
    lineY[slot] = Line.ny;
    lineD[slot] = Line.d;
  }
  gain[slot] = best;
}

/** Puts the border points of a run that lie left of a line first, each side in its order; returns where the others begin. */
function part(first: i32, past: i32, ax: f64, ay: f64, ad: f64): i32 {
  const order = changetype<Ints>(Room.order);
  const spare = changetype<Ints>(Room.spare);
  let n = first;
  let rest = 0;
  for (let k = first; k < past; k++) {
    const i = order[k];
    if (ax * borderX(i) + ay * borderY(i) < ad) order[n++] = i;
    else spare[rest++] = i;
  }
  for (let k = 0; k < rest; k++) order[n + k] = spare[k];
  return n;
}

/** Cuts the pieces that are there into `most` pieces at most; fewer where nothing is left that a cut would tell apart. */
export function growCuts(most: i32): void {
  if (Room.order === 0) {
    Room.order = room(4 * Borders.count);
    Room.spare = room(4 * Borders.count);
  }
  const order = changetype<Ints>(Room.order);
  const owner = changetype<Ints>(Room.spare);
  for (let i = 0; i < Borders.count; i++) owner[i] = leafAt(borderX(i), borderY(i));
  const count = listNodes();
  let n = 0;
  let placed = 0;
  for (let k = 0; k < count; k++) {
    const v = nodeAt(k);
    if (!isLeaf(v)) continue;
    const first = placed;
    for (let i = 0; i < Borders.count; i++) if (owner[i] === v) order[placed++] = i;
    leaf[n] = v;
    from[n] = first;
    to[n++] = placed;
  }
  for (let k = 0; k < n; k++) open(k, leaf[k], from[k], to[k]);
  while (pieces[Tree.root] < most) {
    let top = -1;
    for (let k = 0; k < n; k++) if (gain[k] > 1e-6 && (top < 0 || gain[k] > gain[top])) top = k;
    if (top < 0) return;
    const v = leaf[top];
    const first = from[top];
    const past = to[top];
    const ax = lineX[top];
    const ay = lineY[top];
    const ad = lineD[top];
    begin();
    if (!addCut(v, ax, ay, ad, true)) unreachable();
    settle();
    accept();
    const piece = right[parent[v]];
    const middle = part(first, past, ax, ay, ad);
    for (let k = top; k + 1 < n; k++) {
      leaf[k] = leaf[k + 1];
      gain[k] = gain[k + 1];
      lineX[k] = lineX[k + 1];
      lineY[k] = lineY[k + 1];
      lineD[k] = lineD[k + 1];
      from[k] = from[k + 1];
      to[k] = to[k + 1];
    }
    open(n - 1, v, first, middle);
    open(n, piece, middle, past);
    n++;
  }
}
