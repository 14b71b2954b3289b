// 1. A file's bytes -> the part of the picture that the block shows.
import type { Picture } from '../data.ts';
import type { SubjectBox } from '../picture/choose-crop.ts';
import { type OpenedPicture, openPicture, showPart, squareSheet } from '../picture/read-picture.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';
import { findKind, type Kind } from '../shade/find-kind.ts';
import { boxOfGuess, type Frame, type Guess, guessSubject } from '../shade/find-subject.ts';
import { type Cloth, measureCloth } from '../shade/read-cloths.ts';
import type { SeenPicture } from '../shade/see-picture.ts';
import { type Beside, type Progress, quiet } from './work.ts';

/** A picture that has been read once, for shadings with several settings. Can be handed to another thread. */
export interface ReadPicture {
  readonly picture: Picture;
  /** where the subject was seen, if it was looked for */
  readonly guess?: Guess;
  readonly frame?: Frame;
  /** a box about the subject, in pixels of the upright picture: the frame, or about what was seen */
  readonly subject?: Frame;
  /** what does not depend on the number of shades, if it has been worked out already */
  readonly seen?: SeenPicture;
}

type ReadSettings = Pick<Settings, 'size' | 'background' | 'kind' | 'crop' | 'sheet' | 'subject'>;

/** Does not depend on the number of shades or pieces. Throws UserError for what is no picture. */
export async function readPicture(
  bytes: Uint8Array,
  fileName: string,
  settings: ReadSettings,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<ReadPicture> {
  progress.stage('reading the picture');
  const find: typeof findSubject = (opened, frame, kind) => findSubject(opened, frame, kind, beside);
  return readPart(await openPicture(bytes, fileName), settings, progress, find);
}

/** The second half: of a picture that has been decoded already, the part that the block shows. */
export async function readPart(
  whole: OpenedPicture,
  settings: ReadSettings,
  progress: Progress = quiet,
  /** asked for the subject of the whole picture: someone may know it already */
  find: typeof findSubject = findSubject,
): Promise<ReadPicture> {
  const { crop, background, kind, sheet, subject } = settings;
  const pointed = subject !== null || Array.isArray(crop);
  const square = sheet !== 'no' && (sheet !== 'auto' || !pointed);
  const opened = square ? squareSheet(whole, sheet === 'auto' ? undefined : sheet) : whole;
  const aspect = settings.size[0] / settings.size[1];
  const frame = subject ? inPixels(subject, opened) : undefined;
  const byHand = crop === 'auto' || crop === 'middle' ? {} : { crop };
  let guess: Guess | undefined;
  let around: SubjectBox | undefined = frame && { box: frame, cut: [false, false, false, false] };
  // the subject is looked for where something is to be done about it: in the whole picture, before it is cropped
  if (seeksSubject(settings)) {
    progress.stage('finding the subject');
    guess = await find(opened, frame, kind === 'auto' ? undefined : kind);
    around ??= guess && boxOfGuess(guess);
  }
  const picture = await showPart(opened, {
    ...{ aspect, ...byHand, beyond: background === 'plain' },
    ...(around && !('crop' in byHand) && { around }),
  });
  return {
    picture,
    ...(guess && { guess }),
    ...(frame && { frame }),
    ...(around && { subject: around.box }),
  };
}

/** Whether the subject of a photo is looked for in the whole picture: not where a part of it was drawn by hand. */
const seeksSubject = ({ crop, subject, background }: ReadSettings): boolean =>
  !Array.isArray(crop) && (crop === 'auto' || subject !== null || background !== 'keep');

/** All of the picture, as the subject is looked for in it. */
const showWhole = (opened: OpenedPicture): Promise<Picture> =>
  showPart(opened, { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] });

/** Where the subject of a photo is: undefined where it is none, or nothing stands out. */
export async function findSubject(
  opened: OpenedPicture,
  frame?: Frame,
  kind?: Kind,
  beside?: Pick<Beside, 'network'>,
): Promise<Guess | undefined> {
  const whole = await showWhole(opened);
  return (kind ?? findKind(whole).kind) === 'photo' ? guessSubject(whole, frame, beside?.network) : undefined;
}

/** A box given as shares of the picture or in its pixels, in pixels. */
function inPixels(box: Frame, { pixels, name }: OpenedPicture): Frame {
  const [sx, sy] = box.every((v) => v <= 1) ? pixels : [1, 1];
  const [x, y, w, h] = [box[0] * sx, box[1] * sy, box[2] * sx, box[3] * sy];
  if (w < 1 || h < 1 || x + w > pixels[0] + 1 || y + h > pixels[1] + 1)
    throw new UserError('outside-picture', { field: 'subject', box, file: name, pixels }, 2);
  return [x, y, w, h];
}

/** A snapshot of a cloth -> its colour. */
export async function readCloth(bytes: Uint8Array, fileName: string): Promise<Cloth> {
  const opened = await openPicture(bytes, fileName, true);
  const whole = { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] as const, maxSide: 256 };
  return measureCloth(await showPart(opened, whole), fileName);
}
