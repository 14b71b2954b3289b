// The animal in a picture: eyes, nose, head, and what of it the block shows. Found by itself, each part with how sure it is; what a
// person gives is trusted. Takes the whole picture and where the subject is likely, gives a Figure.
import type { EyePart, Figure, Show } from '../data.ts';
import { chooseShow, cropHead, type HeadCrop } from './compose.ts';
import { findEars } from './find-ears.ts';
import { type FaceFound, type FaceModel, findFacePairs, findNose, seePairs } from './find-face.ts';
import { type FacePlace, findHead, uprightBox } from './head-box.ts';
import { boxOfLikely, type Likely, lookAt, toLook, toPicture, type WholePicture } from './look.ts';
import { measurePart } from './measure-part.ts';
import { type Disc, pairOf } from './pairs.ts';
import { readFaceModel } from './read-model.ts';

/** An eye or a nose that a person has placed: its middle and, where given, its size, as shares of the upright picture. */
export interface GivenPart {
  readonly x: number;
  readonly y: number;
  readonly w?: number;
  readonly h?: number;
}

export interface FigureOptions {
  /** block width / height */
  readonly aspect: number;
  /** `none`: there are none to be seen; found by itself where absent */
  readonly eyes?: readonly GivenPart[] | 'none';
  readonly nose?: GivenPart | 'none';
  readonly show?: Show | 'auto';
  /** discs in which a cascade sees a face */
  readonly faces?: readonly Disc[];
}

/** From here on a face is used without asking: of those that were called so on photos left out of the teaching all were right. */
export const SURE = 0.75;
/** Under this it is not worth showing as a guess: a duck and two groups of horses, none with a face to find, get .09 to .15. */
const WORTH_A_GUESS = 0.25;
/** A face is seen from the front where the nose lies this near to the eyes' middle, and the eyes are as alike as this. */
const FRONT_ACROSS = 0.14;
const FRONT_SIZES = 1.4;
/** How far an eye and a nose may reach, and how wide they are where they cannot be measured, in distances of the eyes. What is dark about an
 *  eye is a third wider than what a person would mark (labelled pets); pupils alone are under a fifth. */
const EYE = { reaches: [0.3, 0.36], seen: 0.15, wide: 0.28, least: 0.18, most: 0.42, lids: 0.75, high: 0.75 } as const;
/** Ears that stand up over a nose this near below the eyes are a cat's. Her eyes are this large, though what is dark in them is less (six of 7
 *  labelled cats: .40 to .44 wide; three dogs .22 to .28); in distances of the eyes. */
const CAT = { down: 0.86, wide: 0.4, high: 0.32 } as const;
/** Over a long nose (dogs, horses) an eye is no wider than this. */
const LONG_FACED = 0.28;
/** A cat's nose runs on into its mouth: it is taken to be no higher than this share of its width. */
const NOSE = { reaches: [0.36, 0.43], seen: 0.24, wide: 0.4, most: 0.62, high: 0.7 } as const;
/** How far an eye's middle may lie from the spot that was taken for it. */
const MOVED = 0.14;

/** A profile's head is no larger than this share of the animal. */
const MOST_OF_ANIMAL = 0.75;

type Place = readonly [x: number, y: number];

/** The distance of the eyes where only one is known: a seventh of the subject's smaller side. */
const lonelyDistance = (guess: Likely | undefined, pixels: readonly [number, number]): number => {
  const [, , w, h] = boxOfLikely(guess, pixels);
  return Math.min(w, h) / 5;
};

