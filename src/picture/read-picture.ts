// Stage 1. Takes a file's bytes, gives the part of the picture that the block shows: upright, sRGB, alpha laid on white.
// Whatever is wrong with the file ends in one sentence for the person; nothing outside the file is read.
import { createHash } from 'node:crypto';
import sharp from 'sharp';
import type { Picture } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { type Box, chooseCrop, chosenCrop, cropAround, type SubjectBox } from './choose-crop.ts';
import { cutTurned } from './cut-turned.ts';
import { decodeRaster } from './decode-raster.ts';
import type { Decoded } from './decoded.ts';
import { LEAST_SIDE } from './decoded.ts';
import { detectFormat } from './detect-format.ts';
import { type Corners, findSheet } from './find-sheet.ts';
import { squareUp } from './square-up.ts';

export interface ReadOptions {
  /** block width / height */
  readonly aspect: number;
  /** what to show, [x, y, width, height]: fractions of the upright picture where all are at most 1, else its pixels */
  readonly crop?: Box;
  /** what to show instead, with room around it */
  readonly around?: SubjectBox;
  /** just this instead: pixels of the upright picture, turned clockwise about its middle by so many degrees; it may reach beyond the
   *  picture, where its rim goes on. Of the aspect already */
  readonly exact?: { readonly box: Box; readonly turn: number };
  /** whether the room may reach outside the picture, because the ground becomes one fabric anyway */
  readonly beyond?: boolean;
  /** most pixels along the longer side of the result, 1024: five a cell of the usual grid */
  readonly maxSide?: number;
}

/** Colours that differ by less than this in every channel are one colour to the eye. */
const BLANK = 10;

/** Whether all of a picture is of one colour, as far as the eye would tell. */
function isEven(rgb: Uint8Array): boolean {
  for (let c = 0; c < 3; c++) {
    let least = 255;
    let most = 0;
    for (let i = c; i < rgb.length; i += 3) {
      const v = rgb[i]!;
      if (v < least) least = v;
      if (v > most) most = v;
      if (most - least >= BLANK) return false;
    }
  }
  return true;
}

/** Lays the picture on white. A white drawing on clear ground would vanish there: it is laid on grey, and that is said. */
function layOnWhite(decoded: Decoded, name: string, notes: string[], even: boolean): Uint8Array {
  const { rgba } = decoded;
  const n = rgba.length / 4;
  const rgb = new Uint8Array(3 * n);
  const lay = (ground: number): boolean => {
    for (let i = 0, o = 0; o < rgb.length; i += 4, o += 3) {
      const alpha = rgba[i + 3]!;
      for (let c = 0; c < 3; c++) {
        const own = rgba[i + c]!;
        rgb[o + c] = alpha === 255 ? own : Math.round(own * (alpha / 255) + ground * (1 - alpha / 255));
      }
    }
    return isEven(rgb);
  };
  if (!lay(255) || even) return rgb;
  let least = 255;
  let most = 0;
  for (let i = 3; i < rgba.length; i += 4) {
    least = Math.min(least, rgba[i]!);
    most = Math.max(most, rgba[i]!);
  }
  if (most === 0)
    throw new UserError(decoded.notes.length ? 'picture-in-other-files' : 'all-transparent', { file: name });
  if (most - least < BLANK || lay(128)) throw new UserError('all-one-colour', { file: name });
  notes.push('The picture is white on a clear ground; it was laid on grey.');
  return rgb;
}

