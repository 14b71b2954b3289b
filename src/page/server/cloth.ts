// A snapshot of cloth -> its colour, and its middle as a picture to show pieces in.
import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import { openPicture } from '../../picture/read-picture.ts';
import { readCloth } from '../../pipeline/read.ts';
import type { Progress } from '../../pipeline/work.ts';
import type { WorkCloth } from '../api.ts';
import type { Snapshot } from './jobs.ts';

/** share of the snapshot that shows the cloth and not the table, and the side of the picture of it in pixels */
const MIDDLE = 0.5;
const SIDE = 512;

export async function readSnapshot({ path, name, id, middle }: Snapshot, progress: Progress): Promise<WorkCloth> {
  progress.stage('looking at the cloth');
  const bytes = new Uint8Array(await readFile(path));
  const cloth = await readCloth(bytes, name);
  const { rgb, width, height } = await openPicture(bytes, name, true);
  const side = Math.max(1, Math.floor(MIDDLE * Math.min(width, height)));
  await sharp(rgb, { raw: { width, height, channels: 3 } })
    .extract({
      left: Math.floor((width - side) / 2),
      top: Math.floor((height - side) / 2),
      width: side,
      height: side,
    })
    .resize(SIDE, SIDE, { withoutEnlargement: true })
    .jpeg({ quality: 85 })
    .toFile(middle);
  const { name: called, colour, print } = cloth;
  return { id, name: called, colour, ...(print && { print }) };
}
