// Says before any fitting what stands in the way of a good block, and what to do about it. Takes a Picture.
import { oklabLightness } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { shrinkPixels } from './cells.ts';
import type { Kind } from './find-kind.ts';

export interface Judgement {
  readonly notes: readonly string[];
  readonly measures: Readonly<Record<string, number>>;
}

const SIDE = 256;
/** OKLab lightness that nine tenths of the picture stay under: too dark. */
const DARK = 0.52;
/** OKLab lightness between the darkest and lightest twentieth: under this all is one grey. */
const FLAT = 0.22;
/** Mean strength of the strongest hundredth of edges at 256 px: under this nothing in it is sharp. */
const SOFT = 0.1;

/** The `count` largest of values >= 0, in no order: only those near them are sorted. */
function largest(values: Float64Array, count: number): Float64Array {
  const STEPS = 512;
  const bins = new Uint32Array(STEPS + 1);
  for (let i = 0; i < values.length; i++) bins[Math.min(STEPS, Math.floor(values[i]! * STEPS))]!++;
  let from = STEPS;
  for (let above = bins[from]!; from > 0 && above < count; above += bins[from]!) from--;
  const near = values.filter((v) => Math.min(STEPS, Math.floor(v * STEPS)) >= from).sort();
  return near.subarray(near.length - count);
}

/** `bright`: lightness at nine tenths; `range`: from a twentieth to nineteen; `sharp`: second differences of the sharpest places. */
export function judgePicture(picture: Picture, kind: Kind): Judgement {
  const pixels = shrinkPixels(picture.pixels, picture.width, picture.height, SIDE, SIDE);
  const L = new Float32Array(SIDE * SIDE);
  for (let i = 0; i < L.length; i++) L[i] = oklabLightness(pixels[3 * i]!, pixels[3 * i + 1]!, pixels[3 * i + 2]!);
  const sorted = Float32Array.from(L).sort();
  const at = (q: number): number => sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))]!;
  const edges = new Float64Array((SIDE - 2) ** 2);
  let m = 0;
  for (let y = 1; y < SIDE - 1; y++)
    for (let x = 1; x < SIDE - 1; x++) {
      const i = y * SIDE + x;
      edges[m++] = Math.abs(4 * L[i]! - L[i - 1]! - L[i + 1]! - L[i - SIDE]! - L[i + SIDE]!);
    }
  const few = largest(edges, Math.ceil(m / 100));
  const sharp = few.reduce((t, v) => t + v, 0) / few.length;
  const measures = { bright: at(0.9), range: at(0.95) - at(0.05), sharp };
  const notes: string[] = [];
  if (kind === 'photo') {
    if (measures.bright < DARK)
      notes.push('The picture is very dark, so fur and ground run together; take it again with light from the side.');
    else if (measures.range < FLAT)
      notes.push('Light and dark hardly differ in the picture; take it again in clearer light, from the side.');
    if (sharp < SOFT) notes.push('The picture is blurred; hold the camera still, or take it from nearer.');
  }
  if (Math.min(...picture.source.crop.slice(2)) < 200 && picture.source.format !== 'svg')
    notes.push('The picture is small; eyes and other fine parts may be missed: use the original file if there is one.');
  return { notes, measures };
}
