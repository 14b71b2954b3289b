// A picture's shades and its block by one of this computer's threads: from the picture's file to the block's folder. What is handed
// back is small.
import { type BlockToMake, type PictureToShade, readBlockBytes, readPicture } from './block-bytes.ts';
import { type Made, writeBlockFolder } from './block-folder.ts';
import { readShades, type Shades, writeShades } from './kept-shades.ts';
import { makeBlock, shadePicture } from './make-block.ts';

export async function shadeForSeries(picture: PictureToShade): Promise<Shades> {
  const before = await readShades(picture.cache);
  if (before) return before.shades;
  const shaded = await shadePicture(await readPicture(picture));
  await writeShades(picture.cache, shaded);
  return shaded.shades;
}

export async function makeSeriesBlock(job: BlockToMake): Promise<Made> {
  const { made, files } = await makeBlock(await readBlockBytes(job));
  await writeBlockFolder(job.folder, job.settings.name, files, made);
  return made;
}
