// Takes the bytes of a JPEG, PNG, GIF, WebP, TIFF, AVIF or HEIC picture, gives it upright, in sRGB, at working size. Decoded in a process
// of its own: a file that crashes a decoder, hangs it or makes it grow costs that process and no other, and the whole of a large
// picture is never in this one's memory. It shrinks while decoding, so that a picture of 200 million pixels stays within 1 GB.
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import sharp from 'sharp';
import { ApartError, runApart, SECONDS } from '../apart/run-apart.ts';
import { UserError } from '../problems/problem.ts';
import { type Decoded, LEAST_SIDE, WORKING_LONG, WORKING_SHORT } from './decoded.ts';
import type { Format } from './detect-format.ts';
import { RASTER_SCRIPT, type RasterAnswer, type RasterTask } from './raster-script.ts';

type Raster = Exclude<Format, 'svg' | 'svgz'>;

const MILLION = 1e6;
/** Most pixels of any picture. */
const MOST_MILLIONS = 268;
/** Most millions of pixels a format may have: those that can only be decoded whole get less, to stay within 1 GB. */
const MOST_OF_FORMAT: Record<Raster, number> = {
  jpeg: MOST_MILLIONS,
  png: MOST_MILLIONS,
  tiff: MOST_MILLIONS,
  webp: 120,
  gif: 100,
  avif: 80,
  heic: 64,
};
/** Processor time of a million pixels, several times what they take: a phone's HEIC of 12 million takes some three seconds. */
const SECONDS_A_MILLION = 0.75;
/** What the system stops for good, where the process itself cannot count. */
const MOST_SECONDS = 60;
const MEGABYTES = 1000;

const LABEL: Record<Raster, string> = {
  heic: 'HEIC',
  avif: 'AVIF',
  jpeg: 'JPEG',
  png: 'PNG',
  gif: 'GIF',
  webp: 'WebP',
  tiff: 'TIFF',
};

/** Throws UserError that names the file, the reason and what to do. */
export async function decodeRaster(bytes: Uint8Array, name: string, format: Raster): Promise<Decoded> {
  const { answer, rgba } = await decodeApart(bytes, name, format);
  const { fate, pixels, width, height, pages } = answer;
  switch (fate) {
    case 'damaged':
      throw new UserError('damaged-picture', { file: name, format: LABEL[format] });
    case 'slow':
      throw new UserError('takes-too-long', { file: name });
    case 'over-limit':
      throw new UserError('too-many-pixels', { file: name, mostMillions: MOST_MILLIONS });
    case 'over-format': {
      const most = { format: LABEL[format], mostMillions: MOST_OF_FORMAT[format] };
      throw new UserError('too-many-pixels-for-format', { file: name, pixels: pixels!, ...most });
    }
    case 'too-small':
      throw new UserError('too-few-pixels', { file: name, pixels: pixels!, least: LEAST_SIDE });
  }
  if (rgba.length !== 4 * width! * height!) throw new Error(`decoded to ${rgba.length} bytes`);
  const notes: string[] = [];
  if (pages! > 1 && format !== 'heic') notes.push(`The file holds ${pages} pictures; the first is used.`);
  if (answer.doubtful) notes.push('The file is damaged in places; look whether the picture is whole.');
  return { width: width!, height: height!, rgba, pixels: pixels!, notes };
}

async function decodeApart(
  bytes: Uint8Array,
  name: string,
  format: Raster,
): Promise<{ answer: RasterAnswer; rgba: Uint8Array }> {
  const require = createRequire(import.meta.url);
  const module = require.resolve('sharp');
  const task: RasterTask = {
    heic: format === 'heic',
    sharp: pathToFileURL(module).href,
    heicDecode: pathToFileURL(require.resolve('heic-decode')).href,
    concurrency: sharp.concurrency(),
    ...{ most: MOST_MILLIONS * MILLION, mostOfFormat: MOST_OF_FORMAT[format] * MILLION, leastSide: LEAST_SIDE },
    ...{ workingShort: WORKING_SHORT, workingLong: WORKING_LONG },
    ...{ seconds: SECONDS, secondsAMillion: SECONDS_A_MILLION },
  };
  const limits = { seconds: MOST_SECONDS, megabytes: MEGABYTES, module, native: true };
  try {
    const said = await runApart(RASTER_SCRIPT, [JSON.stringify(task)], bytes, limits);
    const end = said.indexOf(10);
    const answer = JSON.parse(said.subarray(0, end).toString()) as RasterAnswer;
    return { answer, rgba: said.subarray(end + 1) };
  } catch (e) {
    if (!(e instanceof ApartError) || e.reason === 'unloaded') throw e;
    if (e.reason === 'slow') throw new UserError('takes-too-long', { file: name });
    if (e.reason === 'large') throw new UserError('takes-too-much-memory', { file: name });
    throw new UserError('damaged-picture', { file: name, format: LABEL[format] });
  }
}
