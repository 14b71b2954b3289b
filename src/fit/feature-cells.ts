// Features on the grid of cells: painted as they are to be cut, weighed where they cannot be, and looked for in the finished pieces.
import type { Partition, Shading } from '../data.ts';
import { pieceOfCells } from '../geometry/cells.ts';
import type { SmallRegion } from '../geometry/landmarks.ts';
import { clipHalf, type Polygon } from '../geometry/polygon.ts';
import { UNIT_WEIGHT } from './cutting.ts';
import type { Shape } from './features.ts';

interface Painted {
  readonly outline: Polygon;
  readonly fabric: number;
}

/** What a shape shows where it is cut as it is: an eye, then its pupil. */
export const partsOf = ({ outline, fabric, pupil }: Shape): Painted[] => [
  { outline, fabric },
  ...(pupil
    ? [
        {
          outline: clipHalf(clipHalf(outline, [pupil.from, 0], [pupil.from, 1], -1), [pupil.to, 0], [pupil.to, 1], 1),
          fabric: pupil.fabric,
        },
      ]
    : []),
];

/** The labels with shapes in place of what was drawn: cells of `drawn` that no shape has got look like what is next to them. mm. */
export function paintShapes(
  shading: Shading,
  size: readonly [number, number],
  drawn: readonly Polygon[],
  shapes: readonly Shape[],
): Shading {
  const { width, height } = shading;
  const labels = shading.labels.slice();
  const cellsOf = (outlines: readonly Polygon[]): Int32Array => pieceOfCells(outlines, width, height, size);
  const parts = shapes.flatMap(partsOf);
  const [old, now] = [cellsOf(drawn), cellsOf(parts.map((p) => p.outline))];
  // from the outlines inward, a ring of cells at a time
  let open: number[] = [];
  old.forEach((o, i) => {
    if (o >= 0 && now[i]! < 0) open.push(i);
  });
  const unknown = new Set(open);
  while (open.length > 0) {
    const known = open.map((i) => {
      const x = i % width;
      const near = [x > 0 ? i - 1 : -1, x < width - 1 ? i + 1 : -1, i - width, i + width];
      return near.find((j) => j >= 0 && j < labels.length && !unknown.has(j) && now[j]! < 0) ?? -1;
    });
    const from = open;
    open = from.filter((_, k) => known[k]! < 0);
    if (open.length === from.length) break;
    from.forEach((i, k) => {
      if (known[k]! < 0) return;
      labels[i] = labels[known[k]!]!;
      unknown.delete(i);
    });
  }
  now.forEach((p, i) => {
    if (p >= 0) labels[i] = parts[p]!.fabric;
  });
  return { ...shading, labels };
}

/** The cells of outlines (mm), as regions of the face. */
export function regionsOf(
  shapes: readonly Painted[],
  { width, height }: Shading,
  size: readonly [number, number],
): SmallRegion[] {
  return shapes.map(({ outline, fabric }) => {
    const cells: number[] = [];
    pieceOfCells([outline], width, height, size).forEach((p, i) => {
      if (p === 0) cells.push(i);
    });
    return { label: fabric, cells: Int32Array.from(cells) };
  });
}

/** What the cells in and about a feature that is not cut as a shape weigh at least, where one inside weighs 1. */
const FEATURE_WEIGHT = 10;

export function weighRegions(weights: Uint16Array, regions: readonly SmallRegion[]): void {
  for (const { cells } of regions)
    for (const i of cells) weights[i] = Math.max(FEATURE_WEIGHT * UNIT_WEIGHT, weights[i]!);
}

/** The share of a feature (mm) that the pieces show in its fabric. */
export function shareShown(
  feature: Painted,
  pieces: Partition['pieces'],
  shading: Shading,
  size: readonly [number, number],
): number {
  const { width, height } = shading;
  const owner = pieceOfCells(
    pieces.map((p) => p.outline),
    width,
    height,
    size,
  );
  const [{ cells }] = regionsOf([feature], shading, size) as [SmallRegion];
  return (
    cells.reduce((n, i) => n + (pieces[owner[i]!]?.fabric === feature.fabric ? 1 : 0), 0) / Math.max(1, cells.length)
  );
}
