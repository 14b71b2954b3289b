// How well the subject's outline shows on its ground, in the fabrics that the block will have.
import { lightness } from '../colour/difference.ts';

/** House rule: CIE L* between the ground's fabric and those along the outline. */
export const OUTLINE_GAP = 20;

/** Cells off the border at which the fabrics are compared. */
const OFF = 2;

export interface OutlineGap {
  /** share of the outline along which the gap is under OUTLINE_GAP */
  readonly weak: number;
  /** the mean L* gap along the outline */
  readonly mean: number;
}

/** `colours` are "#rrggbb", one a label; `mask` is 1 where the subject is. */
export function measureOutline(
  labels: Uint8Array,
  colours: readonly string[],
  mask: Uint8Array,
  w: number,
  h: number,
): OutlineGap {
  const levels = colours.map(lightness);
  let [length, weak, sum] = [0, 0, 0];
  // a little off the border on both sides: cell for cell the fabrics' border runs beside the subject's own
  const look = (i: number, step: number, at: number, size: number): void => {
    if (mask[i] === mask[i + step] || at < OFF || at + 1 + OFF >= size) return;
    const [p, q] = [i - OFF * step, i + (1 + OFF) * step];
    if (mask[p] === mask[q]) return;
    const gap = Math.abs(levels[labels[p]!]! - levels[labels[q]!]!);
    length++;
    sum += gap;
    if (gap < OUTLINE_GAP) weak++;
  };
  for (let i = 0; i < w * h; i++) {
    const x = i % w;
    if (x < w - 1) look(i, 1, x, w);
    if (i + w < w * h) look(i, w, (i - x) / w, h);
  }
  return length ? { weak: weak / length, mean: sum / length } : { weak: 0, mean: 100 };
}
