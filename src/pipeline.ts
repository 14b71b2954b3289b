// The whole way from a picture to a packet, on one page: to the numbered block here, what is printed of it in print-block.ts. No
// other file knows every stage.
import type { Block } from './block.ts';
import { checkBlock } from './check/check-block.ts';
import type { Landmark, Outlines, Picture, Shading, Shopping } from './data.ts';
import type { Fill } from './drawing/fill.ts';
import { type Paper, paperTitle } from './drawing/paper.ts';
import { UserError } from './errors.ts';
import type { FabricOptions } from './fabric/options.ts';
import { type Effort, type FitFound, type FitOptions, fitPartitions } from './fit/fit-partition.ts';
import type { Level } from './levels.ts';
import { findMarks } from './outline/find-marks.ts';
import { traceOutlines } from './outline/trace-outlines.ts';
import type { SubjectBox } from './picture/choose-crop.ts';
import type { Corners } from './picture/find-sheet.ts';
import { type OpenedPicture, openPicture, type ReadOptions, showPart, squareSheet } from './picture/read-picture.ts';
import type { FinishedBlock } from './print-block.ts';
import { measureQuality, type Quality } from './quality/measure-quality.ts';
import { numberPieces } from './section/number-pieces.ts';
import type { Background } from './shade/calm-ground.ts';
import type { Tone } from './shade/even-tone.ts';
import { findKind, type Kind, type KindFound } from './shade/find-kind.ts';
import { boxOfGuess, type Frame, type Guess, guessSubject } from './shade/find-subject.ts';
import type { Focus } from './shade/focus.ts';
import { type Cloth, measureCloth } from './shade/read-cloths.ts';
import { readRegions, writeRegions } from './shade/regions-file.ts';
import type { runNetwork } from './shade/run-network.ts';
import { type SeenBefore, type SeenPicture, seePicture } from './shade/see-picture.ts';
import type { Lines } from './shade/shade-drawing.ts';
import { type ShadeOptions, type ShadingFound, shadePicture } from './shade/shade-picture.ts';
import { turnLeftRight } from './template/printed-side.ts';
import { templateArea } from './template/template-area.ts';
import type { SectionLimits } from './tree/sections.ts';
import { formatLength, type Mm, mm, type System } from './units.ts';

export interface BlockSettings {
  readonly name: string;
  readonly size: readonly [Mm, Mm];
  readonly level: Level;
  /** fabrics at most; `auto` as many as the picture asks for */
  readonly shades: number | 'auto';
  readonly pieces: number;
  /** numbers of pieces, ascending, that the block is grown through: as the rows of a comparison sheet are */
  readonly grow?: readonly number[];
  readonly smallest: Mm;
  /** most pieces in a section */
  readonly mostPieces: number;
  readonly slack: Mm;
  readonly background: Background;
  /** what the picture is; found by itself where absent */
  readonly kind?: Kind;
  /** what becomes of a drawing's strokes; decided by their width where absent */
  readonly lines?: Lines;
  /** whether black or white fur's tones are drawn apart; where the background is not kept if absent */
  readonly tone?: Tone;
  /** the part to show; `auto` the subject with room around it */
  readonly crop?: NonNullable<ReadOptions['crop']> | 'auto';
  /** corners of the sheet that is photographed, as shares of the upright picture, clockwise from the top left; `no`: it is none;
   *  looked for where absent and nothing has been pointed at in the picture */
  readonly sheet?: 'no' | Corners;
  /** a frame about the subject, [x, y, width, height], as shares of the upright picture or in its pixels */
  readonly subject?: NonNullable<ReadOptions['crop']>;
  /** where more pieces are spent; found by itself where absent, nowhere where empty */
  readonly focus?: readonly Focus[];
  /** the fabrics that someone has: each shade becomes one of them */
  readonly cloths?: readonly Cloth[];
  /** whether one of them may serve for several shades */
  readonly again?: boolean;
  readonly turn: boolean;
  readonly seed: number;
  readonly effort: Effort;
  readonly paper: Paper;
  readonly margin: Mm;
  readonly allowance: Mm;
  readonly system: System;
  /** what tells the fabrics apart on the templates; hatches where absent */
  readonly fill?: Fill;
  readonly designer?: string;
  /** B, C … where an earlier one of this block has been printed */
  readonly edition?: string;
}

