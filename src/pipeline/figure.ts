// 1-2. The whole picture -> the animal in it, and the part of the picture that the block shows.
import type { FaceOnBlock, Figure, Picture, Show } from '../data.ts';
import { drawFace } from '../figure/draw-face.ts';
import { faceOnBlock } from '../figure/face-on-block.ts';
import { findFigure, type GivenPart } from '../figure/find-figure.ts';
import { boxInPixels, type SubjectBox } from '../picture/choose-crop.ts';
import { type OpenedPicture, showPart } from '../picture/read-picture.ts';
import type { Settings } from '../settings/settings.ts';
import type { Background } from '../shade/calm-ground.ts';
import { boxOfGuess, type Frame, type Guess, lookCloser } from '../shade/guess-subject.ts';
import type { SeenPicture } from '../shade/see-picture.ts';
import { turnGuess } from '../shade/turn-guess.ts';
import { type Foreseen, kindOf, lookAhead, seeksAnimal } from './look.ts';
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

/** 1: a file's bytes -> the part that the block shows. Does not depend on the number of shades. */
export async function readPicture(
  bytes: Uint8Array,
  fileName: string,
  settings: FigureSettings & Pick<Settings, 'sheet'>,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<ReadPicture> {
  const opened = await openFile(bytes, fileName, settings, progress);
  return findPart(opened, settings, progress, (whole, frame) => lookAhead(whole, frame, beside), beside);
}

/** Of a picture that has been opened: its figure, and the part that the block shows. */
export async function findPart(
  opened: OpenedPicture,
  settings: FigureSettings,
  progress: Progress = quiet,
  /** asked what is known of the whole picture: someone may know it already */
  look: (whole: OpenedPicture, frame?: Frame) => Promise<Foreseen> = lookAhead,
  beside?: Pick<Beside, 'network'>,
): Promise<ReadPicture> {
  const { crop, subject, size } = settings;
  const aspect = size[0] / size[1];
  const frame = subject ? boxInPixels(subject, opened) : undefined;
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
  const { crop: part, turn = 0, pixels } = picture.source;
  const shown = { crop: part, turn, pixels };
  const drawn = figure && drawFace(figure, shown, size, settings.smallest);
  const turned = guess && turn ? turnGuess(guess, part, turn, pixels) : guess;
  const closer = turned && show === 'head' ? await lookCloser(picture, turned, beside?.network) : turned;
  return {
    ...{ picture, background },
    ...(figure && { figure, face: faceOnBlock(figure, drawn!, shown, size), missing: drawn!.missing }),
    ...(closer && { guess: closer }),
    ...(frame && { frame }),
    ...(around && { subject: around.box }),
  };
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
