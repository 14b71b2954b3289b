// Tells the subject of a photo from its background: a small network says where it is, a GrabCut finds its edge; without
// the network, what is unlike the frame's colours and lies inside starts the cut. Gives a mask over the block's cells.
import { readFileSync } from 'node:fs';
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { oklabOfRgb } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { findRegions } from '../geometry/label-regions.ts';
import { averagePixels, shrinkPixels } from './cells.ts';
import { otsuLevel } from './find-ink.ts';
import { cutSubject, reshapeMask, runNetwork } from './opencv.ts';

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

/** Side that the network was trained on; it takes no other. */
const NET_SIDE = 320;
/** Mean and spread of the colours it was trained on, as its authors give them. */
const NET_MEAN = [0.485, 0.456, 0.406];
const NET_SPREAD = [0.229, 0.224, 0.225];

/** The network's bytes: beside this file, or where the built program keeps them; undefined where it was left out. */
function readNetwork(): Uint8Array | undefined {
  for (const place of ['./subject-model/u2netp.onnx', '../src/shade/subject-model/u2netp.onnx'])
    try {
      return readFileSync(new URL(place, import.meta.url));
    } catch {
      // the next place
    }
  return undefined;
}

/** For each cell how likely it is the subject's, 0..1 (Qin et al. 2020). */
async function askNetwork(picture: Picture, w: number, h: number): Promise<Float32Array | undefined> {
  const onnx = readNetwork();
  if (!onnx) return undefined;
  const n = NET_SIDE;
  const small = averagePixels(picture.pixels, picture.width, picture.height, n, n);
  const most = small.reduce((t, v) => Math.max(t, v), 1);
  const image = small.map((v, i) => (v / most - NET_MEAN[i % 3]!) / NET_SPREAD[i % 3]!);
  const answer = await runNetwork(onnx, image, n, '1959');
  return Float32Array.from({ length: w * h }, (_, i) => {
    const x = Math.min(n - 1, Math.floor((((i % w) + 0.5) * n) / w));
    const y = Math.min(n - 1, Math.floor(((Math.floor(i / w) + 0.5) * n) / h));
    return answer[y * n + x]!;
  });
}

/** Where a cut starts: 0 ground, 1 subject, 2 probably ground, 3 probably subject. */
function startFrom(likely: Float32Array): Uint8Array {
  return Uint8Array.from(likely, (v) => (v < 0.08 ? 0 : v > 0.85 ? 1 : v > 0.5 ? 3 : 2));
}

function startFromFrame(rgb: Uint8Array, w: number, h: number): Uint8Array {
  const unlike = unlikeFrame(rgb, w, h);
  const level = otsuLevel(unlike);
  const edge = Math.max(1, Math.round(0.01 * Math.max(w, h)));
  return Uint8Array.from({ length: w * h }, (_, i) => {
    const [x, y] = [i % w, Math.floor(i / w)];
    const outer = (x < edge || x >= w - edge || y < edge) && unlike[i]! < level;
    return outer ? 0 : unlike[i]! > level ? 3 : 2;
  });
}

const LEAST_SHARE = 0.02;

const shareOf = (mask: Uint8Array): number => mask.reduce((t, v) => t + v, 0) / mask.length;

/** Shared area of two masks over the area of both together. */
export function overlap(a: Uint8Array, b: Uint8Array): number {
  let [both, any] = [0, 0];
  for (let i = 0; i < a.length; i++) {
    if (a[i] && b[i]) both++;
    if (a[i] || b[i]) any++;
  }
  return any ? both / any : 1;
}

/** The subject on a grid of w x h cells. Undefined where hardly anything, or nearly everything, would be the subject. */
export async function findSubject(
  picture: Picture,
  w: number,
  h: number,
  network = true,
): Promise<Subject | undefined> {
  const rgb = shrinkPixels(picture.pixels, picture.width, picture.height, w, h);
  const asked = network ? await askNetwork(picture, w, h) : undefined;
  const sure = asked && Uint8Array.from(asked, (v) => (v > 0.5 ? 1 : 0));
  const found = sure && shareOf(sure) > LEAST_SHARE ? sure : undefined;
  const start = asked && found ? startFrom(asked) : startFromFrame(rgb, w, h);
  if (!start.some((v) => v & 1) || start.every((v) => v & 1)) return undefined;
  let mask: Uint8Array = await cutSubject(rgb, start, w, h);
  // where fur and ground are alike the cut runs astray: then the network's own border is the better one
  if (found && overlap(mask, found) < 0.75) mask = found;
  mask = await reshapeMask(mask, w, h, 'open', 3);
  mask = await reshapeMask(mask, w, h, 'close', 5);
  mask = tidy(mask, w, h);
  const share = shareOf(mask);
  return share > LEAST_SHARE && share < 0.95 ? { mask, share } : undefined;
}
