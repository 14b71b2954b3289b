// Takes a cutting tree and makes it better by chance moves that are kept when they help, and now and then when they do
// not (simulated annealing, Kirkpatrick, Gelatt & Vecchi 1983). A piece has a price that is steered so that as many are
// bought as were wished for; so pieces wander to where they help most. Budgets are in moves.
import type { Borders } from './borders.ts';
import { UNIT_WEIGHT } from './cell-sums.ts';
import type { Cutting } from './cutting.ts';
import { chordThrough } from './grow.ts';
import type { Random } from './random.ts';

export interface AnnealPlan {
  /** pieces at most */
  readonly pieces: number;
  readonly moves: number;
  /** sections wished for, and between what their price may move to get there, in cells */
  readonly sections: number;
  readonly sectionPrice: readonly [least: number, most: number];
  /** temperatures at the beginning and the end, in cells */
  readonly hot: number;
  readonly cold: number;
}

export interface MoveTally {
  tried: number;
  sewable: number;
  kept: number;
}

export const MOVE_KINDS = ['shift', 'align', 'divide', 'cut off', 'delete', 'swap', 'recut'] as const;
/** shares of the moves, in the order of MOVE_KINDS, summed up */
const SHARES = [0.47, 0.65, 0.75, 0.83, 0.93, 0.97, 1];
/** border points looked at to find one that no seam lies on yet, and how far it must be from every seam, in cells */
const LOOKS = 6;
const CLEAR = 1.5;
/** the smallest shift of a seam, in cells at temperature 1 (it goes with the root of the temperature), and the largest over it */
const SHIFT = 0.18;
const SHIFT_RANGE = 30;
/** what a piece must be worth at least, in cells, when it is cold; less by so many temperatures when it is warm */
const LEAST_WORTH = 3;
const WARM = 10;
/** how often in a run the price of a section is set anew, and how strongly */
const SECTION_STEPS = 60;
const SECTION_STEER = 0.2;
/** pieces over the wish that the search may hold for a while */
export const OVER = 6;
/** how the price of a piece follows the number of pieces, in cells: what stays, and what goes with the excess */
const STEER = 0.01;
const PULL = 4;