/** What hears of the work: a stage that begins, and how far a long one is (0..1). May throw to cancel. */
export interface Progress {
  stage(name: string): void;
  done(share: number): void;
}

export const quiet: Progress = { stage: () => {}, done: () => {} };

/** What another thread does for this one, with the same results. */
export interface Beside {
  readonly network: typeof runNetwork;
  fit(
    shading: Shading,
    options: FitOptions,
    counts: readonly number[],
    done: (share: number) => void,
  ): Promise<FitFound[]>;
  preview(block: Block): Promise<Uint8Array>;
  cloth(block: Block, options: Partial<FabricOptions>): Promise<Shopping>;
  quality: (...of: Parameters<typeof measureQuality>) => Promise<Quality>;
}

/** What the packet depends on, for blocks from wherever. */
export type PacketSettings = Pick<
  BlockSettings,
  'level' | 'smallest' | 'mostPieces' | 'slack' | 'paper' | 'margin' | 'allowance' | 'system' | 'fill' | 'designer'
>;

export interface MadeBlock extends FinishedBlock {
  readonly shading: Shading;
  readonly misplaced: number;
  readonly quality: Quality;
  readonly files: FinishedBlock['files'] & { readonly regions: Uint8Array };
}

/** sets of pieces whose ways of being cut are all looked at in a glance */
const GLANCED_SETS = 60;

/** 1-2: a file's bytes -> the grid of fabrics. */
export async function shadeFile(
  bytes: Uint8Array,
  fileName: string,
  settings: BlockSettings,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<{ picture: Picture; shading: ShadingFound; kind: KindFound }> {
  const read = await readForBlock(bytes, fileName, settings, progress, beside);
  const shading = await shadeRead(read, settings, progress, beside);
  return { picture: read.picture, shading, kind: shading.kind };
}

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

/** 1: a file's bytes -> the part of the picture that the block shows. Does not depend on the number of shades or pieces. */
export async function readForBlock(
  bytes: Uint8Array,
  fileName: string,
  settings: BlockSettings,
  progress: Progress = quiet,
  beside?: Beside,
): Promise<ReadPicture> {
  progress.stage('reading the picture');
  const guessIn: typeof guessOpened = (opened, frame, kind) => guessOpened(opened, frame, kind, beside);
  return readOpened(await openPicture(bytes, fileName), settings, progress, guessIn);
}

/** 1, second half: of a picture that has been decoded already, the part that the block shows. */
export async function readOpened(
  whole: OpenedPicture,
  settings: BlockSettings,
  progress: Progress = quiet,
  /** asked for the subject of the whole picture: someone may know it already */
  guessIn: typeof guessOpened = guessOpened,
): Promise<ReadPicture> {
  const { sheet } = settings;
  const pointed = settings.subject !== undefined || (settings.crop !== undefined && settings.crop !== 'auto');
  const square = sheet !== 'no' && (sheet !== undefined || !pointed);
  const opened = square ? squareSheet(whole, sheet) : whole;
  const aspect = settings.size[0] / settings.size[1];
  const { crop, background } = settings;
  const frame = settings.subject && inPixels(settings.subject, opened, '--subject');
  const byHand = crop && crop !== 'auto' ? { crop } : {};
  let guess: Guess | undefined;
  let around: SubjectBox | undefined = frame && { box: frame, cut: [false, false, false, false] };
  // the subject is looked for where something is to be done about it: in the whole picture, before it is cropped
  if (seeksSubject(settings)) {
    progress.stage('finding the subject');
    guess = await guessIn(opened, frame, settings.kind);
    around ??= guess && boxOfGuess(guess);
  }
  const picture = await showPart(opened, {
    ...{ aspect, ...byHand, beyond: background === 'plain' },
    ...(around && !byHand.crop && { around }),
  });
  return {
    picture,
    ...(guess && { guess }),
    ...(frame && { frame }),
    ...(around && { subject: around.box }),
  };
}

/** Whether the subject of a photo is looked for in the whole picture. */
const seeksSubject = ({ crop, subject, background }: BlockSettings): boolean =>
  (crop === undefined || crop === 'auto') && (crop === 'auto' || subject !== undefined || background !== 'keep');

/** All of the picture, as the subject is looked for in it. */
const showWhole = (opened: OpenedPicture): Promise<Picture> =>
  showPart(opened, { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] });

