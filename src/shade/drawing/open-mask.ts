// Takes off what is narrower than a disc.

import { distanceInside } from '../opencv.ts';
import { maskWhere } from './masks.ts';

/** The opening of a mask by a disc of this diameter: what such a disc can cover while it lies in the mask. By two distances, so that a
 *  large disc costs no more than a small one. */
export async function openMask(mask: Uint8Array, w: number, h: number, diameter: number): Promise<Uint8Array> {
  const r = diameter / 2;
  const depth = await distanceInside(mask, w, h);
  const middle = maskWhere(mask.length, (i) => depth[i]! < r);
  if (!middle.includes(0)) return new Uint8Array(mask.length);
  const away = await distanceInside(middle, w, h);
  return maskWhere(mask.length, (i) => mask[i] === 1 && away[i]! < r);
}