/** Runs the plan. Returns how often each kind of move was tried, could be sewn, and was kept. */
export function anneal(
  cutting: Cutting,
  borders: Borders,
  random: Random,
  plan: AnnealPlan,
  report?: (done: number) => void,
): MoveTally[] {
  const tally: MoveTally[] = MOVE_KINDS.map(() => ({ tried: 0, sewable: 0, kept: 0 }));
  if (borders.count === 0 || cutting.isLeaf(cutting.root)) return tally;
  const { left, right, nx, ny, d } = cutting;
  const ends = new Float64Array(4);
  const line = new Float64Array(3);
  const path = new Int32Array(256);
  const cooling = plan.cold / plan.hot;
  const cell = cutting.size[0] / cutting.sums.width;
  let temperature = plan.hot * UNIT_WEIGHT;
  let piecePrice = 8 * UNIT_WEIGHT;
  let pull = 0;
  let nextSections = 0;
  let leastShift = 0;
  const most = plan.pieces + OVER;

  const randomCut = (): number => {
    for (;;) {
      const v = random.below(cutting.usedNodes);
      if (left[v]! >= 0) return v;
    }
  };
  /** a border point that no seam lies on yet, as far as a few looks find one */
  const freePoint = (): number => {
    let i = 0;
    for (let t = 0; t < LOOKS; t++) {
      i = random.below(borders.count);
      const x = borders.x[i]!;
      const y = borders.y[i]!;
      if (cutting.roomAt(cutting.leafAt(x, y), x, y, CLEAR * cell)) break;
    }
    return i;
  };
  const randomPiece = (): number => {
    const v = randomCut();
    const [a, b] = random.next() < 0.5 ? [left[v]!, right[v]!] : [right[v]!, left[v]!];
    return left[a]! < 0 ? a : left[b]! < 0 ? b : -1;
  };

  /** of two pieces the one that would be missed less */
  const cheapPiece = (): number => {
    const a = randomPiece();
    const b = randomPiece();
    if (a < 0 || b < 0) return Math.max(a, b);
    return cutting.margin[cutting.region[a]!]! <= cutting.margin[cutting.region[b]!]! ? a : b;
  };

  /** one end, or both, moved square to the seam */
  const shift = (): boolean => {
    const v = randomCut();
    cutting.cutEnds(v, ends);
    const o = random.bell() * leastShift * SHIFT_RANGE ** random.next();
    const which = random.next();
    const atA = which < 0.35 || which >= 0.7 ? o : 0;
    const atB = which >= 0.35 ? o : 0;
    const ax = ends[0]! + nx[v]! * atA;
    const ay = ends[1]! + ny[v]! * atA;
    const dx = ends[2]! + nx[v]! * atB - ax;
    const dy = ends[3]! + ny[v]! * atB - ay;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length < 1e-6) return false;
    const turn = nx[v]! * -dy + ny[v]! * dx < 0 ? -1 / length : 1 / length;
    const mx = -dy * turn;
    const my = dx * turn;
    return cutting.moveCut(v, mx, my, mx * ax + my * ay);
  };

  /** the nodes from the root to the piece at a place; returns how many */
  const walkTo = (x: number, y: number): number => {
    let n = 0;
    let v = cutting.root;
    for (;;) {
      path[n++] = v;
      if (left[v]! < 0) return n;
      v = nx[v]! * x + ny[v]! * y < d[v]! ? left[v]! : right[v]!;
    }
  };
  const randomChord = (i: number): boolean => {
    const reach = 3 + random.below(40);
    return chordThrough(borders, i, random.next() < 0.5 ? reach : -reach, line);
  };

  /** the seam nearest to a border is laid along it */
  const align = (): boolean => {
    const i = random.below(borders.count);
    if (!randomChord(i)) return false;
    const x = borders.x[i]!;
    const y = borders.y[i]!;
    const n = walkTo(x, y) - 1;
    let best = -1;
    let bestScore = Infinity;
    for (let j = 0; j < n; j++) {
      const v = path[j]!;
      const off = Math.abs(nx[v]! * x + ny[v]! * y - d[v]!) / cell;
      const turn = 1 - Math.abs(nx[v]! * line[0]! + ny[v]! * line[1]!);
      const score = (off + 30 * turn + 1) * (0.5 + random.next());
      if (score < bestScore) {
        bestScore = score;
        best = v;
      }
    }
    if (best < 0) return false;
    const s = nx[best]! * line[0]! + ny[best]! * line[1]! < 0 ? -1 : 1;
    return cutting.moveCut(best, s * line[0]!, s * line[1]!, s * line[2]!);
  };

  /** the piece at a border is divided along it, by the best of some chords */
  const divide = (): boolean => {
    if (cutting.pieces[cutting.root]! >= most) return false;
    const i = freePoint();
    const place = cutting.leafAt(borders.x[i]!, borders.y[i]!);
    let gain = -Infinity;
    let [bx, by, bd] = [0, 0, 0];
    for (let t = 0; t < 5; t++) {
      if (!randomChord(i)) continue;
      const g = cutting.probe(place, line[0]!, line[1]!, line[2]!);
      if (g > gain) {
        gain = g;
        [bx, by, bd] = [line[0]!, line[1]!, line[2]!];
      }
    }
    return gain > -Infinity && cutting.addCut(place, bx, by, bd, true);
  };

  /** the last seam at a border that no seam follows yet is laid along it */
  const recut = (): boolean => {
    const i = freePoint();
    if (!randomChord(i)) return false;
    const n = walkTo(borders.x[i]!, borders.y[i]!);
    if (n < 2) return false;
    return cutting.moveCut(path[n - 2]!, line[0]!, line[1]!, line[2]!);
  };

  /** a new cut above a subtree takes a piece off it */
  const cutOff = (): boolean => {
    if (cutting.pieces[cutting.root]! >= most) return false;
    const i = freePoint();
    if (!randomChord(i)) return false;
    const n = walkTo(borders.x[i]!, borders.y[i]!);
    let up = 1;
    while (up < n - 1 && random.next() < 0.6) up++;
    const at = path[Math.max(0, n - 1 - up)]!;
    return cutting.addCut(at, line[0]!, line[1]!, line[2]!, random.next() < 0.5);
  };

  const remove = (): boolean => {
    if (cutting.pieces[cutting.root]! <= 2) return false;
    const v = cheapPiece();
    return v >= 0 && cutting.deleteLeaf(v);
  };

  const swap = (): boolean => cutting.swapWithParent(randomCut());

  const tries = [shift, align, divide, cutOff, remove, swap, recut];
  for (let m = 0; m < plan.moves; m++) {
    if ((m & 63) === 0) {
      if (m >= nextSections) {
        nextSections += plan.moves / SECTION_STEPS;
        const off = cutting.sections() / plan.sections - 1;
        const price = cutting.prices.section * (1 + SECTION_STEER * Math.max(-0.5, Math.min(0.5, off)));
        cutting.repriceSections(Math.max(plan.sectionPrice[0], Math.min(plan.sectionPrice[1], price)));
      }
      temperature = plan.hot * UNIT_WEIGHT * cooling ** (m / plan.moves);
      const over = cutting.pieces[cutting.root]! - plan.pieces;
      leastShift = SHIFT * cell * Math.sqrt(temperature / UNIT_WEIGHT);
      const least = LEAST_WORTH * UNIT_WEIGHT - WARM * temperature;
      piecePrice = Math.max(least, piecePrice + STEER * UNIT_WEIGHT * over);
      pull = over < 0 && piecePrice === least ? 0 : PULL * UNIT_WEIGHT * over;
      if ((m & 4095) === 0) report?.(m / plan.moves);
    }
    const r = random.next();
    let kind = 0;
    while (r >= SHARES[kind]!) kind++;
    const t = tally[kind]!;
    t.tried++;
    const before = cutting.total + (piecePrice + pull) * cutting.pieces[cutting.root]!;
    cutting.begin();
    if (!tries[kind]!()) {
      cutting.takeBack();
      continue;
    }
    cutting.settle();
    t.sewable++;
    if (cutting.isLeaf(cutting.root)) {
      cutting.takeBack();
      continue;
    }
    const rise = cutting.total + (piecePrice + pull) * cutting.pieces[cutting.root]! - before;
    if (rise <= 0 || random.next() < Math.exp(-rise / temperature)) {
      cutting.accept();
      t.kept++;
    } else cutting.takeBack();
  }
  trim(cutting, plan.pieces);
  return tally;
}

/** Takes the cheapest pieces away until no more than `pieces` are left. */
export function trim(cutting: Cutting, pieces: number): void {
  while (cutting.pieces[cutting.root]! > pieces) {
    let best = -1;
    let least = Infinity;
    for (const v of cutting.nodes()) {
      if (!cutting.isLeaf(v)) continue;
      cutting.begin();
      if (cutting.deleteLeaf(v)) {
        cutting.settle();
        if (cutting.total < least) {
          least = cutting.total;
          best = v;
        }
      }
      cutting.takeBack();
    }
    if (best < 0) return;
    cutting.begin();
    cutting.deleteLeaf(best);
    cutting.settle();
    cutting.accept();
  }
}
