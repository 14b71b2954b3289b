// What other programs call: the whole way in one call, or stage by stage. Every option may be left out.
import { type BlockOutput, makeBlockOf } from './commands/block.ts';
import type { Shading } from './data.ts';
import type { FitFound } from './fit/fit-partition.ts';
import { type ReadPicture, readPicture as read } from './pipeline/figure.ts';
import { fitPieces as piecesFor } from './pipeline/fit.ts';
import { type NumberedBlock, numberBlock, proveBlock } from './pipeline/number.ts';
import { type PrintedBlock, printBlock } from './pipeline/print.ts';
import { shade } from './pipeline/shade.ts';
import { type Progress, quiet } from './pipeline/work.ts';
import { completeSettings, type Settings } from './settings/settings.ts';
import type { ShadingFound } from './shade/shade-picture.ts';

/** Settings by their names, each with a default; lengths in mm. */
export type Options = Partial<Settings> & {
  /** what the picture's file is called: for messages, and as the block's name where none is given */
  readonly fileName?: string;
  /** hears how far the work is; may throw to end it */
  readonly progress?: Progress;
};

function split({ fileName = 'picture', progress = quiet, ...set }: Options) {
  const stem = fileName.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '');
  return { fileName, progress, settings: completeSettings({ ...(stem && { name: stem.slice(0, 80) }), ...set }) };
}

/** A picture's bytes (JPEG, PNG, WebP, HEIC, SVG …) -> the block, its warnings, and its files: block, regions, preview, packet.
 *  Throws UserError for what a person can mend: a file that is no picture, a setting out of its range. */
export async function makeBlock(bytes: Uint8Array, options: Options = {}): Promise<BlockOutput> {
  const { fileName, progress, settings } = split(options);
  return makeBlockOf({ picture: { bytes, name: fileName } }, settings, { progress });
}

/** Stage 1: a picture's bytes -> the part of the picture that the block shows. */
export async function readPicture(bytes: Uint8Array, options: Options = {}): Promise<ReadPicture> {
  const { fileName, progress, settings } = split(options);
  return read(bytes, fileName, settings, progress);
}

/** Stage 2: the part of the picture -> a grid of fabrics. */
export async function shadePicture(picture: ReadPicture, options: Options = {}): Promise<ShadingFound> {
  const { progress, settings } = split(options);
  return shade(picture, settings, progress);
}

/** Stage 3: a grid of fabrics -> the pieces, convex, on the grid of 1 micrometre. */
export function fitPieces(shading: Shading, options: Options = {}): FitFound {
  const { progress, settings } = split(options);
  return piecesFor(shading, settings, undefined, progress).at(-1)!;
}

/** Stages 4 and 5: the pieces -> a numbered block that has passed the sewing check. */
export function numberPieces(
  pieces: FitFound,
  shading: Shading,
  options: Options = {},
  picture?: Pick<ReadPicture, 'picture'>,
): NumberedBlock {
  const { settings } = split(options);
  const numbered = numberBlock(pieces, shading, settings, picture?.picture);
  proveBlock(numbered.block, settings);
  return numbered;
}

/** Stages 6 to 9: a numbered block -> templates, shopping list and packet; with `picture` the packet shows it beside the block. */
export async function printPacket(
  numbered: NumberedBlock,
  options: Options = {},
  picture?: Pick<ReadPicture, 'picture'>,
): Promise<PrintedBlock> {
  const { progress, settings } = split(options);
  const from = {
    outlines: numbered.outlines,
    ...(picture && { picture: { ...picture.picture, turned: settings.turn } }),
  };
  return printBlock(numbered.block, from, settings, numbered.notes, progress);
}
