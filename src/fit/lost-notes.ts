// What is said of details that got no piece of their own.
import type { Landmark, Shading } from '../data.ts';
import { formatLength, type System } from '../units.ts';
import type { FitFound } from './fit-partition.ts';

/** What of the face the pieces do not show: said before all else. */
export function faceNotes({ features = [] }: FitFound, shading: Shading): string[] {
  const named = (kept: 'lost' | 'mark'): string =>
    [...new Set(features.filter((f) => f.kept === kept).map((f) => shading.features![f.feature]!.kind))].join(' and ');
  const [lost, marks] = [named('lost'), named('mark')];
  return [
    ...(lost ? [`The ${lost} got no piece of its own: ask for more pieces, or show the head alone.`] : []),
    ...(marks ? [`The ${marks} is too small to piece: stitch it or ink it on the finished block.`] : []),
  ];
}

/** Where on the block each of them is. */
export const lostNotes = (lost: readonly Landmark[], size: readonly [number, number], units: System): string[] =>
  lost.map(
    ({ at }) =>
      `A small detail ${formatLength(at[0] * size[0], units)} from the left and ${formatLength(at[1] * size[1], units)} from the top ` +
      'got no piece of its own: ask for more pieces, or stitch it or ink it on the finished block.',
  );
