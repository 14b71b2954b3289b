// Tells the subject of a photo from its background: what is unlike the frame's colours and lies inside starts a GrabCut.
// Takes sRGB bytes of the block's cells, gives a mask; says when it is not sure.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { oklabOfRgb } from '../colour/oklab.ts';
import { findRegions } from '../geometry/label-regions.ts';
import { otsuLevel } from './find-ink.ts';
import { cutSubject, reshapeMask } from './opencv.ts';

export interface Subject {
  /** 1 where the subject is */
  readonly mask: Uint8Array;
  /** share of the block */
  readonly share: number;
}

/** Cells along the frame that are taken for background; the lower side only where its colours are found elsewhere too. */
const BAND = 0.03;

/** How unlike the frame each cell is, 0..1, less towards the frame. */
function unlikeFrame(rgb: Uint8Array, w: number, h: number): Float32Array {
  const lab = new Float32Array(3 * w * h);
  for (let i = 0; i < w * h; i++) lab.set(oklabOfRgb(rgb[3 * i]!, rgb[3 * i + 1]!, rgb[3 * i + 2]!), 3 * i);
  const band = Math.max(2, Math.round(BAND * Math.max(w, h)));
  const weights = new Float32Array(w * h);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++)
      if (x < band || y < band || x >= w - band) weights[y * w + x] = 1;
      else if (y >= h - band) weights[y * w + x] = 0.3;
  const frame = clusterColours(gatherColours(lab, weights), 6, 1);
  // a colour that the frame has little of may be the subject's own, where the frame cuts it
  const shares = frame.map(() => 0);
  let total = 0;
  const nearest = (i: number): [number, number] => {
    let best = 0;
    let least = Infinity;
    frame.forEach((c, j) => {
      const d = Math.hypot(lab[3 * i]! - c[0], lab[3 * i + 1]! - c[1], lab[3 * i + 2]! - c[2]);
      if (d < least) {
        least = d;
        best = j;
      }
    });
    return [best, least];
  };
  for (let i = 0; i < w * h; i++)
    if (weights[i]) {
      shares[nearest(i)[0]]! += weights[i]!;
      total += weights[i]!;
    }
  return Float32Array.from({ length: w * h }, (_, i) => {
    const [j, d] = nearest(i);
    const rare = shares[j]! / total < 0.06 ? 0.08 : 0;
    const u = ((i % w) + 0.5) / w - 0.5;
    const v = (Math.floor(i / w) + 0.5) / h - 0.54;
    const middle = Math.exp(-(u * u + v * v) / 0.12);
    return Math.min(1, 2.5 * (d + rare) * (0.35 + 0.65 * middle) + 0.12 * middle);
  });
}

/** Keeps the largest parts of a mask, fills its holes. */
function tidy(mask: Uint8Array, w: number, h: number): Uint8Array {
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

/** Undefined where hardly anything, or nearly everything, would be the subject. */
export async function findSubject(rgb: Uint8Array, w: number, h: number): Promise<Subject | undefined> {
  const unlike = unlikeFrame(rgb, w, h);
  const level = otsuLevel(unlike);
  const start = new Uint8Array(w * h);
  const edge = Math.max(1, Math.round(0.01 * Math.max(w, h)));
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const i = y * w + x;
      const outer = (x < edge || x >= w - edge || y < edge) && unlike[i]! < level;
      start[i] = outer ? 0 : unlike[i]! > level ? 3 : 2;
    }
  let mask: Uint8Array = await cutSubject(rgb, start, w, h);
  mask = await reshapeMask(mask, w, h, 'open', 3);
  mask = await reshapeMask(mask, w, h, 'close', 5);
  mask = tidy(mask, w, h);
  const share = mask.reduce((t, v) => t + v, 0) / (w * h);
  return share > 0.03 && share < 0.9 ? { mask, share } : undefined;
}