/** Cuts the box out, goes on with the ground where it reaches outside, and brings it to its final size. */
async function cut(
  rgb: Uint8Array,
  width: number,
  height: number,
  box: Box,
  ground: readonly [number, number, number],
  aspect: number,
  maxSide: number,
): Promise<{ pixels: Uint8Array; width: number; height: number }> {
  const [x0, y0] = [Math.round(box[0]), Math.round(box[1])];
  const w = Math.max(1, Math.round(box[2]));
  const h = Math.max(1, Math.round(box[3]));
  const out = new Uint8Array(3 * w * h);
  const within = x0 >= 0 && y0 >= 0 && x0 + w <= width && y0 + h <= height;
  if (!within) for (let i = 0; i < 3 * w * h; i++) out[i] = ground[i % 3]!;
  const [from, to] = [Math.max(0, x0), Math.min(width, x0 + w)];
  for (let y = Math.max(0, y0); y < Math.min(height, y0 + h); y++)
    out.set(rgb.subarray(3 * (y * width + from), 3 * (y * width + to)), 3 * ((y - y0) * w + from - x0));
  const long = Math.min(maxSide, Math.max(w, h));
  const fw = Math.max(1, Math.round(aspect >= 1 ? long : long * aspect));
  const fh = Math.max(1, Math.round(aspect >= 1 ? long / aspect : long));
  if (fw === w && fh === h) return { pixels: out, width: w, height: h };
  const data = await sharp(out, { raw: { width: w, height: h, channels: 3 } })
    .resize(fw, fh, { fit: 'fill' })
    .raw()
    .toBuffer();
  return { pixels: new Uint8Array(data), width: fw, height: fh };
}

/** A whole upright picture in memory, from which parts can be shown. */
export interface OpenedPicture {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  /** width x height x 3 */
  readonly rgb: Uint8Array;
  /** of the upright picture in the file */
  readonly pixels: readonly [width: number, height: number];
  readonly sha256: string;
  readonly format: string;
  readonly notes: readonly string[];
  /** where it was cut from the upright picture and squared up: the sheet's corners, as shares of that */
  readonly sheet?: readonly number[];
}

/** House rule: a washed-out spot of this share of a sheet is worth a word. */
const GLARE = 0.004;

/** sheets that were looked for, by their picture: on the page it is asked after every change of the frame */
const lookedFor = new WeakMap<OpenedPicture, OpenedPicture>();

/** A photo of a paper print, a drawing or a screen as the sheet alone, seen from straight above; the picture itself where it
 *  shows none. `corners` are those to take, as shares of the upright picture; else they are looked for. */
export function squareSheet(opened: OpenedPicture, corners?: Corners): OpenedPicture {
  const known = corners ? undefined : lookedFor.get(opened);
  if (known) return known;
  const squared = squareUpSheet(opened, corners);
  if (!corners) lookedFor.set(opened, squared);
  return squared;
}

function squareUpSheet(opened: OpenedPicture, corners?: Corners): OpenedPicture {
  const { width, height, rgb, pixels, format } = opened;
  const size = [width, height];
  if (!corners && format === 'svg') return opened;
  const found = corners
    ? (corners.map((v, i) => v * size[i % 2]!) as unknown as Corners)
    : findSheet(rgb, width, height);
  if (!found) return opened;
  const squared = squareUp(rgb, width, height, found);
  if (Math.min(squared.width, squared.height) < LEAST_SIDE)
    throw new UserError(
      'sheet-too-small',
      { field: 'sheet', pixels: [squared.width, squared.height], file: opened.name },
      2,
    );
  const scale = pixels[0] / width;
  const notes = [...opened.notes];
  if (!corners)
    notes.push(
      'The picture was taken for a photo of a sheet and squared up; it can also be shown as it is, table and all.',
    );
  if (squared.glare > GLARE)
    notes.push('Glare hides a part of the sheet; take it again with the light from the side, without flash.');
  return {
    ...{ name: opened.name, sha256: opened.sha256, format, notes },
    ...{ width: squared.width, height: squared.height, rgb: squared.rgb },
    pixels: [Math.round(squared.width * scale), Math.round(squared.height * scale)],
    sheet: found.map((v, i) => Math.round((1e4 * v) / size[i % 2]!) / 1e4),
  };
}

/** Opens a picture of any usual kind, told by its content. Throws UserError (exit 1) that names the file. One colour all over
 *  is nothing to sew, but may be a swatch of `cloth`. */
