// What a picture's block is made of, as files name it and as bytes that can travel.
import type { Fabric } from '../block.ts';
import { readInput } from '../files.ts';
import type { Settings } from '../settings/settings.ts';
import { type BlockFiles, type Made, readBefore } from './block-folder.ts';
import { readShades } from './kept-shades.ts';

export interface PictureToShade {
  readonly file: string;
  readonly settings: Settings;
  /** where the shades are kept until the block is made */
  readonly cache: string;
}

/** Settings and fabrics of a block, whatever it is made from. */
export interface BlockOrder {
  readonly settings: Settings;
  /** what the block was made from; kept beside it */
  readonly key: string;
  readonly edition: string;
  readonly fabrics: readonly Fabric[];
  /** only the first of `fabrics`, the background, is common; the picture's own are numbered with this */
  readonly own?: number;
}

export interface BlockToMake extends BlockOrder {
  readonly file: string;
  readonly cache: string;
  /** the block's folder; a finished one is replaced as a whole */
  readonly folder: string;
}

/** A picture as it was read, with what it is to become. */
export interface PictureBytes {
  readonly bytes: Uint8Array;
  /** what sentences about it call it */
  readonly file: string;
  readonly settings: Settings;
}

export interface BlockBytes {
  readonly order: BlockOrder;
  /** the picture's shades where they are known, else the picture */
  readonly from: { readonly kept: Uint8Array } | { readonly picture: PictureBytes };
  /** the file of the block that was there before */
  readonly before?: string;
}

export interface MadeBlock {
  readonly made: Made;
  readonly files: BlockFiles;
}

export const readPicture = async ({ file, settings }: Omit<PictureToShade, 'cache'>): Promise<PictureBytes> => ({
  ...{ bytes: await readInput(file), file, settings },
});

/** All that a block is made of, read from the files. */
export async function readBlockBytes({ file, cache, folder, ...order }: BlockToMake): Promise<BlockBytes> {
  const { settings } = order;
  const kept = (await readShades(cache))?.kept;
  const before = await readBefore(folder, settings.name);
  return {
    order,
    from: kept ? { kept } : { picture: await readPicture({ file, settings }) },
    ...(before !== undefined && { before }),
  };
}
