// Masks of a subject: tidied, measured, compared.
import { findRegions } from '../geometry/label-regions.ts';

/** A subject is at least this share of what is looked at. */
export const LEAST_SHARE = 0.02;

/** Keeps the largest parts of a mask, fills its holes. */
export function tidyMask(mask: Uint8Array, w: number, h: number): Uint8Array {
  const out = Uint8Array.from(mask);
  const { list } = findRegions(mask, w, h);
  const largest = Math.max(0, ...list.filter((r) => r.label).map((r) => r.cells.length));
  for (const r of list) {
    const touches = r.cells.some((i) => i % w === 0 || i % w === w - 1 || i < w || i >= w * (h - 1));
    if (r.label && r.cells.length < 0.2 * largest) for (const i of r.cells) out[i] = 0;
    if (!r.label && (!touches || r.cells.length < 0.004 * w * h)) for (const i of r.cells) out[i] = 1;
  }
  return out;
}

export const shareOf = (mask: Uint8Array): number => mask.reduce((t, v) => t + v, 0) / mask.length;

/** Shared area of two masks over the area of both together. */
export function overlap(a: Uint8Array, b: Uint8Array): number {
  let [both, any] = [0, 0];
  for (let i = 0; i < a.length; i++) {
    if (a[i] && b[i]) both++;
    if (a[i] || b[i]) any++;
  }
  return any ? both / any : 1;
}