function eyePart(picture: WholePicture, at: Place, d: number, tilt: number, sure: number, given?: GivenPart): EyePart {
  const [pw, ph] = picture.pixels;
  const reaches = given?.w ? [Math.max(0.9 * given.w * pw, 0.9 * (given.h ?? 0) * ph)] : EYE.reaches.map((r) => r * d);
  const seen = reaches.flatMap((r) => measurePart(picture, at[0], at[1], r, tilt) ?? []);
  const found = seen.at(-1);
  const fits = seen.filter((m) => m.w >= EYE.seen * d).sort((p, q) => p.w - q.w)[0];
  // a spot may be an eye's glint or corner: the eye's middle is nearer to the truth
  const moved = !given && fits && Math.hypot(fits.x - at[0], fits.y - at[1]) < MOVED * d;
  const [x, y] = moved ? [fits.x, fits.y] : at;
  const own = fits ? Math.max(EYE.least, Math.min(EYE.most, (EYE.lids * fits.w) / d)) : EYE.wide;
  const w = given?.w !== undefined ? given.w * pw : own * d;
  const h = given?.h !== undefined ? given.h * ph : EYE.high * w;
  return {
    ...{ x: x / pw, y: y / ph, w: w / pw, h: h / ph, sure },
    ...(found && { pupil: found.dark, ...(found.iris && { iris: found.iris }) }),
  };
}

function nosePart(
  picture: WholePicture,
  at: Place,
  d: number,
  tilt: number,
  sure: number,
  given?: GivenPart,
): NonNullable<Figure['nose']> {
  const [pw, ph] = picture.pixels;
  const reaches = given?.w ? [0.9 * given.w * pw] : NOSE.reaches.map((r) => r * d);
  const seen = reaches.flatMap((r) => measurePart(picture, at[0], at[1], r, tilt) ?? []);
  const fits = seen.filter((m) => m.w >= NOSE.seen * d).sort((p, q) => p.w - q.w)[0];
  const w = given?.w !== undefined ? given.w * pw : Math.min(NOSE.most, fits ? fits.w / d : NOSE.wide) * d;
  const h = given?.h !== undefined ? given.h * ph : Math.min(NOSE.high * w, fits?.h ?? Infinity);
  return { x: at[0] / pw, y: at[1] / ph, w: w / pw, h: h / ph, sure, ...(seen[0] && { colour: seen[0].dark }) };
}

/** Both eyes with one size and what is seen of an iris in either. */
function alike(eyes: readonly EyePart[], given: boolean): EyePart[] {
  if (eyes.length !== 2 || given) return [...eyes];
  const mean = (f: (e: EyePart) => number): number => (f(eyes[0]!) + f(eyes[1]!)) / 2;
  return eyes.map((e) => ({ ...e, w: mean((v) => v.w), h: mean((v) => v.h) }));
}

