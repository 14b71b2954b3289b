// What is asked of the worker threads, and what they answer: plain data that can be handed over. Types only.
import type { Block, Fabric } from '../../block.ts';
import type { BlockChange } from '../../data.ts';
import type { BlockSettings } from '../../pipeline.ts';
import type { Guess } from '../../shade/find-subject.ts';
import type { Choices, Cloth, Comparison, FabricList, Format, SheetLine, Summary } from '../api.ts';

/** A picture's bytes on disk, and what the person called the file. */
export interface PictureFile {
  readonly path: string;
  readonly name: string;
}

/** What is said of a block beside the block itself. */
export interface Facts {
  readonly summary: Summary;
  /** what the person should mind, beyond the fit's own notes */
  readonly minds: readonly string[];
}

export interface OpenJob extends PictureFile {
  readonly kind: 'open';
  /** where the upright picture goes, for showing */
  readonly upright: string;
  readonly settings: BlockSettings;
}
export type Opened =
  | { readonly kind: 'picture'; readonly width: number; readonly height: number }
  | ({ readonly kind: 'block'; readonly block: Block } & Facts);

export interface MakeJob {
  readonly kind: 'make';
  readonly picture: PictureFile;
  readonly settings: BlockSettings;
  /** whether a first look is wanted as a part of the answer */
  readonly look: boolean;
  readonly foreseen?: Foreseen;
}
/** What takes long and may be wanted soon: asked while nobody waits. */
export interface ForeseeJob {
  readonly kind: 'foresee';
  readonly picture: PictureFile;
}
export interface Foreseen {
  /** where the subject of the whole picture is; absent where it is no photo, or nothing stands out */
  readonly guess?: Guess;
}
export interface Made extends Facts {
  readonly block: Block;
  readonly choices: Choices;
  /** the fit's: they are printed in the packet too */
  readonly notes: readonly string[];
  /** the posterised picture as the block shows it, a PNG of indices into the fabrics */
  readonly regions: Uint8Array;
}

export interface ChangeJob {
  readonly kind: 'change';
  readonly block: Block;
  readonly change: BlockChange;
  readonly settings: BlockSettings;
}
export interface Changed extends Facts {
  readonly block: Block;
}

/** A block as it is printed: `by` tells whose way of the commands' it takes, so that the same bytes come out. */
export interface Printable {
  readonly block: Block;
  readonly by: 'picture' | 'change' | 'file';
  readonly notes: readonly string[];
  readonly regions?: Uint8Array;
}
export interface PrintJob extends Printable {
  readonly kind: 'print';
  readonly settings: BlockSettings;
  readonly format: Exclude<Format, 'block.json'>;
}
export interface SheetsJob {
  readonly kind: 'sheets';
  readonly block: Block;
  readonly settings: BlockSettings;
}
export interface Sheets {
  readonly lines: readonly SheetLine[];
  readonly pictures: readonly string[];
}
export interface FabricJob {
  readonly kind: 'fabric';
  readonly block: Block;
  readonly settings: BlockSettings;
}
export interface ClothJob extends PictureFile {
  readonly kind: 'cloth';
  readonly id: string;
  /** where the middle of the snapshot goes */
  readonly middle: string;
}
export interface CompareJob {
  readonly kind: 'compare';
  readonly picture: PictureFile;
  readonly settings: BlockSettings;
  readonly asked: { readonly shades?: readonly number[]; readonly pieces?: readonly number[] };
  readonly workers: number;
}

export interface SeriesJob {
  readonly kind: 'series';
  readonly name: string;
  readonly common: 'fabrics' | 'background';
  /** the pictures, by the names of their files in `folder`, in the series' order */
  readonly folder: string;
  readonly settings: Readonly<Record<string, BlockSettings>>;
  /** where `seamwright series` would put it all; what is there already is gone on with */
  readonly out: string;
  readonly workers: number;
}
export interface SeriesMade {
  readonly fabrics: readonly Fabric[];
  readonly blocks: readonly (Facts & {
    readonly file: string;
    readonly block: Block;
    readonly notes: readonly string[];
    /** the PNG of its regions */
    readonly regions: string;
  })[];
  readonly failed: readonly { readonly file: string; readonly error: string }[];
  readonly odd: readonly string[];
  /** in `out` */
  readonly files: readonly { readonly name: string; readonly title: string }[];
}

/** Each kind of job with its answer. */
export interface Answers {
  open: Opened;
  make: Made;
  foresee: Foreseen;
  change: Changed;
  print: Uint8Array;
  sheets: Sheets;
  fabric: FabricList;
  cloth: Cloth;
  compare: Comparison;
  series: SeriesMade;
}
export type Job =
  | OpenJob
  | MakeJob
  | ForeseeJob
  | ChangeJob
  | PrintJob
  | SheetsJob
  | FabricJob
  | ClothJob
  | CompareJob
  | SeriesJob;
export type AnswerTo<J extends Job> = Answers[J['kind']];

/** `stop` holds one number; anything but 0 asks the worker to leave off. */
export interface Ask {
  readonly job: Job;
  readonly stop: SharedArrayBuffer;
}
export type Said =
  | { readonly kind: 'part'; readonly part: unknown }
  | { readonly kind: 'progress'; readonly stage: string; readonly share: number }
  | { readonly kind: 'answer'; readonly answer: unknown }
  /** a sentence for the person */
  | { readonly kind: 'refused'; readonly says: string }
  | { readonly kind: 'fault'; readonly says: string }
  | { readonly kind: 'stopped' };
