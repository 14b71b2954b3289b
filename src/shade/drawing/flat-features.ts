// The eyes and the nose of flat art: small dark areas inside the figure that stand as a face does. Takes the labels that the art has on the
// block's grid, gives shapes for the fit to keep, painted into the labels.
import { lightness } from '../../colour/difference.ts';
import { hexOfOklab, type Lab } from '../../colour/oklab.ts';
import type { Feature } from '../../data.ts';
import { findRegions } from '../../geometry/label-regions.ts';
import { groundRegion } from '../../geometry/silhouette.ts';
import { findFace, type Spot } from './find-features.ts';
import { eachCellIn } from './paint.ts';
import { type FeatureShape, shapeFeatures } from './shape-features.ts';

/** An eye or a nose is darker than what lies about it by this much, and no lighter than that (CIE L*). */
const DARKER = 22;
const LIGHTEST = 50;
/** Share of the figure that it has, at least and at most; of its own border that may lie on the ground; and of its box that it fills. */
const LEAST = 0.0012;
const MOST = 0.05;
const ON_GROUND = 0.02;
const FULL = 0.5;
/** How much longer than wide it is at most. */
const LONGEST = 2.2;
/** The same of an eye alone, as animals have that are seen from the side. */
const ROUND = 0.62;
const LONGEST_ALONE = 1.7;

export interface FlatFace {
  readonly labels: Uint8Array;
  readonly hold: Uint8Array;
  readonly features: readonly Omit<Feature, 'fabric'>[];
}

/** `narrow`: the narrowest piece, in cells. Undefined where no eyes are to be seen; a single one must be round. */
export function flatFeatures(
  labels: Uint8Array,
  colours: readonly Lab[],
  w: number,
  h: number,
  narrow: number,
): FlatFace | undefined {
  const ground = groundRegion(labels, w, h);
  const size = ground.reduce((n, v) => n + 1 - v, 0);
  const light = colours.map((c) => lightness(hexOfOklab(c)));
  const spots = new Map<Spot, number>();
  for (const { label, cells } of findRegions(labels, w, h).list) {
    if (ground[cells[0]!] || light[label]! > LIGHTEST || cells.length < LEAST * size || cells.length > MOST * size)
      continue;
    const spot = spotOf(cells, w);
    const long = Math.max(spot.width, spot.height) / Math.min(spot.width, spot.height);
    if (spot.full < FULL || long > LONGEST) continue;
    const about = borderOf(cells, labels, ground, w, h);
    if (about.ground > ON_GROUND || about.outer) continue;
    const round = about.labels.reduce((t, { label: l, share }) => t + share * light[l]!, 0);
    if (round - light[label]! >= DARKER) spots.set(spot, label);
  }
  const face = findFace([...spots.keys()]);
  const [left, right] = face.eyes;
  if (!left || (right ? spots.get(left) !== spots.get(right) : !isRound(left))) return undefined;
  const inside = (x: number, y: number): boolean => {
    const [u, v] = [Math.floor(x), Math.floor(y)];
    return u >= 0 && v >= 0 && u < w && v < h && !ground[v * w + u];
  };
  const shapes = shapeFeatures(face, 1, w, h, narrow, inside);
  const painted = Uint8Array.from(labels);
  // what a shape does not cover of its spot goes to what lies round it
  for (const spot of [...face.eyes, ...(face.nose ? [face.nose] : [])]) {
    const about = borderOf(Int32Array.from(spot.cells), labels, ground, w, h).labels;
    const most = about.reduce((a, b) => (b.share > a.share ? b : a));
    for (const i of spot.cells) painted[i] = most.label;
  }
  const hold = new Uint8Array(w * h);
  const labelOf = (s: FeatureShape): number => spots.get(s.kind === 'nose' ? face.nose! : left)!;
  for (const shape of shapes)
    eachCellIn(shape.outline, w, h, (i) => {
      painted[i] = labelOf(shape);
      hold[i] = 1;
    });
  const features = shapes.map(({ role: _, outline, ...rest }) => ({
    ...rest,
    outline: outline.map(([x, y]) => [x / w, y / h] as const),
  }));
  return { labels: painted, hold, features };
}

const isRound = ({ width, height, full }: Spot): boolean =>
  full >= ROUND && Math.max(width, height) <= LONGEST_ALONE * Math.min(width, height);

function spotOf(cells: Int32Array, w: number): Spot {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const i of cells) {
    const [x, y] = [i % w, Math.floor(i / w)];
    [x0, x1, y0, y1] = [Math.min(x0, x), Math.max(x1, x), Math.min(y0, y), Math.max(y1, y)];
  }
  const [width, height] = [x1 - x0 + 1, y1 - y0 + 1];
  const middle = (y0 + y1 + 1) / 2;
  const upper = cells.reduce((n, i) => n + (Math.floor(i / w) + 0.5 < middle ? 1 : 0), 0);
  return {
    ...{ x: (x0 + x1 + 1) / 2, y: middle, width, height, bound: false, cells: [...cells] },
    ...{ area: cells.length, full: cells.length / (width * height), ink: 1, upper: upper / cells.length },
  };
}

/** What a region borders on: the shares of the ground and of each label, and whether it reaches the block's edge. */
function borderOf(
  cells: Int32Array,
  labels: Uint8Array,
  ground: Uint8Array,
  w: number,
  h: number,
): { ground: number; outer: boolean; labels: { label: number; share: number }[] } {
  const own = labels[cells[0]!]!;
  const counts = new Map<number, number>();
  let [onGround, all, outer] = [0, 0, false];
  for (const i of cells) {
    const [x, y] = [i % w, Math.floor(i / w)];
    if (x === 0 || y === 0 || x === w - 1 || y === h - 1) {
      outer = true;
      continue;
    }
    for (const j of [i - 1, i + 1, i - w, i + w]) {
      if (labels[j] === own) continue;
      all++;
      onGround += ground[j]!;
      counts.set(labels[j]!, (counts.get(labels[j]!) ?? 0) + 1);
    }
  }
  return {
    ground: all ? onGround / all : 1,
    outer,
    labels: [...counts].map(([label, n]) => ({ label, share: n / all })),
  };
}
