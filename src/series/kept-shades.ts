// A picture's shades between the two rounds of a series: a file of their own each, which a run that goes on finds. Light: whoever only
// hands pictures out reads them too.
import { mkdir, readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { ColourCloud } from '../colour/cluster.ts';
import type { Picture, Shading } from '../data.ts';
import { writeWhole } from '../files.ts';
import { shadesOf } from '../shade/share-fabrics.ts';

/** What a series needs to know of a picture before its fabrics are chosen. */
export interface Shades {
  readonly cloud: ColourCloud;
  /** colour of what lies along the block's edge most */
  readonly ground: string;
}

/** A picture's shades, with all that its block is made of later. */
export interface ShadedPicture {
  readonly shades: Shades;
  /** opaque, to be kept and handed back */
  readonly kept: Uint8Array;
}

export interface Kept {
  readonly shading: Shading;
  readonly source: Pick<Picture, 'width' | 'height' | 'source' | 'notes'>;
}

export const keep = (kept: Kept): ShadedPicture => ({ shades: shadesOfKept(kept), kept: serialize(kept) });

/** Throws where they are not whole. */
export const unpack = (kept: Uint8Array): Kept => deserialize(kept) as Kept;

const shadesOfKept = ({ shading }: Kept): Shades => ({
  cloud: shadesOf(shading),
  ground: shading.fabrics[groundOf(shading)]!.colour,
});

/** Those of a run before this one; none where they are not there, or only half written when the work was stopped. */
export async function readShades(cache: string): Promise<ShadedPicture | undefined> {
  try {
    const kept = await readFile(cache);
    return { shades: shadesOfKept(unpack(kept)), kept };
  } catch {
    return undefined;
  }
}

export async function writeShades(cache: string, { kept }: ShadedPicture): Promise<void> {
  await mkdir(dirname(cache), { recursive: true });
  await writeWhole(cache, kept);
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
