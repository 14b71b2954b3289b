// A small grey square about the subject, in which eyes and nose are looked for; and the way back to the picture.
import { LINEAR } from '../colour/oklab.ts';

/** A whole upright picture in memory: `rgb` is width x height x 3, `pixels` the size of the picture in the file. */
export interface WholePicture {
  readonly width: number;
  readonly height: number;
  readonly rgb: Uint8Array;
  readonly pixels: readonly [width: number, height: number];
}

/** How likely each place of a part of the picture (pixels of the upright picture) is the subject's: side x side, 0..1. */
export interface Likely {
  readonly part: readonly [x: number, y: number, width: number, height: number];
  readonly likely: Float32Array;
  readonly side: number;
}

/** Root of luminance in a square about the subject: 0 black, 1 white. */
export interface Look {
  readonly side: number;
  readonly grey: Float32Array;
  /** how likely each pixel is the subject's, 0..1; 1 everywhere where nothing is known of it */
  readonly mask: Float32Array;
  /** left, top and side of the square in pixels of the upright picture */
  readonly from: readonly [x: number, y: number, side: number];
}

export const LOOK_SIDE = 480;
/** The square's side over the longer side of the subject's box. */
const ROOM = 1.12;
/** What is likelier than this counts as the subject's. */
const SUBJECT = 0.5;

/** The subject's box in pixels of the upright picture; all of the picture where nothing is known of it. */
export function boxOfLikely(
  guess: Likely | undefined,
  pixels: readonly [number, number],
): readonly [x: number, y: number, width: number, height: number] {
  if (!guess) return [0, 0, pixels[0], pixels[1]];
  const { part, likely, side } = guess;
  // a row or column counts where more than a hair of it is the subject's
  const rows = new Float64Array(side);
  const columns = new Float64Array(side);
  for (let i = 0; i < side * side; i++)
    if (likely[i]! > SUBJECT) {
      rows[Math.floor(i / side)]!++;
      columns[i % side]!++;
    }
  const span = (counts: Float64Array): [number, number] => {
    const least = Math.max(1, 0.01 * side);
    const from = counts.findIndex((v) => v > least);
    const to = counts.findLastIndex((v) => v > least);
    return from < 0 ? [0, side] : [from, to + 1];
  };
  const [x0, x1] = span(columns);
  const [y0, y1] = span(rows);
  const [sx, sy] = [part[2] / side, part[3] / side];
  return [part[0] + x0 * sx, part[1] + y0 * sy, (x1 - x0) * sx, (y1 - y0) * sy];
}

/** `guess` at a place in pixels of the upright picture, between its steps by their distance. */
export function likelyAt(guess: Likely, x: number, y: number): number {
  const { part, likely, side } = guess;
  const u = ((x - part[0]) * side) / part[2] - 0.5;
  const v = ((y - part[1]) * side) / part[3] - 0.5;
  if (u < -0.5 || v < -0.5 || u > side - 0.5 || v > side - 0.5) return 0;
  return sample(likely, side, side, u, v);
}

/** Between pixels by their distance; beyond the rim the rim goes on. `u`, `v` count from the first pixel's middle. */
export function sample(image: Float32Array, width: number, height: number, u: number, v: number): number {
  const x = Math.max(0, Math.min(width - 1, u));
  const y = Math.max(0, Math.min(height - 1, v));
  const x0 = Math.min(width - 2, Math.floor(x));
  const y0 = Math.min(height - 2, Math.floor(y));
  const fx = x - x0;
  const fy = y - y0;
  const i = y0 * width + x0;
  return (
    (image[i]! * (1 - fx) + image[i + 1]! * fx) * (1 - fy) +
    (image[i + width]! * (1 - fx) + image[i + width + 1]! * fx) * fy
  );
}

/** Throws nothing: a picture without a subject is looked at whole. */
export function lookAt(picture: WholePicture, guess?: Likely, side = LOOK_SIDE): Look {
  const { width, height, rgb, pixels } = picture;
  const box = boxOfLikely(guess, pixels);
  const span = ROOM * Math.max(box[2], box[3]);
  const [left, top] = [box[0] + box[2] / 2 - span / 2, box[1] + box[3] / 2 - span / 2];
  const root = Float32Array.from({ length: width * height }, (_, i) =>
    Math.sqrt(0.2126 * LINEAR[rgb[3 * i]!]! + 0.7152 * LINEAR[rgb[3 * i + 1]!]! + 0.0722 * LINEAR[rgb[3 * i + 2]!]!),
  );
  const scale = width / pixels[0];
  const step = (span * scale) / side;
  // several looks a pixel where the picture is finer than the square
  const many = Math.max(1, Math.min(6, Math.round(step)));
  const grey = new Float32Array(side * side);
  const mask = new Float32Array(side * side).fill(1);
  for (let y = 0, o = 0; y < side; y++)
    for (let x = 0; x < side; x++, o++) {
      let sum = 0;
      for (let b = 0; b < many; b++)
        for (let a = 0; a < many; a++)
          sum += sample(
            root,
            width,
            height,
            left * scale + (x + (a + 0.5) / many) * step - 0.5,
            top * scale + (y + (b + 0.5) / many) * step - 0.5,
          );
      grey[o] = sum / (many * many);
      if (guess) mask[o] = likelyAt(guess, left + ((x + 0.5) * span) / side, top + ((y + 0.5) * span) / side);
    }
  return { side, grey, mask, from: [left, top, span] };
}

/** A place in the square, in its pixels -> in pixels of the upright picture. */
export const toPicture = (look: Look, x: number, y: number): [number, number] => [
  look.from[0] + (x * look.from[2]) / look.side,
  look.from[1] + (y * look.from[2]) / look.side,
];

/** The other way. */
export const toLook = (look: Look, x: number, y: number): [number, number] => [
  ((x - look.from[0]) * look.side) / look.from[2],
  ((y - look.from[1]) * look.side) / look.from[2],
];
