// Shaded flat art with its eyes and nose as shapes.
import { mergeSpecks } from '../label-cells.ts';
import type { Shaded } from '../shaded.ts';
import { flatFeatures } from './flat-features.ts';

/** Eyes and nose as shapes that nothing later changes; as it is where none are seen. `narrow`: the narrowest piece, in cells. */
export function withFace(flat: Shaded, w: number, h: number, narrow: number): Shaded {
  const face = flatFeatures(flat.labels, flat.colours, w, h, narrow);
  if (!face) return flat;
  const { labels, features } = face;
  const hold = flat.hold ? flat.hold.map((v, i) => v | face.hold[i]!) : face.hold;
  // a glint that the shape cuts in two
  mergeSpecks(
    labels,
    flat.costs,
    w,
    h,
    flat.colours.length,
    { least: 0.2 * narrow ** 2, wanted: 0.3 * narrow ** 2 },
    hold,
  );
  return { ...flat, labels, features, hold };
}
