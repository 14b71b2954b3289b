// The labelled pictures that the face model is taught on, as the program sees them.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Seen, seePairs } from '../src/figure/find-face.ts';
import { type Likely, lookAt, toLook } from '../src/figure/look.ts';
import { type Disc, describeFace, facePatch, type Pair } from '../src/figure/pairs.ts';
import { type OpenedPicture, openPicture } from '../src/picture/read-picture.ts';
import { lookAhead } from '../src/pipeline/look.ts';

interface Label {
  readonly eyes: readonly { x: number; y: number; w: number; h: number }[];
  readonly nose: { x: number; y: number; w: number; h: number } | null;
  readonly view: string;
  readonly usable: boolean;
}

/** The same photo in other files: left out together. */
const PHOTO: Record<string, string> = {
  'fmt-16bit-chelsea.png': 'cat-chelsea-face.jpg',
  'fmt-avif-sheep.avif': 'sheep-white-on-green.jpg',
  'fmt-cmyk-owl.jpg': 'owl-low-contrast.jpg',
  'fmt-exif4-mirrored-cat.jpg': 'cat-white-tabby-on-pink.webp',
  'fmt-exif6-portrait-dog.jpg': 'dog-shepherd-dry-grass.jpg',
  'fmt-heic-duck.heic': 'duck-white-on-black.jpg',
  'fmt-tiff-horses.tif': 'horses-black-group.jpg',
  'fmt-soft-alpha-tulips.png': 'flower-tulips.jpg',
};

export interface Example {
  readonly name: string;
  readonly group: string;
  readonly label: Label;
  readonly seen: Seen;
  readonly opened: OpenedPicture;
  readonly guess: Likely | undefined;
  /** the labelled eyes in the look, left first: x, y, width */
  readonly eyes: readonly (readonly [number, number, number])[];
  readonly nose?: readonly [number, number, number];
  readonly face: boolean;
  /** descriptors of all pairs */
  readonly described: Float32Array[];
  /** 1 right, 0 wrong, -1 neither */
  readonly truth: Int8Array;
}

const folder = process.argv.includes('--folder')
  ? process.argv[process.argv.indexOf('--folder') + 1]!
  : join(import.meta.dirname, '..', '..', 'shared', 'pictures');
const labels = JSON.parse(readFileSync(join(folder, 'labels.json'), 'utf8')) as Record<string, Label>;
/** What the subject network and the cascades say of a picture; kept in the folder --keep names, for both take long. */
async function askBefore(opened: OpenedPicture): Promise<{ guess?: Likely; faces: readonly Disc[] }> {
  const keep = process.argv.includes('--keep')
    ? join(process.argv[process.argv.indexOf('--keep') + 1]!, `${opened.name}.json`)
    : undefined;
  if (keep && existsSync(keep)) {
    const { guess, faces } = JSON.parse(readFileSync(keep, 'utf8')) as {
      guess?: Likely & { likely: number[] };
      faces: Disc[];
    };
    return { faces, ...(guess && { guess: { ...guess, likely: Float32Array.from(guess.likely) } }) };
  }
  const { guess, faces } = await lookAhead(opened);
  if (keep)
    writeFileSync(
      keep,
      JSON.stringify({ faces, ...(guess && { guess: { ...guess, likely: Array.from(guess.likely) } }) }),
    );
  return { faces, ...(guess && { guess }) };
}

async function readExample(name: string): Promise<Example> {
  const label = labels[name]!;
  const file = ['fixtures', 'measure-only'].map((d) => join(folder, d, 'photos', name)).find(existsSync)!;
  const opened = await openPicture(readFileSync(file), name);
  const { guess, faces } = await askBefore(opened);
  const look = lookAt(opened, guess);
  const seen = seePairs(look, faces, opened.pixels);
  const place = (f: { x: number; y: number; w: number }): [number, number, number] => [
    ...toLook(look, f.x * opened.pixels[0], f.y * opened.pixels[1]),
    (f.w * opened.pixels[0] * look.side) / look.from[2],
  ];
  const eyes = label.eyes.map(place).sort((a, b) => a[0] - b[0]);
  const face = label.usable && eyes.length === 2 && label.view !== 'profile';
  const off = (p: Pair): number =>
    Math.max(
      ...[p.left, p.right].map(
        (s, i) => Math.hypot(s.x - eyes[i]![0], s.y - eyes[i]![1]) / Math.max(eyes[0]![2], eyes[1]![2]),
      ),
    );
  const truth = Int8Array.from(seen.pairs, (p) =>
    eyes.length < 2 ? (label.usable && eyes.length ? 0 : 0) : off(p) <= 0.5 ? 1 : off(p) <= 1.2 ? -1 : 0,
  );
  return {
    ...{ opened, guess, name, group: PHOTO[name] ?? name, label, seen, eyes, face, truth },
    ...(label.nose && { nose: place(label.nose) }),
    described: seen.pairs.map((p) => describeFace(facePatch(seen.pyramid, p))),
  };
}

/** All that are labelled, in the order of the list. */
export async function readExamples(): Promise<Example[]> {
  const examples: Example[] = [];
  for (const name of Object.keys(labels)) examples.push(await readExample(name));
  return examples;
}
