// The taught weights: beside this file, or where the built program keeps them.
import { readFileSync } from 'node:fs';
import type { FaceModel } from './find-face.ts';

let known: FaceModel | undefined;

/** Undefined where the weights were left out of the installation. */
export function readFaceModel(): FaceModel | undefined {
  for (const place of ['./face-model/face.json', '../src/figure/face-model/face.json'])
    try {
      known ??= JSON.parse(readFileSync(new URL(place, import.meta.url), 'utf8')) as FaceModel;
    } catch {
      // the next place
    }
  return known;
}
