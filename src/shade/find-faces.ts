// Finds faces seen from the front: of cats, of dogs that look like one, of people. Takes a Picture, gives discs on it.
import { readFileSync } from 'node:fs';
import type { Picture } from '../data.ts';
import { shrinkPixels } from './cells.ts';
import { type Box, findTaught } from './opencv.ts';

/** A disc about a face: its middle and radius as shares of the picture's width (y: of its height). */
export interface Face {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** Longer side of the copy that is looked at, and of the smallest face in it: of the set's photos six have one that is found
 *  (three cats, two dogs, a person), and nothing else is taken for one. */
const SIDE = 288;
const LEAST = 0.1;
/** The disc's radius over half the box's width: chin and brow reach a little beyond the box. */
const ROOM = 1.1;
const MODELS = ['cat-face.xml', 'human-face.xml'];

/** A model's bytes: beside this file, or where the built program keeps them. */
function readModel(name: string): Uint8Array | undefined {
  for (const place of ['./face-model/', '../src/shade/face-model/'])
    try {
      return readFileSync(new URL(place + name, import.meta.url));
    } catch {
      // the next place
    }
  return undefined;
}

/** The faces in the picture as it stands, the largest first; none where the models were left out of the installation. */
export async function findFaces(picture: Pick<Picture, 'pixels' | 'width' | 'height'>): Promise<Face[]> {
  const scale = SIDE / Math.max(picture.width, picture.height);
  const [w, h] = [picture.width, picture.height].map((v) => Math.max(1, Math.round(v * scale))) as [number, number];
  const rgb = shrinkPixels(picture.pixels, picture.width, picture.height, w, h);
  // luma of ITU-R BT.601, which the cascades were taught on
  const grey = Uint8Array.from({ length: w * h }, (_, i) =>
    Math.round(0.299 * rgb[3 * i]! + 0.587 * rgb[3 * i + 1]! + 0.114 * rgb[3 * i + 2]!),
  );
  const boxes: Box[] = [];
  for (const name of MODELS) {
    const model = readModel(name);
    if (model) boxes.push(...(await findTaught(name, () => model, grey, w, h, Math.round(LEAST * SIDE))));
  }
  boxes.sort((a, b) => b.width - a.width || a.y - b.y || a.x - b.x);
  // what lies in a larger face is that face, or a part of it
  const middles = boxes.map((b) => [b.x + b.width / 2, b.y + b.height / 2] as const);
  const inside = (i: number, b: Box): boolean => {
    const [x, y] = middles[i]!;
    return x > b.x && x < b.x + b.width && y > b.y && y < b.y + b.height;
  };
  return boxes
    .filter((_, i) => !boxes.slice(0, i).some((larger) => inside(i, larger)))
    .map(({ x, y, width, height }) => ({
      x: (x + width / 2) / w,
      y: (y + height / 2) / h,
      r: (ROOM * width) / 2 / w,
    }));
}

/** Radius at which a face has faded into the rest, over its own. */
const FADE = 1.3;

/** 1 in the faces, 0 outside; undefined where there are none. */
export function inFaces(faces: readonly Face[], w: number, h: number): Float32Array | undefined {
  if (!faces.length) return undefined;
  return Float32Array.from({ length: w * h }, (_, i) => {
    const [x, y] = [(i % w) + 0.5, Math.floor(i / w) + 0.5];
    return faces.reduce((most, f) => {
      const away = Math.hypot(x - f.x * w, y - f.y * h) / (f.r * w);
      return Math.max(most, Math.min(1, (FADE - away) / (FADE - 1)));
    }, 0);
  });
}
