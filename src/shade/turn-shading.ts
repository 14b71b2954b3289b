// The grid of fabrics turned left to right, with all that is known of it.
import type { Feature, Landmark, Shading } from '../data.ts';
import type { Point } from '../geometry/polygon.ts';

/** The grid as the turned block shows it. */
export function turnedShading(s: Shading): Shading {
  const labels = new Uint8Array(s.labels.length);
  for (let y = 0; y < s.height; y++)
    for (let x = 0; x < s.width; x++) labels[y * s.width + x] = s.labels[y * s.width + s.width - 1 - x]!;
  return {
    ...{ ...s, labels, lost: s.lost.map(turnedLandmark), grown: s.grown.map(turnedLandmark) },
    ...(s.features && { features: s.features.map(turnedFeature) }),
    ...(s.axis !== undefined && { axis: 1 - s.axis }),
    ...(s.strokes && { strokes: s.strokes.map((line) => line.map(([x, y]): Point => [1 - x, y])) }),
  };
}

/** its corners still run clockwise */
const turnedFeature = (f: Feature): Feature => ({
  ...f,
  outline: f.outline.map(([x, y]): Point => [1 - x, y]).reverse(),
});

export const turnedLandmark = (l: Landmark): Landmark => ({ ...l, at: [1 - l.at[0], l.at[1]] });
