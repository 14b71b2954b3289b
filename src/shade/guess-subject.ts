// Where the subject of a photo is: a small network is asked, from afar and from near. What it says is a guess, place by place.
import { readFileSync } from 'node:fs';
import type { Picture } from '../data.ts';
import { averagePixels } from './cells.ts';
import { loadOpenCv } from './opencv.ts';
import { runNetwork } from './run-network.ts';
import { LEAST_SHARE, overlap, tidyMask } from './subject-mask.ts';

/** The tensor that is its answer. */
const OUTPUT = '1959';
/** Mean and spread of the colours it was trained on, as its authors give them. */
const NET_MEAN = [0.485, 0.456, 0.406];
const NET_SPREAD = [0.229, 0.224, 0.225];

/** The network's bytes: beside this file, or where the built program keeps them; undefined where it was left out. */
function readNetwork(): Uint8Array | undefined {
  for (const place of ['./subject-model/u2netp.onnx', '../src/shade/subject-model/u2netp.onnx'])
    try {
      return readFileSync(new URL(place, import.meta.url));
    } catch {
      // the next place
    }
  return undefined;
}

/** Left, top, width, height in pixels of the upright picture. */
export type Frame = readonly [x: number, y: number, width: number, height: number];

/** What the network said about a part of a picture. */
export interface Guess {
  /** the part, in pixels of the upright picture; beyond it all is ground */
  readonly part: Frame;
  /** side x side, 0..1: how likely each place is the subject's */
  readonly likely: Float32Array;
  readonly side: number;
  /** how sure it is, 0..1: the mean likelihood of what it takes for the subject */
  readonly sure: number;
}

/** Room around the frame that a person drew about the subject, as a share of it, that the network sees too. */
const FRAME_ROOM = 0.15;

/** Sides of the square that the network sees (any multiple of 32; it was trained on 320): of the whole picture, of what lies
 *  round that which it found there, and where it found nothing (a flower among many, an animal far off). It is the surer of
 *  edges the more it sees, but of a face that fills the picture it then takes the middle alone; at 192 it sees the animal,
 *  and more of what lies beside it. The mean of two looks errs least. */
const FIRST = 192;
const SECOND = 256;
const LAST = 416;
/** The same where only what is likely is asked. */
const GLIMPSE = 128;
/** Room around what was found first, as a share of it, that is looked at again; if that is less than this of the picture. */
const BOX_ROOM = 0.15;
const MUCH = 0.6;
/** Shared area over area of both from which two looks are thought to see the same subject. */
const LIKE_BEFORE = 0.55;

/** Asks the network where the subject is (Qin et al. 2020), in the whole of `picture` or in a frame that the person gave.
 *  Undefined where the network was left out of the installation, or finds next to nothing. `beside` runs it in another thread: it
 *  is given the finest side, while this thread goes over the others and loads what the cut along the border needs. */
export async function guessSubject(
  picture: Picture,
  frame?: Frame,
  beside?: typeof runNetwork,
): Promise<Guess | undefined> {
  const onnx = readNetwork();
  if (!onnx) return undefined;
  const look = (part: Frame, side: number): Promise<Float32Array> => askNetwork(onnx, picture, part, side);
  const whole = picture.source.crop;
  const all = frame ? within(whole, frame, FRAME_ROOM) : whole;
  // what is begun beside may turn out not to be wanted; a thread that dies costs time alone
  const ahead = beside && askNetwork(onnx, picture, all, SECOND, beside);
  ahead?.catch(() => {});
  const first = { part: all, side: FIRST, likely: await look(all, FIRST) };
  if (ahead) await loadOpenCv();
  const second = async (part: Frame): Promise<Float32Array> => {
    const likely = part === all && ahead ? await ahead.catch(() => look(part, SECOND)) : await look(part, SECOND);
    return meanOf(part, [first, { part, side: SECOND, likely }]);
  };
  if (frame) {
    const likely = await second(all);
    for (let i = 0; i < likely.length; i++) {
      const u = all[0] + (((i % SECOND) + 0.5) * all[2]) / SECOND - frame[0];
      const v = all[1] + ((Math.floor(i / SECOND) + 0.5) * all[3]) / SECOND - frame[1];
      if (u < 0 || v < 0 || u > frame[2] || v > frame[3]) likely[i] = 0;
    }
    return guessOf(all, likely, SECOND);
  }
  const found = guessOf(whole, first.likely, FIRST);
  if (!found) return guessOf(whole, await look(whole, LAST), LAST);
  // what is small in the picture is looked at again from nearer: what lies beside it then no longer passes for a part of it
  const near = within(whole, boxOfGuess(found).box, BOX_ROOM);
  const part = near[2] * near[3] < MUCH * whole[2] * whole[3] ? near : whole;
  return guessOf(part, await second(part), SECOND);
}

/** One quick look where the background is kept and only what is likely is asked, in a sixth of the time. */
export async function glimpseSubject(picture: Picture, run = runNetwork): Promise<Guess | undefined> {
  const onnx = readNetwork();
  const whole = picture.source.crop;
  return onnx && guessOf(whole, await askNetwork(onnx, picture, whole, GLIMPSE, run), GLIMPSE);
}

/** Looks once more at what is shown of a picture where that is a part of it, and takes the mean of what was known and what is seen now: of a
 *  head that fills the part the network then sees the ears. Where the two are far from alike what was known stays. */
export async function lookCloser(picture: Picture, known: Guess, run = runNetwork): Promise<Guess> {
  const onnx = readNetwork();
  if (!onnx) return known;
  const part = picture.source.crop;
  const seen = await askNetwork(onnx, picture, part, SECOND, run);
  const before = guessOnCells(known, picture, SECOND, SECOND);
  const subject = (likely: Float32Array): Uint8Array => Uint8Array.from(likely, (v) => (v > 0.5 ? 1 : 0));
  if (overlap(subject(before), subject(seen)) < LIKE_BEFORE) return known;
  return (
    guessOf(
      part,
      seen.map((v, i) => (v + before[i]!) / 2),
      SECOND,
    ) ?? known
  );
}

