// 3-9 over two threads: what does not wait for something is begun early, and given to the other thread where there is one. What
// comes out is the same to the byte as one stage after another; what each stage does stands in its own file.
import type { Block } from '../block.ts';
import type { Picture, Shading } from '../data.ts';
import { measureQuality, type Quality } from '../quality/measure-quality.ts';
import type { Settings } from '../settings/settings.ts';
import { writeRegions, writeShades } from '../shade/regions-file.ts';
import { fitBeside, fitPieces } from './fit.ts';
import { faceOf, numberBlock, proveBlock } from './number.ts';
import type { MadeFrom, PacketSettings, PrintedBlock } from './print.ts';
import { type Beside, orHere, type Progress, quiet } from './work.ts';

export interface MadeBlock extends PrintedBlock {
  readonly shading: Shading;
  readonly misplaced: number;
  readonly quality: Quality;
  readonly files: PrintedBlock['files'] & { readonly regions: Uint8Array; readonly shades: Uint8Array };
}

/** A grid of fabrics -> the block and its packet. Every block that leaves has passed the sewing check. */
export async function finishBlock(
  shading: Shading,
  settings: Settings,
  progress: Progress = quiet,
  picture?: Picture,
  beside?: Beside,
): Promise<MadeBlock> {
  const fitting = expected(beside && fitBeside(shading, settings, progress, beside));
  // while the pieces are fitted
  const printing = expected(loadPrinting(beside !== undefined));
  const face = faceOf(shading, settings);
  const regions = expected(writeRegions(face.shown));
  const shades = expected(writeShades(face.shown));

  const fits = (await orHere(fitting)) ?? fitPieces(shading, settings, undefined, progress);
  progress.stage('numbering sections');
  const { block, outlines, shown, misplaced, notes } = numberBlock(fits.at(-1)!, shading, settings, picture, face);
  const from: MadeFrom = { outlines, ...(picture && { picture: { ...picture, turned: settings.turn } }) };
  const printed = expected(printProven(block, from, settings, notes, progress, beside, await printing));
  const judging = expected(beside?.quality(block, shown, settings));
  const made = await printed;
  return {
    ...made,
    ...{ shading: shown, misplaced },
    quality: (await orHere(judging)) ?? measureQuality(block, shown, settings),
    files: { ...made.files, regions: await regions, shades: await shades },
  };
}

/** 5-9: a numbered block -> the check, and all that is printed for it. */
export async function printProven(
  block: Block,
  from: MadeFrom,
  settings: PacketSettings,
  notes: readonly string[] = [],
  progress: Progress = quiet,
  beside?: Beside,
  loaded?: typeof import('./print.ts'),
): Promise<PrintedBlock> {
  progress.stage('checking that it can be sewn');
  proveBlock(block, settings);
  const { printBlock } = loaded ?? (await loadPrinting(false));
  return printBlock(block, from, settings, notes, progress, beside);
}

async function loadPrinting(early: boolean): Promise<typeof import('./print.ts')> {
  const [print, fonts] = await Promise.all([import('./print.ts'), import('../drawing/fonts.ts')]);
  if (early) fonts.openFonts();
  return print;
}

/** A promise that is awaited later: where something before it fails, nobody will, and that is no fault. */
function expected<T extends Promise<unknown> | undefined>(promise: T): T {
  promise?.catch(() => {});
  return promise;
}
