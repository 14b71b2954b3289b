// Heads that fill the block, with the labelled eyes and nose painted in as shapes: what a fit that keeps features is judged on. The places
// are those of ../shared/pictures/labels.json, found by eye.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { labDistance, oklabOfHex } from '../../src/colour/oklab.ts';
import type { Feature, Shading } from '../../src/data.ts';
import { pieceOfCells } from '../../src/geometry/cells.ts';
import { boundsOf, centroid, type Point } from '../../src/geometry/polygon.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { plainShades } from './plain-shades.ts';

interface Spot {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}
export interface Label {
  readonly head: readonly [number, number, number, number] | null;
  readonly eyes: readonly Spot[];
  readonly nose: Spot | null;
  readonly view: string;
  readonly usable: boolean;
}

export interface Head {
  readonly name: string;
  readonly label: Label;
  readonly shading: Shading;
  /** of the whole picture, and what the block shows of it; pixels */
  readonly pixels: readonly [number, number];
  readonly crop: readonly [number, number, number, number];
}

/** room about the head, as a share of its longer side */
const ROOM = 0.08;
/** an eye and a nose in a 12 in block are at least this large, as shares of the block: 7/8 x 3/4 in */
const EYE = [22.225 / 304.8, 19.05 / 304.8] as const;
/** what lies this near about a feature becomes one shade, as a share of the block */
const ABOUT = 0.035;
/** OKLab distance of a feature's fabric from what is about it: an L* gap of some 25 */
const STANDS_OUT = 0.22;
/** eyes are level where their heights differ by less than this share of their distance */
const LEVEL = 0.18;

/** The pictures with a usable face. */
export async function readHeads(shared: string, shades: number): Promise<Head[]> {
  const labels = JSON.parse(readFileSync(join(shared, 'pictures', 'labels.json'), 'utf8')) as Record<string, Label>;
  const heads: Head[] = [];
  for (const [name, label] of Object.entries(labels)) {
    const file = ['fixtures', 'measure-only']
      .map((set) => join(shared, 'pictures', set, 'photos', name))
      .find(existsSync);
    if (!file || !label.usable || !label.head || label.eyes.length === 0) continue;
    const bytes = readFileSync(file);
    const { source } = await readPicture(bytes, name, { aspect: 1 });
    const [W, H] = source.pixels;
    const [x, y, w, h] = label.head;
    const side = Math.min(W, H, Math.max(w * W, h * H) * (1 + 2 * ROOM));
    const from = (at: number, long: number, of: number): number =>
      Math.min(Math.max(0, at + long / 2 - side / 2), of - side);
    const crop = [from(x * W, w * W, W) / W, from(y * H, h * H, H) / H, side / W, side / H] as const;
    const picture = await readPicture(bytes, name, { aspect: 1, crop: crop as never });
    const shading = plainShades(picture, shades);
    const { pixels, crop: shown } = picture.source;
    const drawn = withFeatures(shading, label, picture.source);
    heads.push({
      name,
      pixels,
      crop: shown,
      shading: drawn,
      label: asDrawn(label, drawn.features ?? [], picture.source),
    });
  }
  return heads;
}

/** The label with eyes and nose as large as they were drawn: what the block is asked for. */
function asDrawn(
  label: Label,
  features: readonly Feature[],
  { pixels: [W, H], crop: [left, top, wide, high] }: Source,
): Label {
  const spots = (kind: Feature['kind']): Spot[] =>
    features
      .filter((f) => f.kind === kind)
      .map(({ outline }) => {
        const { minX, maxX, minY, maxY } = boundsOf(outline);
        const [x, y] = centroid(outline);
        return {
          ...{ x: (x * wide + left) / W, y: (y * high + top) / H },
          ...{ w: ((maxX - minX) * wide) / W, h: ((maxY - minY) * high) / H },
        };
      });
  return { ...label, eyes: spots('eye'), nose: spots('nose')[0] ?? null };
}

interface Source {
  readonly pixels: readonly [number, number];
  readonly crop: readonly [number, number, number, number];
}

