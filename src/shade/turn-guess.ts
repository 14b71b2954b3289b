// Where the subject is, as a turned part of the picture shows it: so that all that reads a guess by the part's box reads it right.
import type { Guess } from './find-subject.ts';

const SIDE = 256;
/** Room beyond the part, as a share of it. */
const ROOM = 0.1;

/** `crop` in pixels of the upright picture, turned clockwise about its middle by `turn` degrees; `pixels` is the picture's size. The guess
 *  that is given back counts as if the picture lay straight under the crop; beyond the picture all is ground. */
export function turnGuess(
  guess: Guess,
  crop: readonly [number, number, number, number],
  turn: number,
  pixels: readonly [number, number],
): Guess {
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  const [cx, cy] = [crop[0] + crop[2] / 2, crop[1] + crop[3] / 2];
  const [w, h] = [crop[2] * (1 + 2 * ROOM), crop[3] * (1 + 2 * ROOM)];
  const { part, side, likely: from } = guess;
  const likely = new Float32Array(SIDE * SIDE);
  for (let i = 0; i < SIDE * SIDE; i++) {
    const u = (((i % SIDE) + 0.5) / SIDE - 0.5) * w;
    const v = ((Math.floor(i / SIDE) + 0.5) / SIDE - 0.5) * h;
    const [x, y] = [cx + u * cos - v * sin, cy + u * sin + v * cos];
    if (x < 0 || y < 0 || x >= pixels[0] || y >= pixels[1]) continue;
    const X = ((x - part[0]) * side) / part[2] - 0.5;
    const Y = ((y - part[1]) * side) / part[3] - 0.5;
    if (X < -0.5 || Y < -0.5 || X > side - 0.5 || Y > side - 0.5) continue;
    const x0 = Math.max(0, Math.min(side - 2, Math.floor(X)));
    const y0 = Math.max(0, Math.min(side - 2, Math.floor(Y)));
    const [fx, fy] = [Math.max(0, Math.min(1, X - x0)), Math.max(0, Math.min(1, Y - y0))];
    const o = y0 * side + x0;
    likely[i] =
      (from[o]! * (1 - fx) + from[o + 1]! * fx) * (1 - fy) + (from[o + side]! * (1 - fx) + from[o + side + 1]! * fx) * fy;
  }
  return { part: [cx - w / 2, cy - h / 2, w, h], likely, side: SIDE, sure: guess.sure };
}
