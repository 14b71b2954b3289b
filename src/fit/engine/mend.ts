// Takes an annealed tree; moves the seams whose ends nearly meet across a join, so that they meet in one place or lie well apart,
// where that costs less than the near miss does. Tries every pair in turn, the same way every time.
import { moveCut } from './edits';
import { Miss, missesOn, settle } from './joins';
import { accept, begin, takeBack } from './log';
import { ends, findEnds } from './look';
import { Doubles, Ints } from './memory';
import { total } from './price';
import { d, isLeaf, Limits, listNodes, NODES, nodeAt, nx, ny } from './state';

const PASSES: i32 = 6;
/** how much farther apart than the limit, mm */
const BEYOND: f64 = 0.05;
/** pairs looked at on one cut, and seams moved */
const MOST: i32 = 40;

const order = changetype<Ints>(memory.data(4 * NODES, 16));
// the six places tried: a seam, where its end is, where it might be
const cuts = changetype<Ints>(memory.data(4 * 6, 16));
const here = changetype<Doubles>(memory.data(8 * 6, 16));
const there = changetype<Doubles>(memory.data(8 * 6, 16));

/** Never raises the tree's cost at the prices that hold. */
export function mendJoins(): void {
  for (let pass = 0; pass < PASSES; pass++) {
    const n = listNodes();
    for (let i = 0; i < n; i++) order[i] = nodeAt(i);
    let mended = 0;
    for (let i = 0; i < n; i++) mended += mendJoin(order[i]);
    if (mended === 0) return;
  }
}

function mendJoin(v: i32): i32 {
  let mended = 0;
  // a seam that is moved changes what lies across: look again after each
  for (let seen = 0; seen < MOST; seen++) {
    if (seen >= missesOn(v, seen)) return mended;
    propose();
    let best = -1;
    let least = total() - 1e-6;
    for (let t = 0; t < 12; t++) {
      begin();
      if (moveEnd(v, t)) {
        settle();
        if (total() < least) {
          least = total();
          best = t;
        }
      }
      takeBack();
    }
    if (best < 0) continue;
    begin();
    moveEnd(v, best);
    settle();
    accept();
    mended++;
    seen = -1;
    if (mended > MOST || isLeaf(v)) return mended;
  }
  return mended;
}

/** A seam end that nearly meets another across the cut of v is moved as one of the twelve tries is; which, `chance` in [0, 1) says. */
export function snapEnd(v: i32, chance: f64): bool {
  const n = missesOn(v, 0);
  if (n === 0) return false;
  const t = <i32>(chance * 12 * <f64>n);
  missesOn(v, t / 12);
  propose();
  return moveEnd(v, t % 12);
}

/** Either seam to where the other is, or away from it to the limit on either side. */
function propose(): void {
  const apart = (Limits.nearMiss + BEYOND) * (Miss.leftEnd > Miss.rightEnd ? 1 : -1);
  for (let t = 0; t < 6; t += 2) {
    const by = t === 0 ? 0 : t === 2 ? apart : -apart;
    cuts[t] = Miss.leftCut;
    here[t] = Miss.leftEnd;
    there[t] = Miss.rightEnd + by;
    cuts[t + 1] = Miss.rightCut;
    here[t + 1] = Miss.rightEnd;
    there[t + 1] = Miss.leftEnd - by;
  }
}

function offEnd(v: i32, i: i32, place: f64): f64 {
  return (
    Math.abs(nx[v] * ends[i + 1] - ny[v] * ends[i] - place) + Math.abs(nx[v] * ends[i] + ny[v] * ends[i + 1] - d[v])
  );
}

/** Moves the end that a seam has on the cut of v to another place along it; the other end stays, or (odd tries) goes with it. */
function moveEnd(v: i32, t: i32): bool {
  const cut = cuts[t >> 1];
  const place = there[t >> 1];
  findEnds(cut);
  const far = offEnd(v, 0, here[t >> 1]) < offEnd(v, 2, here[t >> 1]) ? 2 : 0;
  const x = nx[v] * d[v] - ny[v] * place;
  const y = ny[v] * d[v] + nx[v] * place;
  let mx = nx[cut];
  let my = ny[cut];
  if ((t & 1) === 0) {
    const dx = x - ends[far];
    const dy = y - ends[far + 1];
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length < 1e-6) return false;
    const turn = (nx[cut] * -dy + ny[cut] * dx < 0 ? -1 : 1) / length;
    mx = -dy * turn;
    my = dx * turn;
  }
  return moveCut(cut, mx, my, mx * x + my * y);
}
