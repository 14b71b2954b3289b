// All that can be set about a block, and nowhere else: of each field what it may be, its default, which stage reads it, and the words
// that people see. To add an option, add an entry here, read it in its stage, and give it a control on the page.
import { FILLS } from '../drawing/fill.ts';
import { paperTitle } from '../drawing/paper.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level, REFUSED_WIDTH } from '../levels.ts';
import { UserError } from '../problems/problem.ts';
import { inches, type Mm, mm } from '../units.ts';
import * as kinds from './kinds.ts';
import * as places from './places.ts';

/** The stages in the order of the data. `see` is what several numbers of shades have in common. */
export const STAGES = ['read', 'figure', 'see', 'shade', 'fit', 'number', 'print'] as const;
export type Stage = (typeof STAGES)[number];

export interface Field<T> {
  readonly kind: kinds.Kind<T>;
  /** for each level, or for all */
  readonly preset: (level: Level) => T;
  /** the first stage that reads it; those after it may read it too */
  readonly stage: Stage;
  /** where an earlier stage reads only a part of it: what of it */
  readonly earlier?: { readonly stage: Stage; readonly part: (value: T) => unknown };
  /** what people call it; on the page the name of its control */
  readonly title: string;
  /** one line for --help, JSON Schemas and series files */
  readonly help: string;
  /** how it is set in words, without dashes; absent where it is set in other ways */
  readonly option?: string;
  /** another placeholder than its kind has */
  readonly placeholder?: string;
  /** one for a series as a whole, not for single pictures */
  readonly forAll?: boolean;
  /** what of it is kept in the block file; undefined where nothing is */
  readonly kept?: (value: T) => unknown;
}

const field = <T>(f: Field<T>): Field<T> => f;
const always =
  <T>(value: T) =>
  (): T =>
    value;
const itself = <T>(value: T): T => value;
/** kept where it is anything but what is found automatically */
const unlessAuto = <T>(value: T): T | undefined => (value === 'auto' ? undefined : value);

const outOf = (least: number, most: number) => (_: unknown, name: string) =>
  new UserError('length-out-of-range', { field: name, least, most, mostInches: String(Math.round(most / 25.4)) }, 2);

