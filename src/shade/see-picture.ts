// Takes a Picture; gives all that shading it needs and that does not depend on the number of shades: so that several numbers
// of shades of one picture look at it once.
import type { Picture, Report } from '../data.ts';
import { averageCells, type Cells, gridSize } from './cells.ts';
import { evenTone, planTone, type ToneDrawn } from './even-tone.ts';
import { type Face, findFaces } from './find-faces.ts';
import { findKind, type KindFound } from './find-kind.ts';
import { type Blob, findBlobs } from './find-landmarks.ts';
import { findSubject, type Subject } from './find-subject.ts';
import { glimpseSubject, guessOnCells, guessSubject } from './guess-subject.ts';
import { judgePicture } from './judge-picture.ts';
import type { runNetwork } from './run-network.ts';
import { calmCells } from './shade-photo.ts';
import type { ShadeOptions } from './shade-picture.ts';

/** Plain data that can be handed to another thread. */
export interface SeenPicture {
  readonly kind: KindFound;
  /** the picture's cells, and smoothed where it is a photo; the tones of black and white fur drawn apart */
  readonly plain: Cells;
  readonly calm?: Cells;
  readonly judged: ReturnType<typeof judgePicture>;
  readonly subject?: Subject;
  /** where the background is kept, but may be as light or dark as the animal: only whether its outline shows is asked of it */
  readonly hidden?: Subject;
  /** where the background is kept: how likely each cell is the subject's, 0..1 */
  readonly likely?: Float32Array;
  /** share of the block that is the subject, where it was found */
  readonly share?: number;
  readonly faces: readonly Face[];
  /** what was done to the tones */
  readonly tone?: readonly ToneDrawn[];
  /** small things that stand out */
  readonly blobs: readonly Blob[];
  readonly notes: readonly string[];
}

/** A ground all of whose edge is this dark or light (OKLab lightness; CIE L* 30 and 85) and this even may hide an animal ... */
const DARK_GROUND = 0.4;
const LIGHT_GROUND = 0.87;
const EVEN = 0.25;
/** ... where this share of the picture's middle is as near to it as this. */
const ALIKE = 0.13;
const SHARE_ALIKE = 0.15;
/** of the shorter side: the edge that is taken for ground, and the radius of the middle */
const EDGE = 0.1;
const MIDDLE = 0.28;

/** Whether a black dog may stand on dark here, or a white cat on cream: cheap enough to be asked of every photo. */
export function mayHide({ width: w, height: h, lab }: Cells): boolean {
  const side = Math.min(w, h);
  const edge: number[] = [];
  const middle: number[] = [];
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const L = lab[3 * (y * w + x)]!;
      if (Math.min(x, y, w - 1 - x, h - 1 - y) < EDGE * side) edge.push(L);
      if (Math.hypot(x - w / 2, y - h / 2) < MIDDLE * side) middle.push(L);
    }
  edge.sort((a, b) => a - b);
  const at = (q: number): number => edge[Math.floor(q * (edge.length - 1))]!;
  if (at(0.9) - at(0.1) > EVEN || (at(0.5) > DARK_GROUND && at(0.5) < LIGHT_GROUND)) return false;
  return middle.filter((L) => Math.abs(L - at(0.5)) < ALIKE).length > SHARE_ALIKE * middle.length;
}

/** What lies where the subject is no likelier than this is a leaf or a stone, and no eye. */
const UNLIKELY = 0.15;
/** Most eyes, noses and the like that are looked for. */
const MOST_LANDMARKS = 8;
/** House rule: an animal that fills less of the block than this leaves no pieces for its face. */
const SMALL_SUBJECT = 0.15;

/** What someone may know before. */
export interface SeenBefore {
  /** of a like picture, where a glance is enough: taken as it is */
  readonly like?: Pick<SeenPicture, 'kind' | 'judged'>;
  readonly guessIn?: typeof guessSubject;
  /** runs the network in another thread */
  readonly networkBeside?: typeof runNetwork;
}

