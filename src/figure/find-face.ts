// Finds two eyes and a nose: pairs of dark spots, judged by a face template and their geometry, the best of them again by what
// their eyes and noses look like. The weights are taught by scripts/train-face.ts; see face-model/README.md.
import { findSpots, type Spot } from './find-spots.ts';
import type { Look } from './look.ts';
import {
  below,
  type Disc,
  describeFace,
  describePart,
  EYE_WIDE,
  facePatch,
  measurePair,
  NOSE_WIDE,
  type Pair,
  pairSpots,
} from './pairs.ts';
import { buildPyramid, type Pyramid } from './patch.ts';

/** A straight line through what is measured: larger = likelier. */
export interface Line {
  readonly weights: ArrayLike<number>;
  readonly bias: number;
}

export interface FaceModel {
  readonly face: Line;
  readonly eye: Line;
  readonly nose: Line;
  /** logistic over the measures of a pair, for the choice of those that are looked at again */
  readonly first: Line;
  /** logistic over those and what its eyes and nose look like: how sure it is */
  readonly second: Line;
}

export const scoreOf = ({ weights, bias }: Line, of: ArrayLike<number>): number => {
  let t = bias;
  for (let i = 0; i < of.length; i++) t += weights[i]! * of[i]!;
  return t;
};

export const logistic = (v: number): number => 1 / (1 + Math.exp(-v));

/** A pair with its measures. */
export interface Judged {
  readonly pair: Pair;
  readonly measures: readonly number[];
  readonly score: number;
}

export interface NoseFound {
  readonly x: number;
  readonly y: number;
  /** across and down from the middle between the eyes, in distances of the eyes */
  readonly u: number;
  readonly v: number;
  readonly score: number;
}

export interface FaceFound {
  readonly pair: Pair;
  readonly nose: NoseFound;
  readonly sure: number;
}

/** Pairs that are looked at again. */
export const SECOND_LOOKS = 40;
/** Where noses lie below the eyes, in distances of the eyes: cats' near .6, long dogs' beyond 1. */
const NOSE_DOWN = 0.78;
const NOSE_SPREAD = 0.28;
const NOSE_ACROSS = 0.2;

/** What is measured of a look once. */
export interface Seen {
  readonly look: Look;
  readonly pyramid: Pyramid;
  readonly spots: readonly Spot[];
  readonly pairs: readonly Pair[];
  readonly faces: readonly Disc[];
  readonly pixels: readonly [number, number];
}

/** Without spots and pairs where nobody `seeks` eyes. */
export function seePairs(look: Look, faces: readonly Disc[], pixels: readonly [number, number], seeks = true): Seen {
  const spots = seeks ? findSpots(look) : [];
  return { look, pyramid: buildPyramid(look), spots, pairs: pairSpots(spots, look.side), faces, pixels };
}

/** A pair's template score and its measures, in the order of the first line's weights. */
export function firstMeasures(seen: Seen, pair: Pair, face: Line): number[] {
  const patch = facePatch(seen.pyramid, pair);
  const { look, pyramid, faces, pixels } = seen;
  return [
    scoreOf(face, describeFace(patch)),
    ...measurePair(look, pyramid, patch, pair, seen.spots[0]!.strength, faces, pixels),
  ];
}

/** What a place is known by as a nose. */
export type DescribeNose = (seen: Seen, pair: Pair, u: number, v: number) => Float32Array;

export const describeNose: DescribeNose = ({ pyramid }, pair, u, v) =>
  describePart(pyramid, ...below(pair, u, v), pair, NOSE_WIDE, false);

/** The best place for a nose below a pair of eyes. */
export function findNose(seen: Seen, pair: Pair, nose: Line, describe = describeNose): NoseFound {
  const { side } = seen.look;
  let best: NoseFound | undefined;
  const tryAt = (u: number, v: number): void => {
    const [x, y] = below(pair, u, v);
    if (x < 2 || y < 2 || x > side - 2 || y > side - 2) return;
    const likes = scoreOf(nose, describe(seen, pair, u, v));
    const score = likes - 0.5 * ((v - NOSE_DOWN) / NOSE_SPREAD) ** 2 - 0.5 * (u / NOSE_ACROSS) ** 2;
    if (!best || score > best.score) best = { x, y, u, v, score };
  };
  for (let v = 0.3; v <= 1.5; v += 0.1) for (let u = -0.4; u <= 0.41; u += 0.1) tryAt(u, v);
  if (best) {
    const { u, v } = best;
    for (const dv of [-0.05, 0, 0.05]) for (const du of [-0.05, 0, 0.05]) if (du || dv) tryAt(u + du, v + dv);
  }
  return best ?? { x: pair.x, y: pair.y + pair.d, u: 0, v: 1, score: -5 };
}

/** What the eyes and the nose look like, in the order of the second line's last weights. */
export function secondMeasures(
  seen: Seen,
  pair: Pair,
  { eye, nose }: Pick<FaceModel, 'eye' | 'nose'>,
  describe = describeNose,
): { nose: NoseFound; measures: number[] } {
  const eyes = [pair.left, pair.right].map((s, i) =>
    scoreOf(eye, describePart(seen.pyramid, s.x, s.y, pair, EYE_WIDE, i === 1)),
  ) as [number, number];
  const found = findNose(seen, pair, nose, describe);
  return {
    nose: found,
    measures: [Math.min(...eyes), Math.max(...eyes), found.score, Math.abs(found.u), (found.v - NOSE_DOWN) ** 2],
  };
}

/** The faces that the look may show, the surest first; of those that share an eye the surest only. */
export function findFacePairs(seen: Seen, model: FaceModel): FaceFound[] {
  const judged = seen.pairs.map((pair): Judged => {
    const measures = firstMeasures(seen, pair, model.face);
    return { pair, measures, score: scoreOf(model.first, measures) };
  });
  judged.sort((a, b) => b.score - a.score);
  const found = judged.slice(0, SECOND_LOOKS).map(({ pair, measures }): FaceFound => {
    const { nose, measures: more } = secondMeasures(seen, pair, model);
    return { pair, nose, sure: logistic(scoreOf(model.second, [...measures, ...more])) };
  });
  found.sort((a, b) => b.sure - a.sure);
  const near = (a: Spot, b: Spot): boolean => Math.hypot(a.x - b.x, a.y - b.y) < 1.5 * Math.max(a.sigma, b.sigma);
  return found.filter((f, i) =>
    found
      .slice(0, i)
      .every(({ pair: o }) => ![o.left, o.right].some((s) => near(s, f.pair.left) || near(s, f.pair.right))),
  );
}