/** The shading with eyes and nose painted, each in the fabric that stands out most there, on one shade. */
function withFeatures(given: Shading, label: Label, source: Source): Shading {
  const [W, H] = source.pixels;
  const [left, top, wide, high] = source.crop;
  const place = ({ x, y, w, h }: Spot) => ({
    ...{ x: (x * W - left) / wide, y: (y * H - top) / high },
    ...{ w: Math.max(EYE[0], (w * W) / wide), h: Math.max(EYE[1], (h * H) / high) },
  });
  const eyes = label.eyes.map(place);
  const outlines: { kind: Feature['kind']; outline: Point[]; pair?: number }[] = eyes.map(({ x, y, w, h }) => ({
    ...{ kind: 'eye' as const, ...(eyes.length === 2 && { pair: 1 }) },
    // four corners, a little wider above than below
    outline: trapezoid(x, y, Math.min(w, 2 * h), Math.min(h, 1.6 * w), 0.8),
  }));
  if (label.nose) {
    const { x, y, w, h } = place(label.nose);
    outlines.push({ kind: 'nose', outline: trapezoid(x, y, Math.min(w, 2 * h), Math.min(h, 1.4 * w), 0.6) });
  }
  const inside = outlines.filter((o) => o.outline.every(([x, y]) => x > 0.02 && y > 0.02 && x < 0.98 && y < 0.98));
  const labels = given.labels.slice();
  const { width, height, fabrics } = given;
  const colours = fabrics.map((f) => oklabOfHex(f.colour));
  const looked = inside.map(({ kind, outline, pair }) => {
    const own = pieceOfCells([outline], width, height, [1, 1]);
    const about = pieceOfCells([grown(outline)], width, height, [1, 1]);
    const counts = new Array<number>(fabrics.length).fill(0);
    about.forEach((p, i) => {
      if (p === 0 && own[i]! < 0) counts[given.labels[i]!]!++;
    });
    return { kind, outline, pair, own, about, counts };
  });
  // the darkest is the eyes' and the nose's, on the shade about them that is most of what stands out from it; on dark fur the lightest
  const farEnough = (i: number, from: number): boolean => labDistance(colours[i]!, colours[from]!) >= STANDS_OUT;
  const features = looked.map(({ kind, outline, pair, own, about }): Feature => {
    const alike = looked.filter((l) => l.kind === kind);
    const count = (i: number): number => alike.reduce((n, l) => n + l.counts[i]!, 0);
    const shadeFor = (from: number): number =>
      fabrics
        .map((_, i) => i)
        .reduce((best, i) => (farEnough(i, from) && (best < 0 || count(i) > count(best)) ? i : best), -1);
    const darkest = fabrics.length - 1;
    const [onLight, onDark] = [shadeFor(darkest), shadeFor(0)];
    const fabric = onLight >= 0 && (onDark < 0 || count(onLight) >= 0.3 * count(onDark)) ? darkest : 0;
    const shade = Math.max(0, fabric === darkest ? onLight : onDark);
    about.forEach((p, i) => {
      if (p === 0 && own[i]! < 0) labels[i] = shade;
    });
    return { kind, outline, fabric, ...(pair && { pair }) };
  });
  for (const { outline, fabric } of features)
    pieceOfCells([outline], width, height, [1, 1]).forEach((p, i) => {
      if (p === 0) labels[i] = fabric;
    });
  const [a, b] = eyes;
  const level = label.view === 'front' && a && b && Math.abs(a.y - b.y) < LEVEL * Math.abs(a.x - b.x);
  return { ...given, labels, features, ...(level && { axis: (a.x + b.x) / 2 }) };
}

const trapezoid = (x: number, y: number, w: number, h: number, below: number): Point[] => [
  [x - w / 2, y - h / 2],
  [x + w / 2, y - h / 2],
  [x + (below * w) / 2, y + h / 2],
  [x - (below * w) / 2, y + h / 2],
];

function grown(outline: readonly Point[]): Point[] {
  const [cx, cy] = outline.reduce(([x, y], p) => [x + p[0] / outline.length, y + p[1] / outline.length], [0, 0]);
  return outline.map(([x, y]) => [x + Math.sign(x - cx!) * ABOUT, y + Math.sign(y - cy!) * ABOUT]);
}
