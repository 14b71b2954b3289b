// What the page asks of its threads, and what they answer: plain data that can be handed over.
import type { Block, Fabric } from '../../block.ts';
import type { Foreseen } from '../../pipeline/look.ts';
import type { Settings } from '../../settings/settings.ts';
import { type JobTable, job } from '../../threads/jobs.ts';
import type {
  Change,
  FabricList,
  Format,
  NewFabric,
  Plan,
  SheetLine,
  Summary,
  WorkChoices,
  WorkCloth,
  WorkComparison,
} from '../api.ts';
import type { ToPlanWorks } from './plan-works.ts';

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

export interface ToOpen extends PictureFile {
  /** where the upright picture goes, for showing */
  readonly upright: string;
  readonly settings: Settings;
}
export type Opened =
  | { readonly kind: 'picture'; readonly width: number; readonly height: number }
  | ({ readonly kind: 'block'; readonly block: Block } & Facts);

export interface ToMake {
  readonly picture: PictureFile;
  readonly settings: Settings;
  /** whether a first look is wanted as a part of the answer */
  readonly look: boolean;
  readonly foreseen?: Foreseen;
}
/** What takes long and may be wanted soon: asked while nobody waits. */
export interface ToForesee {
  readonly picture: PictureFile;
}
/** A first look at other settings. */
export type ToGlance = Omit<ToMake, 'look'>;
export interface MadeWork extends Facts {
  readonly block: Block;
  readonly choices: WorkChoices;
  /** the fit's: they are printed in the packet too */
  readonly notes: readonly string[];
  /** the posterised picture as the block shows it, a PNG of indices into the fabrics */
  readonly regions: Uint8Array;
}

export interface ToChange {
  readonly block: Block;
  readonly change: Exclude<Change, { kind: 'cloth' }>;
  readonly settings: Settings;
}
export interface Changed extends Facts {
  readonly block: Block;
}

/** Changes by hand of one fit, for another. */
export interface ToCarry {
  /** as it was fitted, and as it was changed by hand */
  readonly fitted: Block;
  readonly changed: Block;
  /** fitted since */
  readonly block: Block;
  readonly settings: Settings;
}
export interface Carried extends Changed {
  /** names of the pieces that were given their fabric again, and of the fabrics that were named or coloured again */
  readonly pieces: readonly string[];
  readonly fabrics: readonly string[];
}

/** A block as it is printed: `by` tells whose way of the commands' it takes, so that the same bytes come out. */
export interface Printable {
  readonly block: Block;
  readonly by: 'picture' | 'change' | 'file';
  readonly notes: readonly string[];
  readonly regions?: Uint8Array;
}
export interface ToPrint extends Printable {
  readonly settings: Settings;
  readonly format: Exclude<Format, 'block.json'>;
}
export interface ToDraw {
  readonly block: Block;
  readonly settings: Settings;
}
export interface Sheets {
  readonly lines: readonly SheetLine[];
  readonly pictures: readonly string[];
}
export interface ToPlan {
  readonly block: Block;
  readonly settings: Settings;
}
export interface Snapshot extends PictureFile {
  readonly id: string;
  /** where the middle of the snapshot goes */
  readonly middle: string;
}
export interface ToCompare {
  readonly picture: PictureFile;
  readonly settings: Settings;
  readonly asked: { readonly shades?: readonly number[]; readonly pieces?: readonly number[] };
  readonly workers: number;
}

export interface SeriesToMake {
  readonly name: string;
  readonly common: 'fabrics' | 'background';
  /** how many fabrics in common, or which; and which must be among them */
  readonly fabrics?: number | readonly NewFabric[];
  readonly keep?: readonly NewFabric[];
  /** the pictures, by the names of their files in `folder`, in the series' order */
  readonly folder: string;
  readonly settings: Readonly<Record<string, Settings>>;
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

export interface PageJobs {
  openFile: { input: ToOpen; output: Opened };
  /** a first look comes as a part */
  makeWork: { input: ToMake; output: MadeWork; part: MadeWork };
  glance: { input: ToGlance; output: Block };
  foresee: { input: ToForesee; output: Foreseen };
  changeWork: { input: ToChange; output: Changed };
  tellFacts: { input: ToPlan; output: Facts };
  carryOver: { input: ToCarry; output: Carried | undefined };
  printWork: { input: ToPrint; output: Uint8Array };
  drawSheets: { input: ToDraw; output: Sheets };
  listFabric: { input: ToPlan; output: FabricList };
  planWorks: { input: ToPlanWorks; output: Plan };
  planPages: { input: ToPlanWorks; output: Uint8Array };
  readSnapshot: { input: Snapshot; output: WorkCloth };
  compareWork: { input: ToCompare; output: WorkComparison };
  makeSeries: { input: SeriesToMake; output: SeriesMade };
}

const making = () => import('./make-work.ts');
const planning = () => import('./plan-works.ts');
const printing = () => import('./print-work.ts');

export const pageJobs: JobTable<PageJobs> = {
  openFile: job(making, ({ openFile }, input, told) => openFile(input, told)),
  makeWork: job(making, ({ makeWork }, input, told) => makeWork(input, told, told.part)),
  glance: job(making, ({ glance }, input, told) => glance(input, told)),
  foresee: job(making, ({ foresee }, input) => foresee(input)),
  changeWork: job(
    () => import('./change-work.ts'),
    ({ changeWork }, input, told) => changeWork(input, told),
  ),
  tellFacts: job(
    () => import('./facts.ts'),
    async ({ factsOf }, { block, settings }) => factsOf(block, settings),
  ),
  carryOver: job(
    () => import('./carry-over.ts'),
    async ({ carryOver }, input) => carryOver(input),
  ),
  printWork: job(printing, ({ printWork }, input, told) => printWork(input, told)),
  drawSheets: job(printing, ({ drawSheets }, input, told) => drawSheets(input, told)),
  listFabric: job(
    () => import('./fabric-list.ts'),
    ({ listFabric }, input, told) => listFabric(input, told),
  ),
  planWorks: job(planning, async ({ planWorks }, input, told) => planWorks(input, told)),
  planPages: job(planning, ({ planPages }, input, told) => planPages(input, told)),
  readSnapshot: job(
    () => import('./cloth.ts'),
    ({ readSnapshot }, input, told) => readSnapshot(input, told),
  ),
  compareWork: job(
    () => import('./compare-work.ts'),
    ({ compareWork }, input, told) => compareWork(input, told),
  ),
  makeSeries: job(
    () => import('./series-work.ts'),
    ({ makeSeries }, input, told) => makeSeries(input, told),
  ),
};
