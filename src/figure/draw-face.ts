// Eyes and nose as shapes of few corners on the block: large enough to sew, both eyes alike, level where the face is seen from the front.

import { lightness } from '../colour/difference.ts';
import type { FaceShape, Figure } from '../data.ts';
import type { Point } from '../geometry/polygon.ts';

/** What the block shows: pixels of the upright picture, turned clockwise about its middle by so many degrees. */
export interface ShownPart {
  readonly crop: readonly [x: number, y: number, width: number, height: number];
  readonly turn?: number;
  /** of the upright picture */
  readonly pixels: readonly [number, number];
}

/** A place in pixels of the upright picture -> shares of the block. */
export function onBlock({ crop, turn = 0 }: ShownPart, x: number, y: number): [number, number] {
  const t = (turn * Math.PI) / 180;
  const [dx, dy] = [x - crop[0] - crop[2] / 2, y - crop[1] - crop[3] / 2];
  return [0.5 + (dx * Math.cos(t) + dy * Math.sin(t)) / crop[2], 0.5 + (dy * Math.cos(t) - dx * Math.sin(t)) / crop[3]];
}

/** In a 12 in block, mm; lengths scale with the block. An eye of a head that fills it, and the least of one that can be sewn. */
const EYE = { wide: 22.225, high: 19.05 };
const LEAST = 9.525;
const BLOCK = 304.8;
/** An eye is drawn no wider than this share of the eyes' distance, and its area no more than so many times its own. */
const OF_DISTANCE = 0.44;
const MOST_LARGER = 1.8;
/** How much wider or higher one eye may be than the other where the face is not seen from the front. */
const MOST_UNLIKE = 1.15;
/** An eye shows pupil and iris where it is so many times as wide as the narrowest piece, or may be made so by this much; and how high it then is
 *  at least. */
const IRIS_FROM = 3.06;
const MOST_WIDER = 1.35;
const MOST_FLAT = 0.72;
/** radians of tilt up to which strips stand upright enough */
const LEVEL = 0.1;
/** A pupil's share of its eye's width. */
const PUPIL = 0.36;
/** How much narrower a nose is below than above; and wider than this, in mm of a 12 in block, it is no nose. */
const NOSE_TAPER = 0.45;
const LARGEST_NOSE = 38;
/** L* gap from which pupil and iris are told apart. */
const IRIS_GAP = 18;

