// Takes a grid of labels; gives what of it is ground, and where it lies on one ground the animal's silhouette and its outline.
// Shared by those who shade, who fit, and who judge a block.
import { findRegions } from './label-regions.ts';

/** The ground of a silhouette has at least this share of the outer edge, and the rest a share of the block between these (house
 *  rules). */
const LEAST_OF_EDGE = 0.7;
const SUBJECT_SHARE = [0.08, 0.85] as const;

/** 1 in the regions that reach the frame and have the label that most of the frame has. */
export function groundRegion(labels: Uint8Array, w: number, h: number): Uint8Array {
  const counts = new Uint32Array(256);
  for (const i of frameOf(w, h)) counts[labels[i]!]!++;
  const most = counts.indexOf(Math.max(...counts));
  const out = new Uint8Array(w * h);
  const { list } = findRegions(labels, w, h);
  const reaches = (i: number): boolean => i < w || i >= w * (h - 1) || i % w === 0 || i % w === w - 1;
  for (const { label, cells } of list) if (label === most && cells.some(reaches)) for (const i of cells) out[i] = 1;
  return out;
}

/** The cells of the outer edge, those of the corners twice. */
function frameOf(w: number, h: number): number[] {
  const frame: number[] = [];
  for (let x = 0; x < w; x++) frame.push(x, (h - 1) * w + x);
  for (let y = 0; y < h; y++) frame.push(y * w, y * w + w - 1);
  return frame;
}

/** 1 for the animal's cells; undefined where it does not stand on one ground. */
export function findSilhouette(labels: Uint8Array, w: number, h: number): Uint8Array | undefined {
  const ground = groundRegion(labels, w, h);
  const frame = frameOf(w, h);
  if (frame.reduce((n, i) => n + ground[i]!, 0) < LEAST_OF_EDGE * frame.length) return undefined;
  const subject = ground.map((v) => 1 - v);
  const share = subject.reduce((n, v) => n + v, 0) / subject.length;
  return share >= SUBJECT_SHARE[0] && share <= SUBJECT_SHARE[1] ? subject : undefined;
}

/** Sums of all cells above and to the left of each corner of the grid: (w + 1) x (h + 1). */
function sumsOf(mask: Uint8Array, w: number, h: number): Int32Array {
  const sums = new Int32Array((w + 1) * (h + 1));
  for (let y = 0; y < h; y++)
    for (let x = 0, row = 0; x < w; x++) {
      row += mask[y * w + x]!;
      sums[(y + 1) * (w + 1) + x + 1] = sums[y * (w + 1) + x + 1]! + row;
    }
  return sums;
}

/** A leg, a bill, a tail or an ear is narrower than this share of the block: 7/8 in of 12. */
const THIN = 1 / 14;

/** 1 for the cells of a silhouette that lie in no square of it which is THIN of the block wide; beyond the block the animal goes on. */
export function thinParts(subject: Uint8Array, w: number, h: number): Uint8Array {
  const reach = Math.max(1, Math.floor((THIN * Math.min(w, h)) / 2));
  /** 1 where all (or any) cells of the square about a cell are set */
  const square = (mask: Uint8Array, all: boolean): Uint8Array => {
    const sums = sumsOf(mask, w, h);
    const out = new Uint8Array(w * h);
    for (let y = 0; y < h; y++)
      for (let x = 0; x < w; x++) {
        const [left, right] = [Math.max(0, x - reach), Math.min(w, x + reach + 1)];
        const top = Math.max(0, y - reach) * (w + 1);
        const bottom = Math.min(h, y + reach + 1) * (w + 1);
        const own = sums[bottom + right]! - sums[top + right]! - sums[bottom + left]! + sums[top + left]!;
        out[y * w + x] = (all ? own === ((bottom - top) / (w + 1)) * (right - left) : own > 0) ? 1 : 0;
      }
    return out;
  };
  const wide = square(square(subject, true), false);
  return subject.map((v, i) => (v && !wide[i] ? 1 : 0));
}

/** How far the outline's neighbourhood reaches on both sides of it, as a share of the block. */
const OUTLINE_REACH = 1 / 64;

/** 1 for the cells on both sides of a silhouette's outline that have some of the other side near to them, across, down or both. */
export function outlineBand(subject: Uint8Array, w: number, h: number): Uint8Array {
  const reach = Math.round(OUTLINE_REACH * Math.min(w, h));
  const sums = sumsOf(subject, w, h);
  const band = new Uint8Array(w * h);
  for (let y = 0; y < h; y++) {
    const top = Math.max(0, y - reach) * (w + 1);
    const bottom = Math.min(h, y + reach + 1) * (w + 1);
    for (let x = 0; x < w; x++) {
      const [left, right] = [Math.max(0, x - reach), Math.min(w, x + reach + 1)];
      const own = sums[bottom + right]! - sums[top + right]! - sums[bottom + left]! + sums[top + left]!;
      if (own > 0 && own < ((bottom - top) / (w + 1)) * (right - left)) band[y * w + x] = 1;
    }
  }
  return band;
}
