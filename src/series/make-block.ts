// What a series does for one picture, from bytes to bytes: its shades, then its block. The threads of this computer do it between
// files (make-in-folder.ts), other computers between messages (crew-over-queue.ts); what is made is the same.
import { type Block, readBlock } from '../block.ts';
import type { Picture } from '../data.ts';
import { findVoid } from '../pipeline/change.ts';
import { finishBlock } from '../pipeline/schedule.ts';
import { shadeFile } from '../pipeline/shade.ts';
import { quiet } from '../pipeline/work.ts';
import { dressIn } from '../shade/share-fabrics.ts';
import type { BlockBytes, MadeBlock, PictureBytes } from './block-bytes.ts';
import { onOwnGround } from './grounds.ts';
import { groundOf, type Kept, keep, type ShadedPicture, unpack } from './kept-shades.ts';

export const shadePicture = async (picture: PictureBytes): Promise<ShadedPicture> => keep(await shade(picture));

async function shade({ bytes, file, settings }: PictureBytes): Promise<Kept> {
  const { picture, shading } = await shadeFile(bytes, file, settings);
  const { width, height, source, notes } = picture;
  return { shading, source: { width, height, source, notes } };
}

export async function makeBlock({ order, from, before }: BlockBytes): Promise<MadeBlock> {
  const { shading, source } = 'kept' in from ? unpack(from.kept) : await shade(from.picture);
  const { key, settings, fabrics, edition } = order;
  const dressed =
    order.own === undefined
      ? dressIn(shading, fabrics)
      : onOwnGround(shading, groundOf(shading), fabrics[0]!, order.own);
  const picture: Picture = { ...source, pixels: new Uint8Array(0) };
  const made = await finishBlock(dressed, { ...settings, edition }, quiet, picture);
  const { block, sheets, misplaced, warnings, files } = made;
  const old = before === undefined ? undefined : blockOf(before);
  const eyes = [...dressed.grown, ...dressed.lost].map((m) => m.at[1]);
  return {
    made: {
      key,
      pieces: block.sections.reduce((n, s) => n + s.pieces.length, 0),
      sections: block.sections.length,
      ...{ sheets, misplaced, warnings },
      ...(eyes.length && { eyes: eyes.reduce((t, y) => t + y, 0) / eyes.length }),
      ...(old && { print: findVoid(old, block, settings).print }),
    },
    files: {
      'block.json': files.block,
      'regions.png': files.regions,
      'shades.png': files.shades,
      'preview.png': files.preview,
      'packet.pdf': files.packet,
    },
  };
}

/** None where the file is not whole: what it was made of cannot be compared then. */
function blockOf(text: string): Block | undefined {
  try {
    return readBlock(text, 'the block before');
  } catch {
    return undefined;
  }
}
