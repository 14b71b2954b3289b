// A picture -> its block, in stages that are kept: what did not change is not worked out again. One worker thread keeps the
// stages of the pictures it had last; the answers are those of `seamwright block`, whatever was kept.
import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import { type Block, readBlock } from '../../block.ts';
import { checkBlock } from '../../check/check-block.ts';
import type { FacePart, Figure } from '../../data.ts';
import type { FitFound } from '../../fit/fit-partition.ts';
import { type OpenedPicture, openPicture } from '../../picture/read-picture.ts';
import { findPart, type ReadPicture } from '../../pipeline/figure.ts';
import { fitPieces } from '../../pipeline/fit.ts';
import { isBlockFile } from '../../pipeline/judge.ts';
import { type Foreseen, kindOf, lookAhead } from '../../pipeline/look.ts';
import { numberBlock, proveBlock } from '../../pipeline/number.ts';
import { squareUp } from '../../pipeline/read.ts';
import { see, shade } from '../../pipeline/shade.ts';
import type { Progress } from '../../pipeline/work.ts';
import { UserError } from '../../problems/problem.ts';
import type { Stage } from '../../settings/field.ts';
import { keyOfStage, type Settings } from '../../settings/settings.ts';
import { loadOpenCv } from '../../shade/opencv.ts';
import { writeRegions } from '../../shade/regions-file.ts';
import type { SeenPicture } from '../../shade/see-picture.ts';
import type { ShadingFound } from '../../shade/shade-picture.ts';
import { mm } from '../../units.ts';
import type { Box, WorkChoices, WorkFigure } from '../api.ts';
import { factsOf } from './facts.ts';
import type { MadeWork, Opened, PictureFile, ToForesee, ToGlance, ToMake, ToOpen } from './jobs.ts';
import { Kept } from './kept.ts';
import { sketchRead, sketchShading } from './sketch.ts';

const opened = new Kept<OpenedPicture>(2);
const read = new Kept<ReadPicture>(3);
const seen = new Kept<ReadPicture>(3);
const sketched = new Kept<ReadPicture>(3);
/** what was seen in each picture last: another part of it is much like it */
const likes = new Kept<SeenPicture>(4);
const known = new Kept<Foreseen>(4);
const shaded = new Kept<ShadingFound>(6);
const fitted = new Kept<FitFound>(12);

/** px along the longer side of the picture that is shown */
const SHOWN = 1600;
const SHOWN_QUALITY = 86;

/** Tells a picture from a block file by its content. Throws UserError for what is neither. */
export async function openFile(job: ToOpen, progress: Progress): Promise<Opened> {
  const bytes = new Uint8Array(await readFile(job.path));
  const head = new TextDecoder().decode(bytes.subarray(0, 64));
  if (isBlockFile(head)) {
    const block = readBlock(new TextDecoder().decode(bytes), job.name);
    const fault = checkBlock(block, { smallest: mm(0) }).faults[0];
    if (fault) throw new UserError('file-cannot-be-sewn', { file: job.name, fault: fault.text });
    return { kind: 'block', block, ...factsOf(block, job.settings) };
  }
  progress.stage('looking at the picture');
  const picture = await openPicture(bytes, job.name);
  opened.put(job.path, picture);
  const { rgb, width, height } = picture;
  await sharp(rgb, { raw: { width, height, channels: 3 } })
    .resize(SHOWN, SHOWN, { fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality: SHOWN_QUALITY })
    .toFile(job.upright);
  return { kind: 'picture', width: picture.pixels[0], height: picture.pixels[1] };
}

const openKept = (file: PictureFile): Promise<OpenedPicture> =>
  opened.get(file.path, async () => openPicture(new Uint8Array(await readFile(file.path)), file.name));

/** Where the subject is, before anyone asks for it: it takes longer than all the rest of a first look. */
export async function foresee({ picture }: ToForesee): Promise<Foreseen> {
  const opened = await openKept(picture);
  return (await kindOf(opened, { kind: 'auto' })) === 'photo' ? lookAhead(opened) : { faces: [] };
}

/** A picture and some settings, with the keys under which what is made of them is kept. */
interface Order extends ToGlance {
  readonly keyFor: (stage: Stage) => string;
}
const order = (job: ToGlance): Order => ({
  ...job,
  keyFor: (stage) => `${job.picture.path} ${keyOfStage(stage, job.settings)}`,
});

