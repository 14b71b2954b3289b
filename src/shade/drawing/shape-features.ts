// Takes the parts of a face; gives the shapes that are sewn for them: four to six corners, large enough to be pieced, a pair alike.
import type { Feature } from '../../data.ts';
import type { Point } from '../../geometry/polygon.ts';
import type { FaceParts, Spot } from './find-features.ts';

/** A feature before fabrics have their final numbers; `role` says which it is to have. */
export interface FeatureShape extends Omit<Feature, 'fabric' | 'outline'> {
  readonly role: 'ink' | 'white';
  /** cells of the block's grid */
  readonly outline: readonly Point[];
}

/** Least width and height of an eye and a nose, as shares of the block (7/8 x 3/4 in and 3/4 x 9/16 in of 12 in). */
const EYE = [0.073, 0.0625] as const;
const NOSE = [0.0625, 0.047] as const;
/** An eye as wide as this (1 in of 12) has a pupil of its own, at least as wide as that. */
const WITH_PUPIL = 0.083;
const PUPIL = 0.044;
/** Share of the distance of two eyes that one of them is wide at most. */
const OF_DISTANCE = 0.66;
/** Factors by which a feature shrinks where it would leave the figure or run into another. */
const SMALLER = [1, 0.92, 0.84, 0.76, 0.68, 0.6];
/** Cells between two features, and between one and the ground. */
const BETWEEN = 3;

const hexagon = (x: number, y: number, w: number, h: number): Point[] => {
  const [a, b] = [w / 2, h / 2];
  // as near to an ellipse of this size as six corners come, a side above and below
  return [
    [x - 0.52 * a, y - b],
    [x + 0.52 * a, y - b],
    [x + a, y],
    [x + 0.52 * a, y + b],
    [x - 0.52 * a, y + b],
    [x - a, y],
  ];
};

/** A nose: broad above and narrow below, or the other way round, as its spot is. */
function noseShape(s: Spot, x: number, y: number, w: number, h: number): Point[] {
  const [a, b] = [w / 2, h / 2];
  const lean = s.upper > 0.54 ? 1 : s.upper < 0.46 ? -1 : 0;
  if (!lean) return hexagon(x, y, w, h);
  const wide = y - lean * b;
  const narrow = y + lean * b;
  const corners: Point[] = [
    [x - a, wide],
    [x + a, wide],
    [x + 0.42 * a, narrow],
    [x - 0.42 * a, narrow],
  ];
  return lean > 0 ? corners : [corners[3]!, corners[2]!, corners[1]!, corners[0]!];
}

/** `scale`: cells of the block's grid a cell of the spots; `inside` says whether a cell of the block is the figure's. */
export function shapeFeatures(
  { eyes, nose }: FaceParts,
  scale: number,
  w: number,
  h: number,
  narrow: number,
  inside: (x: number, y: number) => boolean,
): FeatureShape[] {
  const size = Math.max(w, h);
  const shapes: FeatureShape[] = [];
  const within = (outline: readonly Point[]): boolean =>
    outline.every(([x, y]) => {
      const mx = outline.reduce((t, p) => t + p[0], 0) / outline.length;
      const my = outline.reduce((t, p) => t + p[1], 0) / outline.length;
      const far = Math.hypot(x - mx, y - my) || 1;
      return inside(x + ((x - mx) / far) * BETWEEN, y + ((y - my) / far) * BETWEEN);
    });
  const apart = (outline: readonly Point[], from: readonly FeatureShape[]): boolean =>
    from.every((s) => !boxesMeet(boxOf(outline), boxOf(s.outline), BETWEEN));
  const least = (share: number): number => Math.max(share * size, 1.05 * narrow);
  if (eyes.length) {
    let width = Math.max(least(EYE[0]), ...eyes.map((e) => e.width * scale));
    let height = Math.max(least(EYE[1]), ...eyes.map((e) => e.height * scale));
    if (eyes.length === 2) {
      const distance = Math.hypot(eyes[0]!.x - eyes[1]!.x, eyes[0]!.y - eyes[1]!.y) * scale;
      width = Math.min(width, Math.max(OF_DISTANCE * distance, narrow));
      // two that are alike in size have a size between theirs
      const natural = eyes.map((e) => e.height * scale);
      height = Math.max(least(EYE[1]), (natural[0]! + natural[1]!) / 2);
      width = Math.max(
        Math.min(width, (eyes[0]!.width + eyes[1]!.width) * scale * 0.5),
        Math.min(width, least(EYE[0])),
      );
    }
    // a closed eye is a line: as low as can be sewn
    if (eyes.every((e) => e.dash)) height = 1.05 * narrow;
    height = Math.min(height, 1.9 * width);
    width = Math.min(width, 2.1 * height);
    const drawn = (k: number): FeatureShape[] =>
      eyes.flatMap((e, i) => eyeShapes(e, i, eyes.length, scale, width * k, height * k, size, narrow));
    const k = SMALLER.find((f) => drawn(f).every((s) => within(s.outline))) ?? SMALLER.at(-1)!;
    shapes.push(...drawn(k));
  }
  if (nose) {
    const [nw, nh] = [Math.max(least(NOSE[0]), nose.width * scale), Math.max(least(NOSE[1]), nose.height * scale)];
    const drawn = (k: number): Point[] => noseShape(nose, nose.x * scale, nose.y * scale, nw * k, nh * k);
    const k = SMALLER.find((f) => within(drawn(f)) && apart(drawn(f), shapes)) ?? SMALLER.at(-1)!;
    if (apart(drawn(k), shapes)) shapes.push({ kind: 'nose', outline: drawn(k), role: 'ink' });
  }
  return shapes;
}

function eyeShapes(
  e: Spot,
  i: number,
  count: number,
  scale: number,
  width: number,
  height: number,
  size: number,
  narrow: number,
): FeatureShape[] {
  const [x, y] = [e.x * scale, e.y * scale];
  const pair = count === 2 ? { pair: 1 } : {};
  const eye = hexagon(x, y, width, height);
  const ringed = e.pupil !== undefined && e.ink < 0.75;
  if (!ringed || Math.min(width, height) < WITH_PUPIL * size)
    return [{ kind: 'eye', outline: eye, role: 'ink', ...pair }];
  const p = e.pupil!;
  const pw = Math.max(PUPIL * size, 1.05 * narrow, Math.min(0.62 * width, p.width * scale));
  const ph = Math.max(PUPIL * size, 1.05 * narrow, Math.min(0.62 * height, p.height * scale));
  // the pupil stays inside its eye with white all round
  const hold = (v: number, middle: number, room: number): number => Math.max(middle - room, Math.min(middle + room, v));
  const px = hold(p.x * scale, x, Math.max(0, 0.36 * width - pw / 2));
  const py = hold(p.y * scale, y, Math.max(0, 0.4 * height - ph / 2));
  return [
    { kind: 'eye', outline: eye, role: 'white', ...pair },
    { kind: 'pupil', outline: hexagon(px, py, pw, ph), role: 'ink', within: 2 * i, ...pair },
  ];
}

type Box = readonly [number, number, number, number];
const boxOf = (p: readonly Point[]): Box => {
  const [xs, ys] = [p.map((q) => q[0]), p.map((q) => q[1])];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
};
const boxesMeet = (a: Box, b: Box, gap: number): boolean =>
  a[0] < b[2] + gap && b[0] < a[2] + gap && a[1] < b[3] + gap && b[1] < a[3] + gap;