/** `options.shades` and `options.cloths` are not looked at. */
export async function seePicture(
  picture: Picture,
  options: Omit<ShadeOptions, 'shades' | 'cloths'>,
  report?: Report,
  { like, guessIn = guessSubject, networkBeside }: SeenBefore = {},
): Promise<SeenPicture> {
  const [w, h] = gridSize(options.size, options.grid ?? 192);
  const narrow = (options.smallest * w) / options.size[0];
  const { background } = options;
  const found = like?.kind ?? findKind(picture);
  const kind: KindFound =
    options.kind && options.kind !== found.kind ? { ...found, kind: options.kind, reason: 'as asked for' } : found;
  report?.(0.1);
  const looks = kind.kind === 'photo' && !like;
  // this thread goes on meanwhile
  const glimpsed =
    looks && background === 'keep' && networkBeside && !options.guess
      ? glimpseSubject(picture, networkBeside)
      : undefined;
  glimpsed?.catch(() => {});
  let plain = averageCells(picture.pixels, picture.width, picture.height, w, h);
  let calm = kind.kind === 'photo' ? calmCells(picture, w, h) : undefined;
  const judged = like?.judged ?? judgePicture(picture, kind.kind);
  const notes: string[] = [...judged.notes];
  const seenFaces = looks ? await findFaces(picture) : [];
  // a drawing's dots are found among its strokes
  const blobsOf = (cells: Cells): Blob[] =>
    kind.kind === 'drawing' ? [] : findBlobs(cells, Math.max(2, narrow / 2), MOST_LANDMARKS);
  const plainBlobs = glimpsed && blobsOf(plain);
  let subject: Subject | undefined;
  let hidden: Subject | undefined;
  let likely: Float32Array | undefined;
  let share: number | undefined;
  if (kind.kind === 'photo' && background !== 'keep') {
    subject = await findSubject(picture, w, h, options.guess ?? (await guessIn(picture, options.frame)), options.frame);
    if (!subject)
      notes.push(
        'No subject could be told from its background, so the background was kept; draw a frame around it, or crop nearer to it.',
      );
    report?.(0.5);
  } else if (kind.kind === 'photo') {
    const hides = mayHide(plain);
    const close = hides || options.tone === 'even';
    const guess =
      options.guess ??
      (close
        ? await guessIn(picture, options.frame, networkBeside)
        : like
          ? undefined
          : await (glimpsed?.catch(() => glimpseSubject(picture)) ?? glimpseSubject(picture)));
    if (close) hidden = await findSubject(picture, w, h, guess, options.frame);
    if (guess) {
      likely = guessOnCells(guess, picture, w, h);
      share = likely.reduce((t, v) => (v > 0.5 ? t + 1 : t), 0) / (w * h);
    }
    if (hides && !hidden)
      notes.push(
        'Much of the picture is nearly as light or dark as the ground, and no animal could be told from it: take it again before another ground, or with light from the side.',
      );
    report?.(0.5);
  }
  const told = subject ?? hidden;
  share = told?.share ?? share;
  if (share !== undefined && share < SMALL_SUBJECT)
    notes.push(
      `The animal fills only ${Math.max(1, Math.round(100 * share))} % of the block, which leaves few pieces for its face: go nearer, or crop to it.`,
    );
  const own = subject?.mask ?? (options.tone === 'even' ? hidden?.mask : undefined);
  const planned = calm && own && options.tone !== 'keep' ? planTone(calm, own) : undefined;
  if (planned?.drawn.length) {
    plain = evenTone(plain, own!, planned.curve);
    calm = evenTone(calm!, own!, planned.curve);
  }
  // what is not the subject's goes with the background
  const belongs = (x: number, y: number): boolean => {
    const i = Math.min(h - 1, Math.floor(y)) * w + Math.min(w - 1, Math.floor(x));
    return subject ? subject.mask[i] === 1 : !likely || likely[i]! > UNLIKELY;
  };
  const blobs = ((!planned?.drawn.length && plainBlobs) || blobsOf(plain)).filter((b) => belongs(b.x, b.y));
  const faces = seenFaces.filter((f) => belongs(f.x * w, f.y * h));
  return {
    kind,
    plain,
    judged,
    blobs,
    notes,
    faces,
    ...(planned?.drawn.length && { tone: planned.drawn }),
    ...(calm && { calm }),
    ...(likely && { likely }),
    ...(share !== undefined && { share }),
    ...(subject && { subject }),
    ...(hidden && { hidden }),
  };
}