/** Where the subject of a photo is: undefined where it is none, or nothing stands out. */
export async function guessOpened(
  opened: OpenedPicture,
  frame?: Frame,
  kind?: Kind,
  beside?: Beside,
): Promise<Guess | undefined> {
  const whole = await showWhole(opened);
  return (kind ?? findKind(whole).kind) === 'photo' ? guessSubject(whole, frame, beside?.network) : undefined;
}

/** 2, first half: what several numbers of shades have in common. */
export async function seeRead(
  read: ReadPicture,
  settings: BlockSettings,
  known?: SeenBefore,
  grid?: number,
): Promise<ReadPicture> {
  const options = { ...shadeOptions(read, settings), ...(grid && { grid }) };
  return { ...read, seen: await seePicture(read.picture, options, undefined, known) };
}

/** 2: the picture -> the grid of fabrics. */
export async function shadeRead(
  read: ReadPicture,
  settings: BlockSettings,
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

/** What of a block its shades depend on. */
export function shadeOptions({ guess, frame }: ReadPicture, settings: BlockSettings): ShadeOptions {
  const { size, smallest, shades, seed, kind, lines, tone, focus, background } = settings;
  return {
    ...{ size, smallest, shades, background, seed },
    ...(kind && { kind }),
    ...(lines && { lines }),
    ...(tone && { tone }),
    ...(focus && { focus }),
    ...(settings.cloths && { cloths: settings.cloths, again: settings.again === true }),
    ...(guess && { guess }),
    ...(frame && { frame }),
  };
}

/** A snapshot of a cloth -> its colour. */
export async function readCloth(bytes: Uint8Array, fileName: string): Promise<Cloth> {
  const opened = await openPicture(bytes, fileName, true);
  const whole = { aspect: opened.width / opened.height, crop: [0, 0, 1, 1] as const, maxSide: 256 };
  return measureCloth(await showPart(opened, whole), fileName);
}

/** A box given as shares of the picture or in its pixels, in pixels. */
function inPixels(box: Frame, { pixels, name }: OpenedPicture, option: string): Frame {
  const [sx, sy] = box.every((v) => v <= 1) ? pixels : [1, 1];
  const [x, y, w, h] = [box[0] * sx, box[1] * sy, box[2] * sx, box[3] * sy];
  if (w < 1 || h < 1 || x + w > pixels[0] + 1 || y + h > pixels[1] + 1)
    throw new UserError(
      `${option} ${box.join(',')} does not lie inside ${name}, which is ${pixels.join(' x ')} pixels; give left, top, width and height in pixels, or as fractions of the picture.`,
      2,
    );
  return [x, y, w, h];
}

/** 3-9: a grid of fabrics -> the block and its packet. Every block that leaves has passed the sewing check. */
export async function makeBlock(
  shading: Shading,
  settings: BlockSettings,
  progress: Progress = quiet,
  picture?: Picture,
  beside?: Beside,
): Promise<MadeBlock> {
  // what does not depend on the pieces is got ready while another thread fits them
  const counts = countsOf(settings);
  const fitting = beside ? fitBeside(shading, settings, counts, progress, beside) : undefined;
  fitting?.catch(() => {});
  const printing = Promise.all([import('./print-block.ts'), import('./drawing/fonts.ts')]).then(([print, fonts]) => {
    if (beside) fonts.openFonts();
    return print;
  });
  const face = faceOf(shading, settings);
  const regions = writeRegions(face.shown);
  // where the fit is refused nobody waits for these any more
  for (const promise of [printing, regions]) promise.catch(() => {});
  const fits = (await unlessFailed(fitting)) ?? fitPieces(shading, settings, counts, progress);
  const { block, outlines, shown, misplaced, notes } = numberAll(
    fits,
    shading,
    settings,
    counts,
    progress,
    picture,
    face,
  ).at(-1)!;
  const { finishBlock } = await printing;
  const finishing = finishBlock(block, outlines, settings, notes, progress, beside);
  const judging = beside?.quality(block, shown, { smallest: settings.smallest, mostPieces: settings.mostPieces });
  judging?.catch(() => {});
  const finished = await finishing;
  return {
    ...finished,
    shading: shown,
    misplaced,
    quality: (await unlessFailed(judging)) ?? measureQuality(block, shown, settings),
    files: { ...finished.files, regions: await regions },
  };
}

/** What another thread was to do is done here where that thread has failed; what the person can mend is thrown. */
export const unlessFailed = <T>(beside: Promise<T> | undefined): Promise<T | undefined> | undefined =>
  beside?.catch((e: unknown) => {
    if (e instanceof UserError) throw e;
    return undefined;
  });

export interface FittedBlock {
  readonly block: Block;
  /** absent in a glance, which is not printed */
  readonly outlines?: Outlines;
  /** the shading as the block shows it: turned where the block is */
  readonly shown: Shading;
  readonly misplaced: number;
  readonly notes: readonly string[];
}

/** 3-4: a grid of fabrics -> a numbered block. The same settings give the same block, alone or among others. */
export function fitBlock(
  shading: Shading,
  settings: BlockSettings,
  progress: Progress = quiet,
  picture?: Pick<Picture, 'source' | 'notes'>,
): FittedBlock {
  return fitBlocks(shading, settings, countsOf(settings), progress, picture).at(-1)!;
}

/** 3-4: the same for several numbers of pieces, ascending, each grown from the one before. */
function fitBlocks(
  shading: Shading,
  settings: BlockSettings,
  counts: readonly number[],
  progress: Progress = quiet,
  picture?: Pick<Picture, 'source' | 'notes'>,
): FittedBlock[] {
  const fits = fitPieces(shading, settings, counts, progress);
  return numberAll(fits, shading, settings, counts, progress, picture);
}

/** The numbers of pieces that a block is grown through, its own last. */
const countsOf = ({ grow, pieces }: BlockSettings): readonly number[] => [...(grow ?? []), pieces];

/** 3: the pieces alone. What of the settings they depend on is named in FitOptions. */
export function fitPieces(
  shading: Shading,
  settings: BlockSettings,
  counts: readonly number[] = countsOf(settings),
  progress: Progress = quiet,
): FitFound[] {
  progress.stage('fitting the pieces');
  return fitPartitions(shading, fitOptions(settings), counts, (d) => progress.done(d));
}

function fitBeside(
  shading: Shading,
  settings: BlockSettings,
  counts: readonly number[],
  progress: Progress,
  beside: Beside,
): Promise<FitFound[]> {
  progress.stage('fitting the pieces');
  return beside.fit(shading, fitOptions(settings), counts, (d) => progress.done(d));
}

/** What of a block its pieces depend on. */
export const fitOptions = (settings: BlockSettings): FitOptions => {
  const { size, smallest, pieces, seed, effort } = settings;
  return { size, smallest, pieces, seed, effort, sections: sectionLimits(settings) };
};

/** The grid as the block's face shows it, and its regions; no regions in a glance, which is not printed. */
interface ShadedFace {
  readonly shown: Shading;
  readonly outlines?: Outlines;
}

function faceOf(shading: Shading, { turn, effort, size }: BlockSettings): ShadedFace {
  const shown = turn ? turnedShading(shading) : shading;
  return { shown, ...(effort !== 'glance' && { outlines: traceOutlines(shown, size) }) };
}

/** 4, for each of several numbers of pieces. */
function numberAll(
  fits: readonly FitFound[],
  shading: Shading,
  settings: BlockSettings,
  counts: readonly number[],
  progress: Progress,
  picture?: Pick<Picture, 'source' | 'notes'>,
  face = faceOf(shading, settings),
): FittedBlock[] {
  progress.stage('numbering sections');
  return fits.map((fitted, i) => numberFitted(fitted, shading, grownTo(settings, counts, i), picture, face));
}

/** The settings that make the same block again: the `i`th of `counts`, grown through those before it. */
export function grownTo({ grow: _, ...rest }: BlockSettings, counts: readonly number[], i: number): BlockSettings {
  return { ...rest, pieces: counts[i]!, ...(i > 0 && { grow: counts.slice(0, i) }) };
}

const sectionLimits = ({ mostPieces, paper, margin, allowance }: BlockSettings): SectionLimits => ({
  mostPieces,
  paper: templateArea(paper, margin),
  allowance,
});

/** 4: sections, numbers and joins of pieces that were fitted to this shading. */
export function numberFitted(
  fitted: FitFound,
  shading: Shading,
  settings: BlockSettings,
  picture?: Pick<Picture, 'source' | 'notes'>,
  { shown, outlines }: ShadedFace = faceOf(shading, settings),
): FittedBlock {
  const source = picture && {
    sha256: picture.source.sha256,
    pixels: [...picture.source.pixels] as [number, number],
    crop: [...picture.source.crop] as [number, number, number, number],
    settings: { ...settingsInFile(settings), ...(picture.source.sheet && { sheet: picture.source.sheet }) },
  };
  const facts = {
    ...{ name: settings.name, smallest: settings.smallest, fabrics: shading.fabrics },
    ...(settings.edition && { edition: settings.edition }),
    ...(source && { source }),
  };
  const glance = settings.effort === 'glance';
  const numbered = numberPieces(fitted, facts, sectionLimits(settings), glance ? GLANCED_SETS : undefined);
  const lost = settings.turn ? fitted.lost.map(turnedLandmark) : fitted.lost;
  const marks = outlines ? findMarks([...shown.lost, ...lost], outlines, shading.fabrics) : [];
  const turned = settings.turn ? turnLeftRight(numbered) : numbered;
  const block = marks.length ? { ...turned, marks } : turned;
  const notes = [...(picture?.notes ?? []), ...shading.notes, ...warningsOf(lost, settings)];
  return { block, ...(outlines && { outlines }), shown, misplaced: fitted.misplaced, notes };
}

/** 5: throws where a block that was made here cannot be sewn as it was asked for. */
export function proveBlock(block: Block, settings: PacketSettings): void {
  const { smallest, allowance, paper, margin } = settings;
  const verdict = checkBlock(block, {
    smallest,
    most: settings.mostPieces,
    paper: templateArea(paper, margin).map(mm) as [Mm, Mm],
    allowance,
  });
  const fault = verdict.faults[0];
  if (fault)
    throw new Error(`the block that was made cannot be sewn (a fault of this program, not yours): ${fault.text}`);
}

/** NAME.regions.png again -> the picture's regions at the block's size. Throws UserError where it is no such file. */
export async function outlinesOf(
  regions: Uint8Array,
  fabrics: string,
  size: readonly [number, number],
  turn: boolean,
): Promise<Outlines> {
  const shading = await readRegions(regions, fabrics, { regions: 'the regions', fabrics: 'the fabrics' });
  return traceOutlines(turn ? turnedShading(shading) : shading, size);
}

/** What is kept in the block file so that the block can be made again. */
function settingsInFile(s: BlockSettings): Record<string, unknown> {
  const {
    level,
    shades,
    pieces,
    grow,
    mostPieces,
    background,
    kind,
    lines,
    tone,
    turn,
    seed,
    effort,
    paper,
    subject,
    focus,
  } = s;
  return {
    ...{ level, shades, pieces, mostPieces, background, turn, seed, effort, paper: paperTitle(paper) },
    ...(grow?.length && { grow }),
    ...(kind && { kind }),
    ...(lines && { lines }),
    ...(tone && { tone }),
    ...(subject && { subject }),
    ...(focus && { focus }),
  };
}

function warningsOf(lost: readonly { at: readonly [number, number] }[], { system, size }: BlockSettings): string[] {
  return lost.map(
    ({ at }) =>
      `A small detail ${formatLength(at[0] * size[0], system)} from the left and ${formatLength(at[1] * size[1], system)} from the top ` +
      'got no piece of its own: ask for more pieces, or stitch it or ink it on the finished block.',
  );
}

/** The grid as the turned block shows it. */
function turnedShading(s: Shading): Shading {
  const labels = new Uint8Array(s.labels.length);
  for (let y = 0; y < s.height; y++)
    for (let x = 0; x < s.width; x++) labels[y * s.width + x] = s.labels[y * s.width + s.width - 1 - x]!;
  return { ...s, labels, lost: s.lost.map(turnedLandmark), grown: s.grown.map(turnedLandmark) };
}

const turnedLandmark = (l: Landmark): Landmark => ({ ...l, at: [1 - l.at[0], l.at[1]] });