interface Placed {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Six corners: flat above and below, pointed at the sides. Clockwise as seen; mm. */
const hexagon = ({ x, y, w, h }: Placed): Point[] => [
  [x - w / 2, y],
  [x - 0.27 * w, y - h / 2],
  [x + 0.27 * w, y - h / 2],
  [x + w / 2, y],
  [x + 0.27 * w, y + h / 2],
  [x - 0.27 * w, y + h / 2],
];

const box = (x0: number, y0: number, x1: number, y1: number): Point[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const trapezoid = ({ x, y, w, h }: Placed): Point[] => [
  [x - w / 2, y - h / 2],
  [x + w / 2, y - h / 2],
  [x + (NOSE_TAPER * w) / 2, y + h / 2],
  [x - (NOSE_TAPER * w) / 2, y + h / 2],
];

const turnAbout = (outline: readonly Point[], x: number, y: number, tilt: number): Point[] =>
  outline.map(([px, py]) => [
    x + (px - x) * Math.cos(tilt) - (py - y) * Math.sin(tilt),
    y + (px - x) * Math.sin(tilt) + (py - y) * Math.cos(tilt),
  ]);

export interface FaceDrawn {
  readonly shapes: readonly FaceShape[];
  /** share of the block's width, where the face is seen from the front and upright */
  readonly axis?: number;
  /** parts that lie off the block or on each other, and so are not drawn */
  readonly missing: readonly string[];
}

/** `size`: the block's finished width and height, `smallest`: the narrowest piece of a face, mm. */
export function drawFace(
  figure: Pick<Figure, 'eyes' | 'nose' | 'face'>,
  shown: ShownPart,
  size: readonly [number, number],
  smallest = LEAST,
): FaceDrawn {
  const [W, H] = size;
  const scale = Math.min(W, H) / BLOCK;
  const mmOf = W / shown.crop[2];
  const missing: string[] = [];
  const place = (f: { x: number; y: number; w: number; h: number }): Placed => {
    const [u, v] = onBlock(shown, f.x * shown.pixels[0], f.y * shown.pixels[1]);
    return { x: u * W, y: v * H, w: f.w * shown.pixels[0] * mmOf, h: f.h * shown.pixels[1] * mmOf };
  };
  const inside = ({ x, y, w, h }: Placed): boolean =>
    x - w / 2 > 3 && y - h / 2 > 3 && x + w / 2 < W - 3 && y + h / 2 < H - 3;
  let eyes = figure.eyes.map(place);
  let nose = figure.nose && place(figure.nose);
  const rest = figure.face ? ((figure.face.tilt - (shown.turn ?? 0)) * Math.PI) / 180 : 0;
  const apart = eyes.length === 2 ? Math.hypot(eyes[0]!.x - eyes[1]!.x, eyes[0]!.y - eyes[1]!.y) : undefined;
  // how large: at least what reads and can be sewn, but no more than fits between and does not look startled
  const size1 = (e: Placed): { w: number; h: number } => {
    const most = apart ? OF_DISTANCE * apart : Infinity;
    const own = Math.max(LEAST * scale, e.w) * Math.max(LEAST * scale, e.h) * (Math.PI / 4);
    let w = Math.max(LEAST * scale, Math.min(most, Math.max(e.w, EYE.wide * scale)));
    let h = Math.max(LEAST * scale, Math.min(1.1 * w, Math.max(Math.min(e.h, w), (EYE.high / EYE.wide) * w)));
    const larger = (0.77 * w * h) / own;
    if (larger > MOST_LARGER) {
      const k = Math.sqrt(MOST_LARGER / larger);
      [w, h] = [Math.max(LEAST * scale, w * k), Math.max(LEAST * scale, h * k)];
    }
    return { w, h };
  };
  const sizes = eyes.map(size1);
  if (sizes.length === 2) {
    // both alike from the front; turned a little away the farther one may be smaller
    const most = figure.face?.front ? 1 : MOST_UNLIKE;
    const both = (f: (s: { w: number; h: number }) => number): [number, number] => {
      const [a, b] = [f(sizes[0]!), f(sizes[1]!)];
      const ratio = Math.sqrt(Math.max(1 / most, Math.min(most, a / b)));
      const mean = Math.sqrt(a * b);
      return [mean * ratio, mean / ratio];
    };
    const [ws, hs] = [both((v) => v.w), both((v) => v.h)];
    eyes = eyes.map((e, i) => ({ ...e, w: ws[i]!, h: hs[i]! }));
  } else eyes = eyes.map((e, i) => ({ ...e, ...sizes[i]! }));
  let axis: number | undefined;
  if (figure.face?.front && eyes.length === 2 && Math.abs(rest) < 0.06) {
    const mid = (eyes[0]!.x + eyes[1]!.x) / 2;
    const level = (eyes[0]!.y + eyes[1]!.y) / 2;
    const half = Math.abs(eyes[1]!.x - eyes[0]!.x) / 2;
    eyes = [-1, 1].map((way, i) => ({ ...eyes[i]!, x: mid + way * half, y: level }));
    if (nose) nose = { ...nose, x: mid };
    axis = mid / W;
  }
  // a beak or a snout seen from the side is a mass of its own, and no small dark shape
  if (nose && nose.w > LARGEST_NOSE * scale && eyes.length < 2) nose = undefined;
  if (nose) {
    const d = apart ?? nose.w / 0.4;
    const w = Math.max(1.2 * LEAST * scale, Math.min(0.62 * d, nose.w));
    nose = { ...nose, w, h: Math.max(LEAST * scale, Math.min(0.9 * w, Math.max(0.6 * w, nose.h))) };
  }
  const shapes: FaceShape[] = [];
  const share = (outline: readonly Point[], p: Placed): Point[] =>
    turnAbout(outline, p.x, p.y, rest).map(([x, y]) => [x / W, y / H]);
  const together =
    eyes.length === 2 &&
    Math.abs(eyes[0]!.x - eyes[1]!.x) < eyes[0]!.w + LEAST * 0.5 * scale &&
    Math.abs(eyes[0]!.y - eyes[1]!.y) < eyes[0]!.h;
  // both eyes show an iris, or none: iris, pupil and iris are three strips of which each must be wide enough
  const three = IRIS_FROM * smallest;
  const room = (e: Placed): boolean =>
    e.w >= three || (three <= MOST_WIDER * e.w && three <= OF_DISTANCE * (apart ?? 0));
  const irises =
    eyes.length > 0 &&
    Math.abs(rest) < LEVEL &&
    eyes.every(room) &&
    figure.eyes.some((e) => e.iris !== undefined && lightness(e.iris) - lightness(e.pupil ?? '#1a1614') >= IRIS_GAP);
  if (irises) eyes = eyes.map((e) => ({ ...e, w: Math.max(e.w, three), h: Math.max(e.h, MOST_FLAT * three) }));
  eyes.forEach((e, i) => {
    if (!inside(e) || together) {
      missing.push(inside(e) ? 'the eyes lie too near to each other' : 'an eye lies off the block');
      return;
    }
    const pupil = figure.eyes[i]!.pupil ?? '#1a1614';
    const iris = figure.eyes[i]!.iris ?? figure.eyes[1 - i]?.iris;
    const pair = eyes.length === 2 ? { pair: 1 } : {};
    const shows = iris !== undefined && irises;
    if (shows) {
      // iris, pupil, iris: three strips between two level lines
      shapes.push({
        kind: 'eye',
        outline: share(box(e.x - e.w / 2, e.y - 0.46 * e.h, e.x + e.w / 2, e.y + 0.46 * e.h), e),
        colour: iris,
        ...pair,
      });
      const within = shapes.length - 1;
      const half = (PUPIL * e.w) / 2;
      shapes.push({
        kind: 'pupil',
        outline: share(box(e.x - half, e.y - 0.46 * e.h, e.x + half, e.y + 0.46 * e.h), e),
        colour: pupil,
        within,
        ...(eyes.length === 2 && { pair: 2 }),
      });
    } else shapes.push({ kind: 'eye', outline: share(hexagon(e), e), colour: pupil, ...pair });
  });
  if (nose && inside(nose))
    shapes.push({ kind: 'nose', outline: share(trapezoid(nose), nose), colour: figure.nose!.colour ?? '#2a2220' });
  else if (nose) missing.push('the nose lies off the block');
  return { shapes, missing, ...(axis !== undefined && { axis }) };
}
