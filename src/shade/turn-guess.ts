// Where the subject is, as a turned part of the picture shows it: so that all that reads a guess by the part's box reads it right.
import type { Guess } from './guess-subject.ts';

const SIDE = 256;
/** Room beyond the part, as a share of it. */
const ROOM = 0.1;

/** The outermost share of the picture, in which the network is unsure. */
const RIM = 0.008;
/** Share of the crop's side over which the photo's rim cuts the animal where it does not end there: an ear's tip does, a neck does not. */
const GOES_ON = 0.22;

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
  const at = (x: number, y: number): number => {
    const X = ((Math.max(RIM * pixels[0], Math.min((1 - RIM) * pixels[0], x)) - part[0]) * side) / part[2] - 0.5;
    const Y = ((Math.max(RIM * pixels[1], Math.min((1 - RIM) * pixels[1], y)) - part[1]) * side) / part[3] - 0.5;
    if (X < -0.5 || Y < -0.5 || X > side - 0.5 || Y > side - 0.5) return 0;
    const x0 = Math.max(0, Math.min(side - 2, Math.floor(X)));
    const y0 = Math.max(0, Math.min(side - 2, Math.floor(Y)));
    const [fx, fy] = [Math.max(0, Math.min(1, X - x0)), Math.max(0, Math.min(1, Y - y0))];
    const o = y0 * side + x0;
    return (
      (from[o]! * (1 - fx) + from[o + 1]! * fx) * (1 - fy) +
      (from[o + side]! * (1 - fx) + from[o + side + 1]! * fx) * fy
    );
  };
  /** which of the photo's left, top, right and bottom sides cut the animal over a good part of the crop: there it goes on; but above it a
   *  head ends, whatever the photo cut of it */
  const goesOn = [0, 1, 2, 3].map((s) => {
    if (s === 1) return false;
    let n = 0;
    for (let k = 0; k < 100; k++) {
      const along = (k + 0.5) / 100;
      const [x, y] = [
        [0, along * pixels[1]],
        [along * pixels[0], 0],
        [pixels[0], along * pixels[1]],
        [along * pixels[0], pixels[1]],
      ][s]! as [number, number];
      const [dx, dy] = [x - cx, y - cy];
      const inCrop = Math.abs(dx * cos + dy * sin) < crop[2] / 2 && Math.abs(dy * cos - dx * sin) < crop[3] / 2;
      if (inCrop && at(x, y) > 0.5) n++;
    }
    return (n / 100) * (s % 2 ? pixels[0] : pixels[1]) > GOES_ON * (s % 2 ? crop[2] : crop[3]);
  });
  const likely = new Float32Array(SIDE * SIDE);
  for (let i = 0; i < SIDE * SIDE; i++) {
    const u = (((i % SIDE) + 0.5) / SIDE - 0.5) * w;
    const v = ((Math.floor(i / SIDE) + 0.5) / SIDE - 0.5) * h;
    const [x, y] = [cx + u * cos - v * sin, cy + u * sin + v * cos];
    const beyond = [x < 0, y < 0, x >= pixels[0], y >= pixels[1]];
    if (beyond.some((b, s) => b && !goesOn[s])) continue;
    likely[i] = at(x, y);
  }
  return { part: [cx - w / 2, cy - h / 2, w, h], likely, side: SIDE, sure: guess.sure };
}
