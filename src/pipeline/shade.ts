// 2. The part of the picture -> the grid of fabrics.
import type { Picture } from '../data.ts';
import type { Settings } from '../settings/settings.ts';
import type { KindFound } from '../shade/find-kind.ts';
import { type SeenBefore, seePicture } from '../shade/see-picture.ts';
import { type FigureShading, shadeFigure } from '../shade/shade-figure.ts';
import { type ShadeOptions, type ShadingFound, shadePicture } from '../shade/shade-picture.ts';
import { type ReadPicture, readPicture } from './figure.ts';
import { type Beside, type Progress, quiet } from './work.ts';

/** 1-2: a file's bytes -> the grid of fabrics. */
export async function shadeFile(
  bytes: Uint8Array,
  fileName: string,
  settings: Settings,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<{ picture: Picture; shading: ShadingFound; kind: KindFound; read: ReadPicture }> {
  const read = await readPicture(bytes, fileName, settings, progress, beside);
  const shading = await shade(read, settings, progress, beside);
  return { picture: read.picture, shading, kind: shading.kind, read };
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
  grid?: number,
): Promise<ShadingFound> {
  progress.stage('choosing shades');
  const options = { ...shadeOptions(read, settings), ...(grid && { grid }) };
  const report = (d: number): void => progress.done(d);
  const seen =
    read.seen ?? (await seePicture(read.picture, options, report, beside && { networkBeside: beside.network }));
  const { figure, face, background } = read;
  // an animal before one ground is a portrait; all else is shown as the picture has it
  if (!figure || !face || seen.kind.kind !== 'photo' || (background !== 'plain' && !face.shapes.length))
    return shadePicture(read.picture, options, report, seen);
  const pieces = settings.grow[0] ?? settings.pieces;
  const shading = await shadeFigure(
    read.picture,
    { ...options, pieces },
    seen,
    face,
    settings.backgroundColour || undefined,
    report,
  );
  return { ...shading, notes: [...figureNotes(read, shading), ...shading.notes] };
}

/** What the person should know of the animal, before all else. */
function figureNotes({ figure, missing = [] }: ReadPicture, { face, shows }: FigureShading): string[] {
  const notes: string[] = [];
  if (figure?.guess)
    notes.push('The eyes were not surely found, so none are drawn: place them, and the face will read.');
  if (missing.length)
    notes.push(`The face is not whole: ${missing.join('; ')}. Show more of the head, or place eyes and nose anew.`);
  if (face.faint.length)
    notes.push(`The ${list(face.faint)} will hardly stand out: no fabric is far enough from the fur around it.`);
  if (shows !== undefined && shows < LEAST_SHOWN)
    notes.push(
      `The background is near to the animal in lightness along ${Math.round(100 - 100 * shows)} % of its outline; choose another background color or fewer fabrics.`,
    );
  return notes;
}

/** share of the outline on which the background must stand out (trade rule 12, and a little room) */
const LEAST_SHOWN = 0.9;
const list = (words: readonly string[]): string => [...new Set(words)].join(' and ');

/** What of the settings the shades depend on, as the stage takes it: what is found automatically is absent. */
export function shadeOptions({ guess, frame, background, figure }: ReadPicture, settings: Settings): ShadeOptions {
  const { size, smallest, shades, seed, kind, lines, colours, tone, focus, cloths, again } = settings;
  return {
    ...{ size, smallest, shades, background, seed },
    ...(kind !== 'auto' && { kind }),
    // the whole picture told it, whatever its part looks like
    ...(figure && { kind: 'photo' as const }),
    ...(lines !== 'auto' && { lines }),
    ...(Object.keys(colours).length && { colours }),
    ...(tone !== 'auto' && { tone }),
    ...(focus !== 'auto' && { focus }),
    ...(cloths.length && { cloths, again }),
    ...(guess && { guess }),
    ...(frame && { frame }),
  };
}
