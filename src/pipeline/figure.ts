// 1-2. The whole picture -> the animal in it, and the part of the picture that the block shows.
import type { Figure, Picture, Show } from '../data.ts';
import { drawFace, type FaceDrawn, onBlock } from '../figure/draw-face.ts';
import { findFigure, type GivenPart } from '../figure/find-figure.ts';
import type { SubjectBox } from '../picture/choose-crop.ts';
import { type OpenedPicture, showPart } from '../picture/read-picture.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';
import type { Background } from '../shade/calm-ground.ts';
import { findFaces } from '../shade/find-faces.ts';
import { findKind, type Kind } from '../shade/find-kind.ts';
import { boxOfGuess, type Frame, type Guess, guessSubject } from '../shade/guess-subject.ts';
import type { SeenPicture } from '../shade/see-picture.ts';
import type { FaceOnBlock } from '../shade/shade-figure.ts';
import { turnGuess } from '../shade/turn-guess.ts';
import { openFile } from './read.ts';
import { type Beside, type Progress, quiet } from './work.ts';

/** A picture that has been read once, for shadings with several settings. Can be handed to another thread. */
export interface ReadPicture {
  readonly picture: Picture;
  /** what becomes of the background, now that it is known whether there is an animal before it */
  readonly background: Background;
  /** the animal, where one was looked for in a photo */
  readonly figure?: Figure;
  /** eyes and nose as they are to be drawn */
  readonly face?: FaceOnBlock;
  /** parts of the face that cannot be drawn, and why */
  readonly missing?: readonly string[];
  /** where the subject was seen, if it was looked for */
  readonly guess?: Guess;
  readonly frame?: Frame;
  /** a box about the subject, in pixels of the upright picture: the frame, or about what was seen */
  readonly subject?: Frame;
  /** what does not depend on the number of shades, if it has been worked out already */
  readonly seen?: SeenPicture;
}

export type FigureSettings = Pick<
  Settings,
  'size' | 'smallest' | 'background' | 'kind' | 'crop' | 'subject' | 'show' | 'eyes' | 'nose'
>;

/** What is known of a whole picture, whatever is set: where its subject is, and which faces a cascade sees. */
export interface Foreseen {
  readonly guess?: Guess;
  readonly faces: NonNullable<Parameters<typeof findFigure>[2]['faces']>;
}

