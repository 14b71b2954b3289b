// Where a head's ears end: the two points of its outline that stand out above the eyes. Takes the face and where the subject is likely;
// gives tips, or nothing where ears hang or are not to be told from what lies behind them.
import type { FacePlace } from './head-box.ts';
import { type Likely, likelyAt } from './look.ts';

/** An ear's tip in distances of the eyes from the point midway, across and down the tilted face. */
export interface EarTip {
  readonly u: number;
  readonly v: number;
  /** how much of a disc about it is the animal's, 0..1: a sharp ear has a sixth of it */
  readonly filled: number;
}

/** Steps of the grid over the face, in distances of the eyes, and how far it reaches. */
const STEP = 0.04;
const WIDE = 2.3;
const UP = 2.9;
const DOWN = 0.6;
/** Where tips may lie. */
const NEAREST = 0.3;
const FARTHEST = 1.95;
const LOWEST = -0.75;
/** Radius of the disc that tells a corner. */
const REACH = 0.36;
/** A tip's disc holds no more of the animal than this: about a right angle and a half of what is round about it. */
const MOST_FILLED = 0.345;
/** What a distance of the eyes between one tip and the other's mirror image counts for beside that share. */
const UNLIKE = 0.3;
/** Two tips of a face from the front differ by no more than this; where only one is found it stands for both if it is so sharp. */
const MOST_UNLIKE = 0.6;
const SHARP = 0.28;

/** The tips to the left and to the right as seen; undefined where there is none. */
export function findEars(
  face: FacePlace,
  guess: Likely,
  front: boolean,
): readonly [EarTip | undefined, EarTip | undefined] {
  const across = Math.round((2 * WIDE) / STEP);
  const down = Math.round((UP + DOWN) / STEP);
  const [c, s] = [Math.cos(face.tilt), Math.sin(face.tilt)];
  const inside = new Uint8Array(across * down);
  const place = (i: number): [u: number, v: number] => [
    ((i % across) + 0.5) * STEP - WIDE,
    (Math.floor(i / across) + 0.5) * STEP - UP,
  ];
  for (let i = 0; i < inside.length; i++) {
    const [u, v] = place(i);
    inside[i] = likelyAt(guess, face.x + face.d * (u * c - v * s), face.y + face.d * (u * s + v * c)) > 0.5 ? 1 : 0;
  }
  // only what hangs together with the face: a cushion behind the head has corners too
  const own = new Uint8Array(inside.length);
  const stack = [Math.round((UP + 0.2) / STEP) * across + Math.round(WIDE / STEP)];
  while (stack.length) {
    const i = stack.pop()!;
    if (own[i] || !inside[i]) continue;
    own[i] = 1;
    const x = i % across;
    if (x > 0) stack.push(i - 1);
    if (x < across - 1) stack.push(i + 1);
    if (i >= across) stack.push(i - across);
    if (i < inside.length - across) stack.push(i + across);
  }
  const filled = (i: number): number => {
    const [x, y] = [i % across, Math.floor(i / across)];
    const r = Math.round(REACH / STEP);
    let [n, all] = [0, 0];
    for (let dy = -r; dy <= r; dy++)
      for (let dx = -r; dx <= r; dx++) {
        if (dx * dx + dy * dy > r * r) continue;
        all++;
        const [X, Y] = [x + dx, y + dy];
        if (X >= 0 && Y >= 0 && X < across && Y < down) n += own[Y * across + X]!;
      }
    return n / all;
  };
  const tips = (side: 1 | -1): EarTip[] => {
    const all: EarTip[] = [];
    for (let i = across; i < own.length; i++) {
      // the outline's upper side
      if (!own[i] || own[i - across]) continue;
      const [u, v] = place(i);
      if (side * u < NEAREST || side * u > FARTHEST || v > LOWEST || v < STEP - UP) continue;
      const share = filled(i);
      if (share <= MOST_FILLED) all.push({ u, v, filled: share });
    }
    return all;
  };
  const [lefts, rights] = [tips(-1), tips(1)];
  const sharpest = (all: readonly EarTip[]): EarTip | undefined =>
    all.reduce<EarTip | undefined>((best, t) => (best && best.filled <= t.filled ? best : t), undefined);
  if (!front) return [sharpest(lefts), sharpest(rights)];
  // from the front the two are each other's mirror image, more or less: a corner of what stands behind the head is not
  let best: { left: EarTip; right: EarTip; cost: number } | undefined;
  for (const left of lefts)
    for (const right of rights) {
      const unlike = Math.abs(left.u + right.u) + Math.abs(left.v - right.v);
      const cost = left.filled + right.filled + UNLIKE * unlike;
      if (unlike <= MOST_UNLIKE && (!best || cost < best.cost)) best = { left, right, cost };
    }
  if (best) return [best.left, best.right];
  const one = sharpest([...lefts, ...rights]);
  if (!one || one.filled > SHARP) return [undefined, undefined];
  const other = { ...one, u: -one.u };
  return one.u < 0 ? [one, other] : [other, one];
}
