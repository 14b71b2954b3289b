// What a series does for one picture: its shades, then its block. Run in worker threads; what is handed back is small.
import { existsSync } from 'node:fs';
import { mkdir, readFile, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import { type Block, type Fabric, readBlock } from '../block.ts';
import type { ColourCloud } from '../colour/cluster.ts';
import type { Picture, Shading } from '../data.ts';
import { outputPath, readInput, writeWhole } from '../files.ts';
import { findVoid } from '../pipeline/change.ts';
import { finishBlock } from '../pipeline/schedule.ts';
import { shadeFile } from '../pipeline/shade.ts';
import { quiet } from '../pipeline/work.ts';
import type { Settings } from '../settings/settings.ts';
import { dressIn, shadesOf } from '../shade/share-fabrics.ts';
import { MADE_FILE, type Made, swapIn } from './block-folder.ts';
import { onOwnGround } from './grounds.ts';

export interface PictureToShade {
  readonly file: string;
  readonly settings: Settings;
  /** where the shading is kept until the block is made */
  readonly cache: string;
}

export interface BlockToMake {
  readonly file: string;
  readonly settings: Settings;
  readonly cache: string;
  /** the block's folder; a finished one is replaced as a whole */
  readonly folder: string;
  /** what the block was made from; kept beside it */
  readonly key: string;
  readonly edition: string;
  readonly fabrics: readonly Fabric[];
  /** only the first of `fabrics`, the background, is common; the picture's own are numbered with this */
  readonly own?: number;
}

export interface Shades {
  readonly cloud: ColourCloud;
  /** colour and share of what lies along the block's edge most */
  readonly ground: string;
}

interface Kept {
  readonly shading: Shading;
  readonly source: Pick<Picture, 'width' | 'height' | 'source' | 'notes'>;
}

export async function shadeForSeries(picture: PictureToShade): Promise<Shades> {
  const { shading } = await keptShading(picture);
  return { cloud: shadesOf(shading), ground: shading.fabrics[groundOf(shading)]!.colour };
}

async function keptShading({ file, settings, cache }: PictureToShade): Promise<Kept> {
  if (existsSync(cache)) {
    try {
      return deserialize(await readFile(cache)) as Kept;
    } catch {
      // half-written when the work was stopped: made again
    }
  }
  const { picture, shading } = await shadeFile(await readInput(file), file, settings);
  const { width, height, source, notes } = picture;
  const kept: Kept = { shading, source: { width, height, source, notes } };
  await mkdir(dirname(cache), { recursive: true });
  await writeWhole(cache, serialize(kept));
  return kept;
}

export async function makeSeriesBlock(job: BlockToMake): Promise<Made> {
  const { shading, source } = await keptShading(job);
  const dressed =
    job.own === undefined
      ? dressIn(shading, job.fabrics)
      : onOwnGround(shading, groundOf(shading), job.fabrics[0]!, job.own);
  const picture: Picture = { ...source, pixels: new Uint8Array(0) };
  const made = await finishBlock(dressed, { ...job.settings, edition: job.edition }, quiet, picture);
  const { name } = job.settings;
  const before = await oldBlock(job);
  const eyes = [...dressed.grown, ...dressed.lost].map((m) => m.at[1]);
  const summary: Made = {
    key: job.key,
    pieces: made.block.sections.reduce((n, s) => n + s.pieces.length, 0),
    sections: made.block.sections.length,
    sheets: made.sheets,
    misplaced: made.misplaced,
    warnings: made.warnings,
    ...(eyes.length && { eyes: eyes.reduce((t, y) => t + y, 0) / eyes.length }),
    ...(before && { print: findVoid(before, made.block, job.settings).print }),
  };
  const part = `${job.folder}.part`;
  await rm(part, { recursive: true, force: true });
  await mkdir(part, { recursive: true });
  const { files } = made;
  const pictures = { 'regions.png': files.regions, 'shades.png': files.shades, 'preview.png': files.preview };
  const parts = { 'block.json': files.block, ...pictures };
  for (const [ending, bytes] of Object.entries({ ...parts, 'packet.pdf': files.packet }))
    await writeWhole(outputPath(part, `${name}.${ending}`), bytes);
  await writeWhole(join(part, MADE_FILE), `${JSON.stringify(summary)}\n`);
  await swapIn(part, job.folder);
  return summary;
}

async function oldBlock({ folder, settings }: BlockToMake): Promise<Block | undefined> {
  const file = join(folder, `${settings.name}.block.json`);
  try {
    return readBlock(await readFile(file, 'utf8'), file);
  } catch {
    return undefined;
  }
}

/** The label that lies along the outer edge most. */
export function groundOf({ labels, width, height, fabrics }: Shading): number {
  const counts = new Uint32Array(fabrics.length);
  for (let x = 0; x < width; x++) {
    counts[labels[x]!]!++;
    counts[labels[(height - 1) * width + x]!]!++;
  }
  for (let y = 0; y < height; y++) {
    counts[labels[y * width]!]!++;
    counts[labels[y * width + width - 1]!]!++;
  }
  return counts.indexOf(Math.max(...counts));
}
