// Takes the bytes of a JPEG, PNG, GIF, WebP, TIFF, AVIF or HEIC picture, gives it upright, in sRGB, at working size.
// Shrinks while decoding, so that a picture of 200 million pixels stays within a few hundred MB.
import sharp, { type OutputInfo, type Sharp } from 'sharp';
import { ApartError } from '../apart/run-apart.ts';
import { UserError } from '../problems/problem.ts';
import { decodeHeic } from './decode-heic.ts';
import { type Decoded, LEAST_SIDE, workingSize } from './decoded.ts';
import type { Format } from './detect-format.ts';

const MILLION = 1e6;
/** Most pixels of any picture. */
const MOST_MILLIONS = 268;
/** Most pixels a format may have: those that can only be decoded whole get less, to stay within 1 GB. */
const MOST_PIXELS: Record<Exclude<Format, 'svg' | 'svgz'>, number> = {
  jpeg: MOST_MILLIONS * MILLION,
  png: MOST_MILLIONS * MILLION,
  tiff: MOST_MILLIONS * MILLION,
  webp: 120 * MILLION,
  gif: 100 * MILLION,
  avif: 80 * MILLION,
  heic: 64 * MILLION,
};
/** only what hangs takes so long, also on a machine with other work */
const SECONDS = 60;

const LABEL: Record<Exclude<Format, 'svg' | 'svgz'>, string> = {
  heic: 'HEIC',
  avif: 'AVIF',
  jpeg: 'JPEG',
  png: 'PNG',
  gif: 'GIF',
  webp: 'WebP',
  tiff: 'TIFF',
};

const open = (bytes: Uint8Array, failOn: 'warning' | 'truncated'): Sharp =>
  sharp(bytes, { failOn, limitInputPixels: MOST_MILLIONS * MILLION, sequentialRead: true });

/** Throws UserError that names the file, the reason and what to do. */
export async function decodeRaster(
  bytes: Uint8Array,
  name: string,
  format: Exclude<Format, 'svg' | 'svgz'>,
): Promise<Decoded> {
  const damaged = new UserError('damaged-picture', { file: name, format: LABEL[format] });
  const meta = await open(bytes, 'truncated')
    .metadata()
    .catch((error: Error) => {
      if (/pixel limit/i.test(error.message))
        throw new UserError('too-many-pixels', { file: name, mostMillions: MOST_MILLIONS });
      throw damaged;
    });
  const turned = (meta.orientation ?? 1) >= 5 && format !== 'heic';
  const [width, height] = turned ? [meta.height, meta.width] : [meta.width, meta.height];
  if (!width || !height) throw damaged;
  if (width * height > MOST_PIXELS[format])
    throw new UserError('too-many-pixels-for-format', {
      file: name,
      pixels: [width, height],
      format: LABEL[format],
      mostMillions: MOST_PIXELS[format] / MILLION,
    });
  if (Math.min(width, height) < LEAST_SIDE)
    throw new UserError('too-few-pixels', { file: name, pixels: [width, height], least: LEAST_SIDE });
  const notes: string[] = [];
  if ((meta.pages ?? 1) > 1 && format !== 'heic')
    notes.push(`The file holds ${meta.pages} pictures; the first is used.`);
  let source = bytes;
  let pixels: [number, number] = [width, height];
  if (format === 'heic') {
    try {
      const heic = await decodeHeic(bytes, meta.icc as Buffer | undefined, (width * height) / MILLION);
      source = heic.png;
      pixels = heic.pixels;
    } catch (e) {
      throw e instanceof ApartError && e.reason === 'slow' ? new UserError('takes-too-long', { file: name }) : damaged;
    }
  }
  const [w, h] = workingSize(pixels[0], pixels[1]);
  // A turn needs the whole picture in memory: a huge one is shrunk first (JPEG shrinks while it is read).
  const huge = width * height > 60 * MILLION && format !== 'jpeg' && (meta.orientation ?? 1) > 1;
  const read = async (failOn: 'warning' | 'truncated'): Promise<{ data: Buffer; info: OutputInfo }> => {
    let image = open(source, failOn).timeout({ seconds: SECONDS });
    if (huge) {
      const [sw, sh] = turned ? [h, w] : [w, h];
      const small = await image.resize(sw, sh, { fit: 'fill' }).keepMetadata().png({ compressionLevel: 1 }).toBuffer();
      image = sharp(small);
    } else if (turned && width * height <= 64 * MILLION) {
      // a quarter turn is made before shrinking: the other way round the last bit of a pixel may come out otherwise
      const upright = await image.autoOrient().keepIccProfile().tiff({ compression: 'none' }).toBuffer();
      image = sharp(upright);
    }
    return image
      .autoOrient()
      .resize(w, h, { fit: 'fill' })
      .toColourspace('srgb')
      .ensureAlpha()
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
  };
  let result = await read('warning').catch(() => undefined);
  if (!result) {
    // Many a camera writes files that decode whole but with a complaint; only what is missing is refused.
    result = await read('truncated').catch((error: Error) => {
      if (/timeout/i.test(error.message)) throw new UserError('takes-too-long', { file: name });
      throw damaged;
    });
    notes.push('The file is damaged in places; look whether the picture is whole.');
  }
  if (result.info.channels !== 4) throw new Error(`decoded to ${result.info.channels} channels`);
  return { width: result.info.width, height: result.info.height, rgba: result.data, pixels, notes };
}