/** The same picture, guess and options give the same figure. */
export function findFigure(
  picture: WholePicture,
  guess: Likely | undefined,
  options: FigureOptions,
  model: FaceModel | undefined = readFaceModel(),
): Figure {
  const { pixels } = picture;
  const asked = options.show === 'auto' ? undefined : options.show;
  const byHand = Array.isArray(options.eyes) ? (options.eyes as readonly GivenPart[]).slice(0, 2) : undefined;
  const seesNone = options.eyes === 'none';
  const look = lookAt(picture, guess);
  const seeks = !byHand && !seesNone;
  const seen = seePairs(look, options.faces ?? [], pixels, seeks);
  let found: FaceFound | undefined;
  if (seeks && model && seen.pairs.length) found = findFacePairs(seen, model)[0];
  const sure = byHand?.length ? 1 : (found?.sure ?? 0);
  let places: Place[] = [];
  if (byHand) places = byHand.map((e): Place => [e.x * pixels[0], e.y * pixels[1]]);
  else if (found) places = [found.pair.left, found.pair.right].map((s) => toPicture(look, s.x, s.y));
  const order = places.map((_, i) => i).sort((a, b) => places[a]![0] - places[b]![0]);
  places = order.map((i) => places[i]!);
  const given = byHand && order.map((i) => byHand[i]!);
  const [a, b] = places;
  const givenNose = options.nose && options.nose !== 'none' ? options.nose : undefined;
  const d =
    a && b
      ? Math.hypot(b[0] - a[0], b[1] - a[1])
      : a && givenNose
        ? // a profile's nose is about as far from its eye as its eyes are from each other
          Math.hypot(givenNose.x * pixels[0] - a[0], givenNose.y * pixels[1] - a[1])
        : lonelyDistance(guess, pixels);
  const tilt = a && b ? Math.atan2(b[1] - a[1], b[0] - a[0]) : 0;
  let eyes = places.map((p, i) => eyePart(picture, p, d, tilt, sure, given?.[i]));
  eyes = alike(eyes, given?.every((g) => g.w !== undefined) === true);
  let nose: Figure['nose'];
  if (options.nose !== 'none') {
    if (givenNose) {
      const at: Place = [givenNose.x * pixels[0], givenNose.y * pixels[1]];
      nose = nosePart(picture, at, d, tilt, 1, givenNose);
    } else if (a && b && model) {
      const [left, right] = [a, b].map((p) => {
        const [x, y] = toLook(look, p[0], p[1]);
        return { x, y, sigma: 1, strength: 1 };
      });
      const best = found?.nose ?? findNose(seen, pairOf(left!, right!), model.nose);
      nose = nosePart(picture, toPicture(look, best.x, best.y), d, tilt, byHand ? 0.9 : sure, undefined);
    }
  }
  const animal = guess !== undefined;
  if (!eyes.length || sure < SURE) {
    const { show, why } = asked ? { show: asked, why: 'Shown as asked for.' } : chooseShow(undefined, animal, false);
    return {
      eyes: [],
      ...(givenNose && nose && { nose }),
      ...(eyes.length > 0 && sure >= WORTH_A_GUESS && { guess: { eyes, ...(nose && { nose }) } }),
      show,
      why,
    };
  }
  const middle: Place = a && b ? [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] : a!;
  const [nx, ny] = nose ? [nose.x * pixels[0] - middle[0], nose.y * pixels[1] - middle[1]] : [0, 0.75 * d];
  const across = (nx * Math.cos(tilt) + ny * Math.sin(tilt)) / d;
  const down = (ny * Math.cos(tilt) - nx * Math.sin(tilt)) / d;
  const place: FacePlace = { x: middle[0], y: middle[1], d, tilt, down: nose ? Math.max(0.3, down) : 0.75, across };
  const widths = eyes.map((e) => e.w);
  const front =
    eyes.length === 2 && Math.abs(across) <= FRONT_ACROSS && Math.max(...widths) <= FRONT_SIZES * Math.min(...widths);
  let crop: HeadCrop | undefined;
  let box: readonly [number, number, number, number] | undefined;
  if (a && (b || nose)) {
    const head = findHead(place, guess);
    crop = cropHead(place, head, options.aspect, front);
    box = uprightBox(place, head);
    // a head as large as the animal is none: what was given for its nose is a trunk's tip, or its feet
    const [, , across, down] = boxOfLikely(guess, pixels);
    if (!b && crop.box[2] > MOST_OF_ANIMAL * Math.max(across, down)) crop = undefined;
  }
  const tips = a && b && guess ? findEars(place, guess, front).flatMap((t) => t ?? []) : [];
  if (!given && a && b) {
    const long = down >= CAT.down;
    eyes = eyes.map((e) => {
      const [w, h] = [(CAT.wide * d) / pixels[0], (CAT.high * d) / pixels[1]];
      if (tips.length && !long) return { ...e, w: Math.max(e.w, w), h: Math.max(e.h, h) };
      const by = long ? Math.min(1, (LONG_FACED * d) / pixels[0] / e.w) : 1;
      return { ...e, w: by * e.w, h: by * e.h };
    });
  }
  const [cos, sin] = [Math.cos(tilt), Math.sin(tilt)];
  const ears = tips.map(({ u, v }) => ({
    x: (middle[0] + d * (u * cos - v * sin)) / pixels[0],
    y: (middle[1] + d * (u * sin + v * cos)) / pixels[1],
  }));
  const chosen = chooseShow(crop, animal, byHand !== undefined);
  const show = asked ?? chosen.show;
  const shares = (v: number, i: number): number => v / pixels[i % 2]!;
  return {
    eyes,
    ...(nose && { nose }),
    face: { x: middle[0] / pixels[0], y: middle[1] / pixels[1], tilt: (tilt * 180) / Math.PI, front },
    ...(ears.length > 0 && { ears }),
    ...(box && { head: { box: box.map(shares) as unknown as [number, number, number, number], sure } }),
    show,
    why: asked ? 'Shown as asked for.' : chosen.why,
    ...(crop && show === 'head' && { crop }),
  };
}
