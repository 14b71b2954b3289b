// 1. A file's bytes -> the whole upright picture; a photo of a sheet is squared up.
import { type OpenedPicture, openPicture, showPart, squareSheet } from '../picture/read-picture.ts';
import type { Settings } from '../settings/settings.ts';
import { type Cloth, measureCloth } from '../shade/read-cloths.ts';
import { type Progress, quiet } from './work.ts';

/** Throws UserError for what is no picture. */
export async function openFile(
  bytes: Uint8Array,
  fileName: string,
  settings: Pick<Settings, 'sheet' | 'crop' | 'subject'>,
  progress: Progress = quiet,
): Promise<OpenedPicture> {
  progress.stage('reading the picture');
  return squareUp(await openPicture(bytes, fileName), settings);
}

/** A photo of a sheet as the sheet: where its corners are given, or where it is found and nothing was pointed at in the photo. */
export function squareUp(
  whole: OpenedPicture,
  { sheet, crop, subject }: Pick<Settings, 'sheet' | 'crop' | 'subject'>,
): OpenedPicture {
  const pointed = subject !== null || Array.isArray(crop);
  const square = sheet !== 'no' && (sheet !== 'auto' || !pointed);
  return square ? squareSheet(whole, sheet === 'auto' ? undefined : sheet) : whole;
}

/** A snapshot of a cloth -> its colour. */
export async function readCloth(bytes: Uint8Array, fileName: string): Promise<Cloth> {
  const opened = await openPicture(bytes, fileName, true);
  const whole = { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] as const, maxSide: 256 };
  return measureCloth(await showPart(opened, whole), fileName);
}
