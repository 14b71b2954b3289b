// A first look at the shades: of a small copy of the picture, on half the grid, laid out on the whole one for the fit. A third of
// the time, and less where the copy has been looked at before; the full block is fitted to the shades as they are.
import sharp from 'sharp';
import type { Shading } from '../../data.ts';
import type { ReadPicture } from '../../pipeline/figure.ts';
import { see, shade } from '../../pipeline/shade.ts';
import type { Settings } from '../../settings/settings.ts';
import type { SeenBefore } from '../../shade/see-picture.ts';
import type { ShadingFound } from '../../shade/shade-picture.ts';

/** pixels along the longer side of the copy, four a cell */
const SIDE = 384;
/** cells along the longer side */
const GRID = 96;

/** A small copy of what the block shows, and what all numbers of shades have in common: plain data. */
export async function sketchRead(read: ReadPicture, settings: Settings, known: SeenBefore = {}): Promise<ReadPicture> {
  const { width, height, pixels } = read.picture;
  const scale = Math.min(1, SIDE / Math.max(width, height));
  const [w, h] = [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
  const small = await sharp(pixels, { raw: { width, height, channels: 3 } })
    .resize(w, h, { fit: 'fill' })
    .raw()
    .toBuffer();
  const picture = { ...read.picture, width: w, height: h, pixels: new Uint8Array(small) };
  return see({ ...read, picture }, settings, known, GRID);
}

export const sketchShading = async (small: ReadPicture, settings: Settings): Promise<ShadingFound> =>
  twice(await shade(small, settings, undefined, undefined, GRID));

/** Each cell as four. */
function twice<S extends Shading>(shading: S): S {
  const { width: w, height: h, labels, weights } = shading;
  const from = (i: number): number => (Math.floor(i / (2 * w)) >> 1) * w + ((i % (2 * w)) >> 1);
  return {
    ...shading,
    width: 2 * w,
    height: 2 * h,
    labels: Uint8Array.from({ length: 4 * w * h }, (_, i) => labels[from(i)]!),
    ...(weights && { weights: Float32Array.from({ length: 4 * w * h }, (_, i) => weights[from(i)]!) }),
  };
}
