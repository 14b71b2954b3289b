// Takes an annealed tree; moves the seams whose ends nearly meet across a join, so that they meet in one place or lie well
// apart, where that costs less than the near miss does. Tries every pair in turn, the same way every time.
import type { Cutting } from './cutting.ts';

const PASSES = 6;
/** how much farther apart than the limit, mm */
const BEYOND = 0.05;

/** Never raises the tree's cost at the prices given. */
export function mendJoins(cutting: Cutting, nearMiss: number, match: number): void {
  cutting.prices = { ...cutting.prices, nearMiss, match };
  cutting.reprice();
  cutting.accept();
  for (let pass = 0; pass < PASSES; pass++) {
    let mended = 0;
    for (const v of cutting.nodes()) mended += mendJoin(cutting, v);
    if (mended === 0) return;
  }
}

function mendJoin(cutting: Cutting, v: number): number {
  let mended = 0;
  // a seam that is moved changes what lies across: look again after each
  for (let seen = 0; seen < 40; seen++) {
    const pairs = cutting.missesOn(v);
    if (4 * seen >= pairs.length) return mended;
    const [a, atA, b, atB] = pairs.slice(4 * seen) as [number, number, number, number];
    const apart = (cutting.limits.nearMiss + BEYOND) * Math.sign(atA - atB);
    let best: (() => boolean) | undefined;
    let least = cutting.total - 1e-6;
    for (const [cut, from, to] of [
      [a, atA, atB],
      [b, atB, atA],
      [a, atA, atB + apart],
      [b, atB, atA - apart],
      [a, atA, atB - apart],
      [b, atB, atA + apart],
    ] as const)
      for (const parallel of [false, true]) {
        const move = (): boolean => moveEnd(cutting, v, cut, from, to, parallel);
        cutting.begin();
        if (move()) {
          cutting.settle();
          if (cutting.total < least) {
            least = cutting.total;
            best = move;
          }
        }
        cutting.takeBack();
      }
    if (!best) continue;
    cutting.begin();
    best();
    cutting.settle();
    cutting.accept();
    mended++;
    seen = -1;
    if (mended > 40 || cutting.isLeaf(v)) return mended;
  }
  return mended;
}

/** Moves the end that a cut has on the cut of v to another place along it; the other end stays, or goes with it. */
function moveEnd(cutting: Cutting, v: number, cut: number, from: number, to: number, parallel: boolean): boolean {
  const ends = new Float64Array(4);
  const { nx, ny, d } = cutting;
  cutting.cutEnds(cut, ends);
  const off = (i: number): number =>
    Math.abs(nx[v]! * ends[i + 1]! - ny[v]! * ends[i]! - from) +
    Math.abs(nx[v]! * ends[i]! + ny[v]! * ends[i + 1]! - d[v]!);
  const far = off(0) < off(2) ? 2 : 0;
  const x = nx[v]! * d[v]! - ny[v]! * to;
  const y = ny[v]! * d[v]! + nx[v]! * to;
  let mx = nx[cut]!;
  let my = ny[cut]!;
  if (!parallel) {
    const dx = x - ends[far]!;
    const dy = y - ends[far + 1]!;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length < 1e-6) return false;
    const turn = nx[cut]! * -dy + ny[cut]! * dx < 0 ? -1 / length : 1 / length;
    mx = -dy * turn;
    my = dx * turn;
  }
  return cutting.moveCut(cut, mx, my, mx * x + my * y);
}
