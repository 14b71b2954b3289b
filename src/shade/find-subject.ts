// Tells the subject of a photo from its background: a GrabCut finds its edge, from what a network guessed or, without a guess, from
// what is unlike the frame's colours and lies inside. Gives a mask over the block's cells.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import type { Picture } from '../data.ts';
import { labOfPixels, shrinkPixels } from './cells.ts';
import { otsuLevel } from './find-ink.ts';
import { type Frame, type Guess, guessOnCells } from './guess-subject.ts';
import { cutSubject, reshapeMask } from './opencv.ts';
import { LEAST_SHARE, overlap, shareOf, tidyMask } from './subject-mask.ts';

export interface Subject {
  /** 1 where the subject is */
  readonly mask: Uint8Array;
  /** share of the block */
  readonly share: number;
}

/** Cells along the frame that are taken for background; the lower side only where its colours are found elsewhere too. */
const BAND = 0.03;

/** How unlike the frame each cell is, 0..1, less towards the frame: `rgb` is w x h x 3. */
export function unlikeFrame(lab: Float32Array, w: number, h: number): Float32Array {
  const band = Math.max(2, Math.round(BAND * Math.max(w, h)));
  const weights = new Float32Array(w * h);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++)
      if (x < band || y < band || x >= w - band) weights[y * w + x] = 1;
      else if (y >= h - band) weights[y * w + x] = 0.3;
  const frame = clusterColours(gatherColours(lab, weights), 6, 1);
  // a colour that the frame has little of may be the subject's own, where the frame cuts it
  const shares = frame.map(() => 0);
  let total = 0;
  const alike = new Uint8Array(w * h);
  const away = new Float64Array(w * h);
  for (let i = 0; i < w * h; i++) {
    let least = Infinity;
    for (let j = 0; j < frame.length; j++) {
      const [L, a, b] = frame[j]!;
      const d = (lab[3 * i]! - L) ** 2 + (lab[3 * i + 1]! - a) ** 2 + (lab[3 * i + 2]! - b) ** 2;
      if (d < least) {
        least = d;
        alike[i] = j;
      }
    }
    away[i] = Math.sqrt(least);
    shares[alike[i]!]! += weights[i]!;
    total += weights[i]!;
  }
  const unlike = new Float32Array(w * h);
  for (let y = 0, i = 0; y < h; y++)
    for (let x = 0; x < w; x++, i++) {
      const rare = shares[alike[i]!]! / total < 0.06 ? 0.08 : 0;
      const u = (x + 0.5) / w - 0.5;
      const v = (y + 0.5) / h - 0.54;
      const middle = Math.exp(-(u * u + v * v) / 0.12);
      unlike[i] = Math.min(1, 2.5 * (away[i]! + rare) * (0.35 + 0.65 * middle) + 0.12 * middle);
    }
  return unlike;
}

/** Where a cut starts: 0 ground, 1 subject, 2 probably ground, 3 probably subject. */
function startFrom(likely: Float32Array): Uint8Array {
  return Uint8Array.from(likely, (v) => (v < 0.08 ? 0 : v > 0.85 ? 1 : v > 0.5 ? 3 : 2));
}

function startFromFrame(rgb: Uint8Array, w: number, h: number): Uint8Array {
  const unlike = unlikeFrame(labOfPixels(rgb), w, h);
  const level = otsuLevel(unlike);
  const edge = Math.max(1, Math.round(0.01 * Math.max(w, h)));
  return Uint8Array.from({ length: w * h }, (_, i) => {
    const [x, y] = [i % w, Math.floor(i / w)];
    const outer = (x < edge || x >= w - edge || y < edge) && unlike[i]! < level;
    return outer ? 0 : unlike[i]! > level ? 3 : 2;
  });
}

/** The subject on a grid of w x h cells. Undefined where hardly anything, or nearly everything, would be the subject.
 *  Without a guess it starts from what is unlike the picture's frame; `frame` is what the person drew about it. */
export async function findSubject(
  picture: Picture,
  w: number,
  h: number,
  guess?: Guess,
  frame?: Frame,
): Promise<Subject | undefined> {
  const rgb = shrinkPixels(picture.pixels, picture.width, picture.height, w, h);
  const asked = guess && guessOnCells(guess, picture, w, h);
  const sure = asked && Uint8Array.from(asked, (v) => (v > 0.5 ? 1 : 0));
  const found = sure && shareOf(sure) > LEAST_SHARE ? sure : undefined;
  const start = asked && found ? startFrom(asked) : startFromFrame(rgb, w, h);
  if (frame) {
    const [x, y, width, height] = picture.source.crop;
    for (let i = 0; i < w * h; i++) {
      const u = x + (((i % w) + 0.5) * width) / w - frame[0];
      const v = y + ((Math.floor(i / w) + 0.5) * height) / h - frame[1];
      if (u < 0 || v < 0 || u > frame[2] || v > frame[3]) start[i] = 0;
    }
  }
  if (!start.some((v) => v & 1) || start.every((v) => v & 1)) return undefined;
  let mask: Uint8Array = await cutSubject(rgb, start, w, h);
  // where fur and ground are alike the cut runs astray: then the network's own border is the better one
  if (found && overlap(mask, found) < 0.75) mask = found;
  mask = await reshapeMask(mask, w, h, 'open', 3);
  mask = await reshapeMask(mask, w, h, 'close', 5);
  mask = tidyMask(mask, w, h);
  const share = shareOf(mask);
  return share > LEAST_SHARE && share < 0.95 ? { mask, share } : undefined;
}