/** The order is that of --help, and of what is kept in block files. */
export const FIELDS = {
  name: field<string>({
    kind: kinds.fileName,
    preset: always('block'),
    stage: 'number',
    title: 'Name',
    option: 'name',
    help: "the block's name (default: the picture's)",
  }),
  size: field<readonly [Mm, Mm]>({
    kind: kinds.size(inches(3), inches(60)),
    preset: (level) => [LEVEL_DEFAULTS[level].size, LEVEL_DEFAULTS[level].size],
    stage: 'see',
    earlier: { stage: 'figure', part: ([width, height]) => width / height },
    title: 'Size',
    option: 'size',
    help: 'finished size: 12in, 30cm, 10x14in',
  }),
  level: field<Level>({
    kind: kinds.choice(LEVELS),
    preset: itself,
    stage: 'number',
    title: 'Level',
    option: 'level',
    help: 'who sews it; sets all defaults',
    kept: itself,
  }),
  shades: field<number | 'auto'>({
    kind: kinds.wholeOr('auto', 2, 12),
    preset: (level) => LEVEL_DEFAULTS[level].shades,
    stage: 'shade',
    title: 'Fabrics',
    option: 'shades',
    help: 'fabrics at most, background included; auto: as many as the picture asks for',
    kept: itself,
  }),
  pieces: field<number>({
    kind: kinds.whole(2, 600),
    preset: (level) => LEVEL_DEFAULTS[level].pieces,
    // fewer pieces show larger masses
    stage: 'shade',
    title: 'Pieces',
    option: 'pieces',
    help: 'pieces at most',
    kept: itself,
  }),
  smallest: field<Mm>({
    kind: kinds.length(REFUSED_WIDTH, inches(60), (_, name) => new UserError('too-narrow-to-sew', { field: name }, 2)),
    preset: (level) => LEVEL_DEFAULTS[level].smallest,
    stage: 'see',
    title: 'Narrowest piece',
    option: 'smallest',
    help: 'narrowest finished width of a piece: 1/2in, 12mm',
  }),
  mostPieces: field<number>({
    kind: kinds.whole(2, 16),
    preset: (level) => LEVEL_DEFAULTS[level].mostPieces,
    stage: 'fit',
    title: 'Pieces in a section',
    option: 'most',
    help: 'pieces in a section at most',
    kept: itself,
  }),
  background: field<'auto' | 'keep' | 'calm' | 'plain'>({
    kind: kinds.choice(['auto', 'keep', 'calm', 'plain']),
    preset: always('auto' as const),
    stage: 'figure',
    title: 'Background',
    option: 'background',
    help: 'keep it, calm it to few large shades, or make it one plain fabric; auto: plain where an animal is found',
    kept: itself,
  }),
  turn: field<boolean>({
    kind: kinds.flag,
    preset: always(false),
    stage: 'number',
    title: 'Turned left to right',
    option: 'turn',
    help: 'turn the whole block left to right',
    kept: itself,
  }),
  seed: field<number>({
    kind: kinds.whole(0, 2 ** 31 - 1),
    preset: always(1),
    stage: 'see',
    title: 'Try',
    option: 'seed',
    help: 'another number gives another block',
    kept: itself,
  }),
  effort: field<'glance' | 'quick' | 'full' | 'long'>({
    kind: kinds.choice(['glance', 'quick', 'full', 'long'], 'glance'),
    preset: always('full' as const),
    stage: 'fit',
    title: 'Effort',
    option: 'effort',
    help: 'time spent on the fit',
    kept: itself,
  }),
  paper: field({
    kind: kinds.pagePaper,
    preset: always<kinds.ValueOf<typeof kinds.pagePaper>>('letter'),
    stage: 'fit',
    title: 'Paper',
    option: 'paper',
    help: 'what is printed on: letter, a4, legal, a3, tabloid, both, or a size such as 13x19in (default: by locale)',
    forAll: true,
    kept: paperTitle,
  }),
  show: field<'auto' | 'head' | 'animal' | 'picture'>({
    kind: kinds.choice(['auto', 'head', 'animal', 'picture']),
    preset: always('auto' as const),
    stage: 'figure',
    title: 'Show',
    option: 'show',
    help: 'what of a photo the block shows; auto: the head where a face is found and large enough, else the animal, else the picture',
    kept: unlessAuto,
  }),
  eyes: field({
    kind: places.spots(2),
    preset: always<readonly places.Spot[] | 'auto'>('auto'),
    stage: 'figure',
    title: 'Eyes',
    option: 'eyes',
    help: 'where an eye is, as shares of the picture, again for the other one; none: there are none to be seen (default: found automatically)',
    kept: unlessAuto,
  }),
  nose: field({
    kind: places.spots(1),
    preset: always<readonly places.Spot[] | 'auto'>('auto'),
    stage: 'figure',
    title: 'Nose',
    option: 'nose',
    help: 'where the nose is, as shares of the picture; none: there is none to be seen (default: found automatically)',
    kept: unlessAuto,
  }),
  backgroundColour: field<string>({
    kind: kinds.colour,
    preset: always(''),
    stage: 'shade',
    title: 'Background colour',
    option: 'background-colour',
    help: 'colour of a plain background (default: one that the outline shows on)',
    kept: (colour) => colour || undefined,
  }),
  grow: field<readonly number[]>({
    kind: kinds.counts(2, 600),
    preset: always([]),
    stage: 'shade',
    title: 'Grown through',
    option: 'grow',
    help: 'grow it through fewer pieces first, as a comparison sheet does: 40,60',
    kept: (list) => (list.length ? list : undefined),
  }),
  mirror: field<'auto' | 'yes' | 'no'>({
    kind: kinds.choice(['auto', 'yes', 'no']),
    preset: always('auto' as const),
    stage: 'fit',
    title: 'Both sides alike',
    option: 'mirror',
    help: 'the two sides of the block made alike; auto: where a face looks straight at us, or the picture is nearly symmetric',
    kept: unlessAuto,
  }),
  kind: field<'auto' | 'photo' | 'drawing' | 'flat'>({
    kind: kinds.choice(['auto', 'photo', 'drawing', 'flat']),
    preset: always('auto' as const),
    stage: 'figure',
    title: 'Kind of picture',
    option: 'kind',
    help: 'what the picture is; auto: found automatically',
    kept: unlessAuto,
  }),
  lines: field<'auto' | 'fill' | 'keep' | 'dissolve'>({
    kind: kinds.choice(['auto', 'fill', 'keep', 'dissolve']),
    preset: always('auto' as const),
    stage: 'see',
    title: 'Lines',
    option: 'lines',
    help: "a drawing's strokes: fill: the figure is filled and strokes become its edges (dissolve says the same); keep: they are sewn; auto: kept where they are wide enough",
    kept: unlessAuto,
  }),
  colours: field<kinds.RoleColours>({
    kind: kinds.roleColours,
    preset: always({}),
    stage: 'see',
    title: "Colors of the drawing's parts",
    option: 'colours',
    help: "fabrics of a drawing's parts: 'body #c58b4a, belly #f0dcc0'; ground, body, belly, back or ink",
    kept: (colours) => (Object.keys(colours).length ? colours : undefined),
  }),
  tone: field<'auto' | 'even' | 'keep'>({
    kind: kinds.choice(['auto', 'even', 'keep']),
    preset: always('auto' as const),
    stage: 'see',
    title: 'Tones of black or white fur',
    option: 'tone',
    help: 'the tones of black or white fur: drawn apart, so that it gets shades of its own, or kept; auto: drawn apart where the background is not kept',
    kept: unlessAuto,
  }),
  crop: field({
    kind: places.box('auto', 'middle'),
    preset: always<places.Box | 'auto' | 'middle'>('auto'),
    stage: 'figure',
    title: 'What the block shows',
    option: 'crop',
    help: 'the part to show, as shares of the picture or in pixels; auto: by what is to be shown; middle: as much as fits',
  }),
  sheet: field({
    kind: places.corners('auto', 'no'),
    preset: always<places.Corners | 'auto' | 'no'>('auto'),
    stage: 'read',
    title: 'Photographed sheet',
    option: 'sheet',
    help: "where the picture is a photo of a sheet: the sheet's four corners as shares of it, clockwise from the top left; no: show it as it is; auto: found automatically",
  }),
  subject: field({
    kind: places.box(null),
    preset: always<places.Box | null>(null),
    stage: 'figure',
    title: 'Frame about the animal',
    option: 'subject',
    help: 'a frame about the animal, where it is not found automatically',
    kept: (box) => box ?? undefined,
  }),
  focus: field({
    kind: places.discs,
    preset: always<readonly places.Disc[] | 'auto'>('auto'),
    stage: 'shade',
    title: 'Extra detail',
    option: 'focus',
    help: 'a disc on the block that gets more pieces, as shares of its width; again for another; none (default: the face)',
    kept: unlessAuto,
  }),
  cloths: field<readonly kinds.OwnFabric[]>({
    kind: kinds.ownFabrics,
    preset: always([]),
    stage: 'shade',
    title: 'Your fabrics',
    help: "the fabrics that someone has: each shade becomes one of them; empty: colours are the picture's",
  }),
  again: field<boolean>({
    kind: kinds.flag,
    preset: always(false),
    stage: 'shade',
    title: 'Fabrics used again',
    help: 'one of your own fabrics may serve for several shades',
  }),
  slack: field<Mm>({
    kind: kinds.length(mm(0), inches(2), outOf(0, 50.8)),
    preset: (level) => LEVEL_DEFAULTS[level].slack,
    stage: 'print',
    title: 'Slack of patches',
    help: 'cloth beyond the allowance on each side of a patch, mm',
  }),
  margin: field<Mm>({
    kind: kinds.length(mm(0), inches(1), outOf(0, 25.4)),
    preset: always(mm(9.525)),
    stage: 'fit',
    title: 'Margin of the paper',
    help: 'paper left free all round, mm',
  }),
  allowance: field<Mm>({
    kind: kinds.length(mm(3), inches(1), outOf(3, 25.4)),
    preset: always(inches(1 / 4)),
    stage: 'fit',
    title: 'Seam allowance',
    help: 'seam allowance around every section, mm',
  }),
  units: field<'inch' | 'metric'>({
    kind: kinds.choice(['inch', 'metric']),
    preset: always('inch' as const),
    stage: 'number',
    title: 'Units',
    option: 'units',
    help: 'how lengths are written (default: as the size is given, else by locale)',
    forAll: true,
  }),
  fill: field<(typeof FILLS)[number]>({
    kind: kinds.choice(FILLS),
    preset: always('hatch' as const),
    stage: 'print',
    title: 'Inside the pieces',
    option: 'fill',
    help: 'what tells the fabrics apart on the templates: hatches, the colour pale or nearly as it is, or the code alone',
    forAll: true,
  }),
  designer: field<string>({
    kind: kinds.text(200, '<name>'),
    preset: always(''),
    stage: 'print',
    title: 'Designer',
    option: 'designer',
    help: 'printed at the foot of every page',
    forAll: true,
  }),
  edition: field<string>({
    kind: kinds.text(4, '<letter>'),
    preset: always(''),
    stage: 'number',
    title: 'Edition',
    help: 'B, C … where an earlier one of this block has been printed',
  }),
} as const;