export async function openPicture(bytes: Uint8Array, name: string, cloth = false): Promise<OpenedPicture> {
  const format = detectFormat(bytes, name);
  const decoded =
    format === 'svg' || format === 'svgz'
      ? await (await import('./decode-svg.ts')).decodeSvg(bytes, name, format === 'svgz')
      : await decodeRaster(bytes, name, format);
  const { width, height, pixels } = decoded;
  const notes = [...decoded.notes];
  const rgb = layOnWhite(decoded, name, notes, cloth);
  return {
    ...{ name, width, height, rgb, pixels, notes },
    sha256: createHash('sha256').update(bytes).digest('hex'),
    format: format === 'svgz' ? 'svg' : format,
  };
}

/** Opens a picture and shows the part of it that a block is to have. */
export async function readPicture(bytes: Uint8Array, name: string, options: ReadOptions): Promise<Picture> {
  return showPart(await openPicture(bytes, name), options);
}

/** The least pixels along the longer side of an exact part: two a cell of the usual grid, so that a small head is enlarged smoothly. */
const LEAST_EXACT = 400;

function showExact(opened: OpenedPicture, { box, turn }: NonNullable<ReadOptions['exact']>, maxSide: number): Picture {
  const { width, height, rgb, pixels } = opened;
  const scale = width / pixels[0];
  const inWork = box.map((v) => v * scale) as unknown as Box;
  const long = Math.max(inWork[2], inWork[3]);
  const k = Math.min(maxSide, Math.max(LEAST_EXACT, long)) / long;
  const [w, h] = [Math.max(1, Math.round(inWork[2] * k)), Math.max(1, Math.round(inWork[3] * k))];
  return {
    ...{ width: w, height: h, pixels: cutTurned(rgb, width, height, inWork, turn, w, h) },
    source: {
      ...{ sha256: opened.sha256, pixels, crop: box.map(Math.round) as unknown as Box, format: opened.format },
      ...(turn && { turn }),
      ...(opened.sheet && { sheet: opened.sheet }),
    },
    notes: opened.notes,
  };
}

/** The part of a picture that a block shows. Throws UserError where too little would be left. */
export async function showPart(opened: OpenedPicture, options: ReadOptions): Promise<Picture> {
  if (options.exact) return showExact(opened, options.exact, options.maxSide ?? 1024);
  const { name, width, height, rgb, pixels } = opened;
  const notes = [...opened.notes];
  const scale = width / pixels[0];
  const { aspect } = options;
  let box: Box | undefined;
  let ground: readonly [number, number, number] = [255, 255, 255];
  // a subject that does not fit into the picture's part is shown as any picture is
  const around = options.around && cropAround(options.around, pixels, aspect, options.beyond === true);
  const whole = around && options.around.box[2] <= 1.02 * around[2] && options.around.box[3] <= 1.02 * around[3];
  if (around && whole) {
    box = around.map((v) => v * scale) as unknown as Box;
  } else if (options.crop) {
    box = chosenCrop(options.crop, pixels, scale, aspect);
    if (!box) throw new UserError('outside-picture', { field: 'crop', box: options.crop, file: name, pixels }, 2);
  } else {
    const chosen = chooseCrop(rgb, width, height, aspect);
    box = chosen.box;
    ground = chosen.ground ?? ground;
    const over = Math.max(-box[0], -box[1], box[0] + box[2] - width, box[1] + box[3] - height);
    if (over > 1) notes.push("The picture's plain ground was extended to fit the block's shape.");
  }
  if (Math.min(box[2], box[3]) < LEAST_SIDE)
    throw new UserError('too-narrow-for-block', { file: name, left: Math.round(Math.min(box[2], box[3])) });
  const shown = await cut(rgb, width, height, box, ground, aspect, options.maxSide ?? 1024);
  const round = (v: number): number => Math.round(v / scale);
  return {
    ...shown,
    source: {
      sha256: opened.sha256,
      pixels,
      crop: [round(box[0]), round(box[1]), round(box[2]), round(box[3])],
      format: opened.format,
      ...(opened.sheet && { sheet: opened.sheet }),
    },
    notes,
  };
}

/** All of a picture, whatever shape the block has. */
export const showWhole = (opened: OpenedPicture): Promise<Picture> =>
  showPart(opened, { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] });
