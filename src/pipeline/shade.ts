// 2. The part of the picture -> the grid of fabrics.
import type { Picture } from '../data.ts';
import type { Settings } from '../settings/settings.ts';
import type { KindFound } from '../shade/find-kind.ts';
import { type SeenBefore, seePicture } from '../shade/see-picture.ts';
import { type ShadeOptions, type ShadingFound, shadePicture } from '../shade/shade-picture.ts';
import { type ReadPicture, readPicture } from './read.ts';
import { type Beside, type Progress, quiet } from './work.ts';

/** 1-2: a file's bytes -> the grid of fabrics. */
export async function shadeFile(
  bytes: Uint8Array,
  fileName: string,
  settings: Settings,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<{ picture: Picture; shading: ShadingFound; kind: KindFound }> {
  const read = await readPicture(bytes, fileName, settings, progress, beside);
  const shading = await shade(read, settings, progress, beside);
  return { picture: read.picture, shading, kind: shading.kind };
}

/** First half: what several numbers of shades have in common. */
export async function see(
  read: ReadPicture,
  settings: Settings,
  known?: SeenBefore,
  grid?: number,
): Promise<ReadPicture> {
  const options = { ...shadeOptions(read, settings), ...(grid && { grid }) };
  return { ...read, seen: await seePicture(read.picture, options, undefined, known) };
}

/** Second half, or the whole where nobody has looked at it before. */
export async function shade(
  read: ReadPicture,
  settings: Settings,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<ShadingFound> {
  progress.stage('choosing shades');
  const options = shadeOptions(read, settings);
  const report = (d: number): void => progress.done(d);
  const seen =
    read.seen ?? (await seePicture(read.picture, options, report, beside && { networkBeside: beside.network }));
  return shadePicture(read.picture, options, report, seen);
}

/** What of the settings the shades depend on, as the stage takes it: what is found automatically is absent. */
export function shadeOptions({ guess, frame }: ReadPicture, settings: Settings): ShadeOptions {
  const { size, smallest, shades, seed, kind, lines, tone, focus, background, cloths, again } = settings;
  return {
    ...{ size, smallest, shades, background, seed },
    ...(kind !== 'auto' && { kind }),
    ...(lines !== 'auto' && { lines }),
    ...(tone !== 'auto' && { tone }),
    ...(focus !== 'auto' && { focus }),
    ...(cloths.length && { cloths, again }),
    ...(guess && { guess }),
    ...(frame && { frame }),
  };
}
