// Tells photos, line drawings and flat art apart by their pixels. Takes a Picture, gives the kind and why.
import { oklabOfRgb } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';

export type Kind = 'photo' | 'drawing' | 'flat';

export interface KindFound {
  readonly kind: Kind;
  /** one clause for the person: "few even colours with sharp edges" */
  readonly reason: string;
  readonly measures: Readonly<Record<string, number>>;
}

/** Measures: `even` share of pixels whose neighbours are the same; `colours` main colours that the even ones show;
 *  `grey` share without colour; `paper` share near the most common tone; `ink` share clearly darker than that. */
export function findKind(picture: Picture): KindFound {
  const { width, height, pixels } = picture;
  const tones = new Uint32Array(64);
  const bins = new Map<number, number>();
  let [even, grey, n] = [0, 0, 0];
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const i = 3 * (y * width + x);
      const [r, g, b] = [pixels[i]!, pixels[i + 1]!, pixels[i + 2]!];
      n++;
      if (Math.max(r, g, b) - Math.min(r, g, b) < 24) grey++;
      tones[((r * 2 + g * 5 + b) >> 3) >> 2]!++;
      let same = true;
      for (const j of [i - 3, i + 3, i - 3 * width, i + 3 * width])
        if (Math.abs(pixels[j]! - r) + Math.abs(pixels[j + 1]! - g) + Math.abs(pixels[j + 2]! - b) > 6) {
          same = false;
          break;
        }
      if (!same) continue;
      even++;
      const key = ((r >> 3) << 10) | ((g >> 3) << 5) | (b >> 3);
      bins.set(key, (bins.get(key) ?? 0) + 1);
    }
  // colours that the even pixels show, greatest first; neighbours in colour space count as one
  const main: { lab: readonly [number, number, number]; count: number }[] = [];
  let covered = 0;
  for (const [key, count] of [...bins].sort((p, q) => q[1] - p[1] || p[0] - q[0]).slice(0, 400)) {
    const lab = oklabOfRgb(((key >> 10) << 3) + 4, (((key >> 5) & 31) << 3) + 4, ((key & 31) << 3) + 4);
    const like = main.find((m) => Math.hypot(m.lab[0] - lab[0], m.lab[1] - lab[1], m.lab[2] - lab[2]) < 0.05);
    if (like) like.count += count;
    else if (main.length < 24) main.push({ lab, count });
    else continue;
    covered += count;
  }
  const colours = main.filter((m) => m.count > 0.003 * n).length;
  let peak = 0;
  for (let t = 0; t < 64; t++) if (tones[t]! > tones[peak]!) peak = t;
  let [paper, ink, middle] = [0, 0, 0];
  for (let t = 0; t < 64; t++) {
    if (Math.abs(t - peak) <= 3) paper += tones[t]!;
    if (t < peak * 0.45) ink += tones[t]!;
    if (t >= peak * 0.45 && t < peak - 6) middle += tones[t]!;
  }
  const measures = {
    even: even / n,
    colours,
    grey: grey / n,
    paper: paper / n,
    ink: ink / n,
    middle: middle / n,
    covered: covered / Math.max(1, even),
    peak: peak / 63,
  };
  const { paper: p, ink: k, middle: m, grey: g, even: e } = measures;
  const light = measures.peak > 0.55;
  if (light && g > 0.9 && k > 0.003 && k < 0.5 && p + k > 0.8 && m < 0.12)
    return { kind: 'drawing', reason: 'dark strokes on plain paper, without colour', measures };
  if (e > 0.72 && measures.covered > 0.85)
    return { kind: 'flat', reason: `${colours} even colours with sharp edges`, measures };
  return { kind: 'photo', reason: 'colours that shade into one another', measures };
}
