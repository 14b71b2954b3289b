// Takes a figure's regions and the shapes of its face; where the figure is its own mirror image gives the axis, and both exactly mirrored.
import type { Point } from '../../geometry/polygon.ts';
import type { FeatureShape } from './shape-features.ts';

/** Share of the figure's cells, on both sides, that must be alike with their mirror image. */
const ALIKE = 0.94;
/** Half cells to either side of the figure's middle within which the axis is sought. */
const REACH = 12;

/** How far a nose may lie off the axis, and a pair's middle, as a share of the block. */
const OFF_AXIS = 0.02;

export interface Mirrored {
  /** cells from the left; a whole or a half number */
  readonly axis: number;
  readonly shapes: readonly FeatureShape[];
}

/** Changes `labels` in place, right as left. Undefined where the figure is not symmetric. `ground`: its label. */
export function mirrorFigure(
  labels: Uint8Array,
  shapes: readonly FeatureShape[],
  w: number,
  h: number,
  ground = 0,
): Mirrored | undefined {
  const axis = findAxis(labels, w, h, ground);
  if (axis === undefined || !stand(shapes, axis, OFF_AXIS * w)) return undefined;
  for (let y = 0; y < h; y++)
    for (let x = Math.floor(axis); x < w; x++) {
      const m = Math.round(2 * axis - 1 - x);
      if (m >= 0 && m < x) labels[y * w + x] = labels[y * w + m]!;
    }
  return { axis, shapes: mirrorShapes(shapes, axis) };
}

const middleOf = (s: FeatureShape): number => s.outline.reduce((t, p) => t + p[0], 0) / s.outline.length;

/** Whether a face stands as the axis has it: a single eye beside it is seen from the side. */
function stand(shapes: readonly FeatureShape[], axis: number, off: number): boolean {
  return shapes.every((s) => {
    const other = s.pair === undefined ? s : shapes.find((o) => o !== s && o.pair === s.pair && o.kind === s.kind);
    return other !== undefined && Math.abs((middleOf(s) + middleOf(other)) / 2 - axis) <= off;
  });
}

function findAxis(labels: Uint8Array, w: number, h: number, ground: number): number | undefined {
  let [left, right] = [w, -1];
  for (let i = 0; i < w * h; i++)
    if (labels[i] !== ground) {
      left = Math.min(left, i % w);
      right = Math.max(right, i % w);
    }
  if (right < 0) return undefined;
  const middle = left + right + 1;
  let best: { twice: number; alike: number } | undefined;
  for (let twice = middle - REACH; twice <= middle + REACH; twice++) {
    let [all, alike] = [0, 0];
    for (let y = 0; y < h; y++)
      for (let x = left; x <= right; x++) {
        const m = twice - 1 - x;
        const here = labels[y * w + x]!;
        const there = m >= 0 && m < w ? labels[y * w + m]! : ground;
        if (here === ground && there === ground) continue;
        all++;
        if (here === there) alike++;
      }
    if (!best || alike / all > best.alike) best = { twice, alike: alike / all };
  }
  return best && best.alike >= ALIKE ? best.twice / 2 : undefined;
}

/** A pair's right one as its left one's image, a shape across the axis as its own. */
function mirrorShapes(shapes: readonly FeatureShape[], axis: number): FeatureShape[] {
  const image = (outline: readonly Point[]): Point[] => outline.map(([x, y]): Point => [2 * axis - x, y]).reverse();
  return shapes.map((s) => {
    if (s.pair === undefined) {
      const off = axis - middleOf(s);
      return { ...s, outline: s.outline.map(([x, y]): Point => [x + off, y]) };
    }
    const other = shapes.find((o) => o !== s && o.pair === s.pair && o.kind === s.kind);
    if (!other || middleOf(s) <= middleOf(other)) return s;
    const turned = image(other.outline);
    // begins at its upper left corner again, as the others do
    const first = turned.reduce(
      (b, p, i) =>
        p[1] < turned[b]![1] - 1e-9 || (Math.abs(p[1] - turned[b]![1]) < 1e-9 && p[0] < turned[b]![0]) ? i : b,
      0,
    );
    return { ...s, outline: [...turned.slice(first), ...turned.slice(0, first)] };
  });
}