const showPicture = ({ picture: file, settings, foreseen, keyFor }: Order, progress: Progress): Promise<ReadPicture> =>
  read.get(keyFor('figure'), async () => {
    progress.stage('looking at the picture');
    const whole = squareUp(await openKept(file), settings);
    return findPart(whole, settings, progress, (opened, frame) =>
      known.get(keyOf(file.path, opened.sheet, frame), async () => {
        // it was foreseen in the picture as it is, not on the sheet that the picture shows
        if (!frame && !opened.sheet && foreseen) return foreseen;
        return lookAhead(opened, frame);
      }),
    );
  });

const likeKey = ({ picture, settings }: Order, shown: ReadPicture): string =>
  keyOf(picture.path, shown.picture.source.sheet, settings.kind);

async function firstLook(asked: Order, shown: ReadPicture, progress: Progress): Promise<MadeWork> {
  const { settings, keyFor } = asked;
  const first: Settings = { ...settings, effort: 'glance' };
  const like = likes.peek(likeKey(asked, shown));
  const sketch = (): Promise<ReadPicture> => sketchRead(shown, settings, { ...(like && { like }) });
  const shading =
    shaded.peek(keyFor('shade')) ?? (await sketchShading(await sketched.get(keyFor('see'), sketch), settings));
  return finish(shading, shown, first, fitPieces(shading, first, undefined, progress).at(-1)!);
}

/** A first look alone. */
export async function glance(job: ToGlance, progress: Progress): Promise<Block> {
  const asked = order(job);
  return (await firstLook(asked, await showPicture(asked, progress), progress)).block;
}

export async function makeWork(job: ToMake, progress: Progress, part: (made: MadeWork) => void): Promise<MadeWork> {
  const asked = order(job);
  const { settings, keyFor } = asked;
  const shown = await showPicture(asked, progress);
  if (job.look && !fitted.has(keyFor('fit'))) part(await firstLook(asked, shown, progress));
  const shading = await shaded.get(keyFor('shade'), async () => {
    const sight = await seen.get(keyFor('see'), async () => {
      progress.stage('looking at the picture');
      return see(shown, settings);
    });
    likes.put(likeKey(asked, shown), sight.seen!);
    return shade(sight, settings, progress);
  });
  const pieces = await fitted.get(keyFor('fit'), async () => fitPieces(shading, settings, undefined, progress).at(-1)!);
  const made = await finish(shading, shown, settings, pieces);
  // a calm or plain ground is likely to be tried next; the answer goes out before it is got ready
  if (shading.kind.kind === 'photo') setImmediate(() => void loadOpenCv().catch(() => {}));
  return made;
}

async function finish(shading: ShadingFound, shown: ReadPicture, s: Settings, pieces: FitFound): Promise<MadeWork> {
  const { block, shown: turned, misplaced, notes } = numberBlock(pieces, shading, s, shown.picture);
  proveBlock(block, s);
  const cloth = s.effort !== 'glance';
  return {
    ...{ block, notes, ...factsOf(block, s, { misplaced, cloth }) },
    choices: choicesOf(shading, shown),
    regions: await writeRegions(turned),
  };
}

const keyOf = (...parts: readonly unknown[]): string => JSON.stringify(parts);

function choicesOf(shading: ShadingFound, { picture, subject, figure, background }: ReadPicture): WorkChoices {
  const { crop, turn, pixels } = picture.source;
  const share = ([x, y, w, h]: readonly [number, number, number, number]): Box => [
    x / pixels[0],
    y / pixels[1],
    w / pixels[0],
    h / pixels[1],
  ];
  return {
    kind: shading.kind.kind,
    because: shading.kind.reason,
    crop: share(crop),
    ...(turn && { turn }),
    background,
    ...(figure && { figure: toldFigure(figure) }),
    shades: shading.choices.shades.used,
    focus: shading.choices.focus,
    ...(shading.choices.sheet && { sheet: shading.choices.sheet }),
    ...(subject && { subject: share(subject) }),
  };
}

const place = ({ x, y, w, h, sure }: FacePart): FacePart => ({ x, y, w, h, sure });
const places = ({ eyes, nose }: Pick<Figure, 'eyes' | 'nose'>): Pick<WorkFigure, 'eyes' | 'nose'> => ({
  eyes: eyes.map(place),
  ...(nose && { nose: place(nose) }),
});

function toldFigure(figure: Figure): WorkFigure {
  const { guess, head, show, why } = figure;
  return {
    ...places(figure),
    ...(guess && { guess: places(guess) }),
    ...(head && { head: head.box }),
    ...{ show, why },
    sure: (figure.eyes[0] ?? guess?.eyes[0])?.sure ?? 0,
  };
}
