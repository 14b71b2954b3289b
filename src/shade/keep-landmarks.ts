// Sees to it that what is small and stands out (an eye) is there to sew: kept, grown to the narrowest piece, or reported.
import { type Lab, labDistance } from '../colour/oklab.ts';
import type { Blob } from './find-landmarks.ts';

export interface Kept {
  /** cells that later steps must leave alone */
  readonly hold: Uint8Array;
  readonly grown: { readonly blob: Blob; readonly label: number; readonly cells: number }[];
  readonly lost: { readonly blob: Blob; readonly label: number }[];
}

/** A shade must stand out by this from what surrounds it to show an eye at all. */
const SHOWS = 0.1;
/** A grown disc is a little wider than the narrowest piece, so that a whole piece of it lies inside. */
const WIDER = 1.2;

/** Changes `labels` in place. `ground` marks where nothing is grown: an eye lies in the animal; what stands out from its ground
 *  is a tip of it. */
export function keepLandmarks(
  labels: Uint8Array,
  colours: readonly Lab[],
  w: number,
  h: number,
  blobs: readonly Blob[],
  narrow: number,
  ground?: Uint8Array,
): Kept {
  const hold = new Uint8Array(w * h);
  const grown: Kept['grown'] = [];
  const lost: Kept['lost'] = [];
  const disc = (b: Blob, radius: number): number[] => {
    const cells: number[] = [];
    const cx = Math.max(radius, Math.min(w - radius, b.x));
    const cy = Math.max(radius, Math.min(h - radius, b.y));
    for (let y = Math.max(0, Math.floor(cy - radius)); y < Math.min(h, cy + radius); y++)
      for (let x = Math.max(0, Math.floor(cx - radius)); x < Math.min(w, cx + radius); x++)
        if (Math.hypot(x + 0.5 - cx, y + 0.5 - cy) <= radius) cells.push(y * w + x);
    return cells;
  };
  for (const blob of blobs) {
    const ring = disc(blob, 2.2 * blob.radius + 1.5).filter((i) => !hold[i]);
    const inner = new Set(disc(blob, 1.3 * blob.radius + 0.5));
    const around = new Uint32Array(colours.length);
    const outer = ring.filter((i) => !inner.has(i));
    for (const i of outer) around[labels[i]!]!++;
    if (ground && outer.filter((i) => ground[i]).length > 0.5 * outer.length) continue;
    let under = 0;
    for (let l = 1; l < colours.length; l++) if (around[l]! > around[under]!) under = l;
    let label = 0;
    for (let l = 1; l < colours.length; l++)
      if (labDistance(colours[l]!, blob.colour) < labDistance(colours[label]!, blob.colour)) label = l;
    // where the nearest shade is that of what lies around, the one that leads farthest in the blob's direction stands in for it
    if (label === under || labDistance(colours[label]!, colours[under]!) < SHOWS) {
      const toward = blob.colour.map((v, c) => v - colours[under]![c]!);
      const length = Math.hypot(...toward) || 1;
      let most = 0;
      for (let l = 0; l < colours.length; l++) {
        const along = colours[l]!.reduce((t, v, c) => t + ((v - colours[under]![c]!) * toward[c]!) / length, 0);
        const off = labDistance(colours[l]!, blob.colour);
        const worth = along - 0.5 * off;
        if (along > SHOWS && worth > most - 1) {
          if (label === under || worth > most) {
            most = worth;
            label = l;
          }
        }
      }
    }
    if (label === under || labDistance(colours[label]!, colours[under]!) < SHOWS) {
      lost.push({ blob, label });
      continue;
    }
    const radius = Math.max((WIDER * narrow) / 2, blob.radius);
    const cells = disc(blob, radius);
    // the glint in an eye, the spot on a spot: what lies on something hardly larger is a part of that
    const wide = disc(blob, 1.8 * radius);
    if (wide.filter((i) => labels[i] === under).length < 0.6 * wide.length) continue;
    if (cells.some((i) => hold[i])) {
      lost.push({ blob, label });
      continue;
    }
    // what shows already, wide enough, is only held
    const shows = cells.filter((i) => labels[i] === label).length;
    if (shows < 0.7 * cells.length) {
      for (const i of cells) labels[i] = label;
      grown.push({ blob, label, cells: cells.length });
    }
    for (const i of cells) if (labels[i] === label) hold[i] = 1;
  }
  return { hold, grown, lost };
}