/** 1: a file's bytes -> the part that the block shows. Does not depend on the number of shades. */
export async function readPicture(
  bytes: Uint8Array,
  fileName: string,
  settings: FigureSettings & Pick<Settings, 'sheet'>,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<ReadPicture> {
  const opened = await openFile(bytes, fileName, settings, progress);
  return findPart(opened, settings, progress, (whole, frame) => lookAhead(whole, frame, beside));
}

/** Of a picture that has been opened: its figure, and the part that the block shows. */
export async function findPart(
  opened: OpenedPicture,
  settings: FigureSettings,
  progress: Progress = quiet,
  /** asked what is known of the whole picture: someone may know it already */
  look: (whole: OpenedPicture, frame?: Frame) => Promise<Foreseen> = lookAhead,
): Promise<ReadPicture> {
  const { crop, subject, size } = settings;
  const aspect = size[0] / size[1];
  const frame = subject ? inPixels(subject, opened) : undefined;
  const framed: SubjectBox | undefined = frame && { box: frame, cut: [false, false, false, false] };
  const byHand = crop === 'auto' || crop === 'middle' ? undefined : crop;
  let ahead: Foreseen | undefined;
  if (seeksAnimal(settings) && (await kindOf(opened, settings)) === 'photo') {
    progress.stage('finding the animal');
    ahead = await look(opened, frame);
  }
  const guess = ahead?.guess;
  const figure = ahead && findFigure(opened, guess, figureOptions(settings, aspect, ahead));
  const show = figure?.show ?? 'picture';
  const background = groundOf(settings.background, show, guess !== undefined || frame !== undefined);
  const around = framed ?? (guess && boxOfGuess(guess));
  const picture =
    figure?.crop && crop === 'auto'
      ? await showPart(opened, { aspect, exact: figure.crop })
      : await showPart(opened, {
          ...{ aspect, beyond: background === 'plain' },
          ...(byHand && { crop: byHand }),
          ...(around && crop === 'auto' && (show !== 'picture' || frame) && { around }),
        });
  const { crop: shown, turn = 0, pixels } = picture.source;
  const drawn = figure && drawFace(figure, { crop: shown, turn, pixels }, size, settings.smallest);
  const turned = guess && turn ? turnGuess(guess, shown, turn, pixels) : guess;
  return {
    ...{ picture, background },
    ...(figure && { figure, face: onFace(figure, drawn!, picture), missing: drawn!.missing }),
    ...(turned && { guess: turned }),
    ...(frame && { frame }),
    ...(around && { subject: around.box }),
  };
}

/** Where the animal in a photo is, and which faces are seen in it: independent of all settings but a frame about it. */
export async function lookAhead(
  opened: OpenedPicture,
  frame?: Frame,
  beside?: Pick<Beside, 'network'>,
): Promise<Foreseen> {
  const whole = await showWhole(opened);
  const guess = await guessSubject(whole, frame, beside?.network);
  return { faces: await findFaces(whole), ...(guess && { guess }) };
}

/** Whether anything is to be done about the animal: not where all was set to leave the picture as it is. */
const seeksAnimal = ({ show, crop, background, eyes, nose, subject }: FigureSettings): boolean =>
  !(background === 'keep' && (show === 'picture' || crop === 'middle') && !subject && !placed(eyes) && !placed(nose));

const placed = (spots: Settings['eyes']): boolean => spots !== 'auto' && spots.length > 0;

export async function kindOf(opened: OpenedPicture, { kind }: Pick<Settings, 'kind'>): Promise<Kind> {
  return kind === 'auto' ? findKind(await showWhole(opened)).kind : kind;
}

function figureOptions(
  { show, crop, eyes, nose, subject }: FigureSettings,
  aspect: number,
  { faces }: Foreseen,
): Parameters<typeof findFigure>[2] {
  // what was pointed at by a frame or a crop is shown, whatever face is in it
  const asked: Show | 'auto' = show !== 'auto' ? show : crop !== 'auto' ? 'picture' : subject ? 'animal' : 'auto';
  return {
    ...{ aspect, faces, show: asked },
    ...(eyes !== 'auto' && { eyes: eyes.length ? (eyes as readonly GivenPart[]) : ('none' as const) }),
    ...(nose !== 'auto' && { nose: (nose[0] as GivenPart | undefined) ?? ('none' as const) }),
  };
}

const groundOf = (asked: Settings['background'], show: Show, animal: boolean): Background =>
  asked !== 'auto' ? asked : animal && show !== 'picture' ? 'plain' : 'keep';

/** The face as the block shows it. */
function onFace({ head }: Figure, { shapes, axis }: FaceDrawn, { source }: Picture): FaceOnBlock {
  if (!head) return { shapes, ...(axis !== undefined && { axis }) };
  const { crop, turn = 0, pixels } = source;
  const [x, y, w, h] = head.box;
  const [u, v] = onBlock({ crop, turn, pixels }, (x + w / 2) * pixels[0], (y + h / 2) * pixels[1]);
  const [width, height] = [(w * pixels[0]) / crop[2], (h * pixels[1]) / crop[3]];
  return { shapes, ...(axis !== undefined && { axis }), head: [u - width / 2, v - height / 2, width, height] };
}

/** All of the picture, as the subject is looked for in it. */
const showWhole = (opened: OpenedPicture): Promise<Picture> =>
  showPart(opened, { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] });

/** A box given as shares of the picture or in its pixels, in pixels. */
function inPixels(box: Frame, { pixels, name }: OpenedPicture): Frame {
  const [sx, sy] = box.every((v) => v <= 1) ? pixels : [1, 1];
  const [x, y, w, h] = [box[0] * sx, box[1] * sy, box[2] * sx, box[3] * sy];
  if (w < 1 || h < 1 || x + w > pixels[0] + 1 || y + h > pixels[1] + 1)
    throw new UserError('outside-picture', { field: 'subject', box, file: name, pixels }, 2);
  return [x, y, w, h];
}
