// 1-2. What is seen in the whole picture, whatever part of it the block will show: its kind, its animal, the faces in it.
import type { findFigure } from '../figure/find-figure.ts';
import { type OpenedPicture, showWhole } from '../picture/read-picture.ts';
import type { Settings } from '../settings/settings.ts';
import { findFaces } from '../shade/find-faces.ts';
import { findKind, type Kind } from '../shade/find-kind.ts';
import { type Frame, type Guess, guessSubject } from '../shade/guess-subject.ts';
import type { Beside } from './work.ts';

/** What is known of a whole picture, whatever is set: where its subject is, and which faces a cascade sees. */
export interface Foreseen {
  readonly guess?: Guess;
  readonly faces: NonNullable<Parameters<typeof findFigure>[2]['faces']>;
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

export async function kindOf(opened: OpenedPicture, { kind }: Pick<Settings, 'kind'>): Promise<Kind> {
  return kind === 'auto' ? findKind(await showWhole(opened)).kind : kind;
}

/** Whether anything is to be done about the animal: not where all was set to leave the picture as it is. */
export const seeksAnimal = ({
  show,
  crop,
  background,
  eyes,
  nose,
  subject,
}: Pick<Settings, 'show' | 'crop' | 'background' | 'eyes' | 'nose' | 'subject'>): boolean =>
  !(background === 'keep' && (show === 'picture' || crop === 'middle') && !subject && !placed(eyes) && !placed(nose));

const placed = (spots: Settings['eyes']): boolean => spots !== 'auto' && spots.length > 0;