interface Look {
  readonly part: Frame;
  readonly side: number;
  readonly likely: Float32Array;
}

/** The mean of several looks on a part of the picture, SECOND steps across and down. */
function meanOf(part: Frame, looks: readonly Look[]): Float32Array {
  const out = new Float32Array(SECOND * SECOND);
  for (const { part: from, side, likely } of looks)
    for (let i = 0; i < out.length; i++) {
      const u = part[0] + (((i % SECOND) + 0.5) * part[2]) / SECOND - from[0];
      const v = part[1] + ((Math.floor(i / SECOND) + 0.5) * part[3]) / SECOND - from[1];
      const [x, y] = [Math.floor((u * side) / from[2]), Math.floor((v * side) / from[3])];
      out[i]! += likely[Math.min(side - 1, y) * side + Math.min(side - 1, x)]! / looks.length;
    }
  return out;
}

/** A box with room around it, as far as the picture goes. */
function within([x, y, w, h]: Frame, box: Frame, room: number): Frame {
  const [rx, ry] = [room * box[2], room * box[3]];
  const [left, top] = [Math.max(x, box[0] - rx), Math.max(y, box[1] - ry)];
  return [left, top, Math.min(x + w, box[0] + box[2] + rx) - left, Math.min(y + h, box[1] + box[3] + ry) - top];
}

/** side x side, 0..1: how likely each place of a part of the picture is the subject's. */
async function askNetwork(
  onnx: Uint8Array,
  picture: Picture,
  part: Frame,
  side: number,
  run = runNetwork,
): Promise<Float32Array> {
  const [x, y, w, h] = picture.source.crop;
  const [sx, sy] = [picture.width / w, picture.height / h];
  const box = [(part[0] - x) * sx, (part[1] - y) * sy, part[2] * sx, part[3] * sy].map(Math.round) as unknown as Frame;
  const shown = part === picture.source.crop ? picture : cutPixels(picture, box);
  const small = averagePixels(shown.pixels, shown.width, shown.height, side, side);
  const most = small.reduce((t, v) => Math.max(t, v), 1);
  const image = small.map((v, i) => (v / most - NET_MEAN[i % 3]!) / NET_SPREAD[i % 3]!);
  return run(onnx, image, side, OUTPUT);
}

function guessOf(part: Frame, likely: Float32Array, side: number): Guess | undefined {
  const own = likely.filter((v) => v > 0.5);
  if (own.length < LEAST_SHARE * 0.25 * side * side) return undefined;
  return { part, likely, side, sure: own.reduce((t, v) => t + v, 0) / own.length };
}

function cutPixels(picture: Picture, [left, top, width, height]: Frame): Pick<Picture, 'pixels' | 'width' | 'height'> {
  const [w, h] = [
    Math.max(1, Math.min(width, picture.width - left)),
    Math.max(1, Math.min(height, picture.height - top)),
  ];
  const pixels = new Uint8Array(3 * w * h);
  for (let y = 0; y < h; y++) {
    const from = 3 * ((top + y) * picture.width + left);
    pixels.set(picture.pixels.subarray(from, from + 3 * w), 3 * y * w);
  }
  return { pixels, width: w, height: h };
}

/** The guess on the cells of a part of the same picture. */
export function guessOnCells(guess: Guess, picture: Picture, w: number, h: number): Float32Array {
  const [x, y, width, height] = picture.source.crop;
  const [left, top, across, down] = guess.part;
  const n = guess.side;
  return Float32Array.from({ length: w * h }, (_, i) => {
    const u = Math.floor(((x + (((i % w) + 0.5) * width) / w - left) * n) / across);
    const v = Math.floor(((y + ((Math.floor(i / w) + 0.5) * height) / h - top) * n) / down);
    return u < 0 || v < 0 || u >= n || v >= n ? 0 : guess.likely[v * n + u]!;
  });
}

/** Share of the subject's extent along a side of the picture over which the side cuts it: an ear's tip only touches. */
const CUT = 0.2;

/** The subject's box in pixels of the upright picture, and which of its left, top, right and bottom sides the picture cuts:
 *  what a crop is put around. Stray specks do not count. */
export function boxOfGuess({ part, likely, side: n }: Guess): {
  readonly box: Frame;
  readonly cut: readonly [boolean, boolean, boolean, boolean];
} {
  const mask = tidyMask(
    Uint8Array.from(likely, (v) => (v > 0.5 ? 1 : 0)),
    n,
    n,
  );
  let [left, top, right, bottom] = [n, n, 0, 0];
  const touch = [0, 0, 0, 0];
  for (let i = 0; i < n * n; i++) {
    if (!mask[i]) continue;
    const x = i % n;
    const y = (i - x) / n;
    left = Math.min(left, x);
    right = Math.max(right, x + 1);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y + 1);
    // the second row from the side: the network is unsure of the outermost
    if (x === 1) touch[0]!++;
    if (y === 1) touch[1]!++;
    if (x === n - 2) touch[2]!++;
    if (y === n - 2) touch[3]!++;
  }
  const [sx, sy] = [part[2] / n, part[3] / n];
  const extent = [bottom - top, right - left, bottom - top, right - left];
  const [a, b, c, d] = touch.map((t, q) => t > CUT * extent[q]!) as [boolean, boolean, boolean, boolean];
  return {
    box: [part[0] + left * sx, part[1] + top * sy, (right - left) * sx, (bottom - top) * sy],
    cut: [a, b, c, d],
  };
}
