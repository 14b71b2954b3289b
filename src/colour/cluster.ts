// Finds the k colours that stand for a picture with the least mean OKLab distance: seeded k-means++ starts (Arthur &
// Vassilvitskii 2007), Lloyd rounds, then geometric medians. Pure: several pictures' clouds may be put together first.
import type { Lab } from './oklab.ts';

/** Colours with how much each counts. */
export interface ColourCloud {
  /** n x 3, OKLab */
  readonly points: Float64Array;
  readonly weights: Float64Array;
}

/** A small seeded generator (mulberry32), 0 <= value < 1. */
export function seededRandom(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Puts colours nearer than about `step` into one point each, so that clustering costs the number of colours, not of cells.
 *  `lab` is n x 3; `weights` n, absent where all count alike. */
export function gatherColours(lab: Float32Array, weights?: Float32Array, step = 0.016): ColourCloud {
  const bins = new Map<number, [number, number, number, number]>();
  for (let i = 0; i * 3 < lab.length; i++) {
    const w = weights ? weights[i]! : 1;
    if (w <= 0) continue;
    const [L, a, b] = [lab[3 * i]!, lab[3 * i + 1]!, lab[3 * i + 2]!];
    const key = (Math.round(L / step) * 128 + Math.round(a / step) + 64) * 128 + Math.round(b / step) + 64;
    const bin = bins.get(key);
    if (bin) {
      bin[0] += w * L;
      bin[1] += w * a;
      bin[2] += w * b;
      bin[3] += w;
    } else bins.set(key, [w * L, w * a, w * b, w]);
  }
  const list = [...bins.values()];
  return {
    points: Float64Array.from(list.flatMap((p) => [p[0] / p[3], p[1] / p[3], p[2] / p[3]])),
    weights: Float64Array.from(list, (p) => p[3]),
  };
}

/** Several clouds as one; each counts alike however many cells it had. */
export function joinClouds(clouds: readonly ColourCloud[]): ColourCloud {
  const points = Float64Array.from(clouds.flatMap((c) => [...c.points]));
  const weights = Float64Array.from(
    clouds.flatMap((c) => {
      const sum = c.weights.reduce((t, w) => t + w, 0) || 1;
      return [...c.weights].map((w) => w / sum);
    }),
  );
  return { points, weights };
}

interface Split {
  readonly centres: Float64Array;
  /** sum of weight x distance */
  readonly cost: number;
}

/** Which centre each point is nearest to, written into `nearest`; gives the sum of weight x distance. */
function assign(cloud: ColourCloud, centres: Float64Array, nearest: Int32Array): number {
  const { points, weights } = cloud;
  let cost = 0;
  for (let i = 0; i < weights.length; i++) {
    let least = Infinity;
    for (let j = 0; j < centres.length; j += 3) {
      const d =
        (points[3 * i]! - centres[j]!) ** 2 +
        (points[3 * i + 1]! - centres[j + 1]!) ** 2 +
        (points[3 * i + 2]! - centres[j + 2]!) ** 2;
      if (d < least) {
        least = d;
        nearest[i] = j / 3;
      }
    }
    cost += weights[i]! * Math.sqrt(least);
  }
  return cost;
}

/** Moves each centre to the mean of its points, or one Weiszfeld step nearer to their geometric median. */
function moveCentres(cloud: ColourCloud, centres: Float64Array, nearest: Int32Array, median: boolean): Float64Array {
  const { points, weights } = cloud;
  const sums = new Float64Array((centres.length / 3) * 4);
  for (let i = 0; i < weights.length; i++) {
    const j = nearest[i]!;
    let w = weights[i]!;
    if (median) {
      const L = points[3 * i]! - centres[3 * j]!;
      const a = points[3 * i + 1]! - centres[3 * j + 1]!;
      const b = points[3 * i + 2]! - centres[3 * j + 2]!;
      w /= Math.max(0.004, Math.sqrt(L * L + a * a + b * b));
    }
    for (let c = 0; c < 3; c++) sums[4 * j + c]! += w * points[3 * i + c]!;
    sums[4 * j + 3]! += w;
  }
  return centres.map((old, q) => {
    const j = Math.floor(q / 3);
    const w = sums[4 * j + 3]!;
    return w ? sums[4 * j + (q % 3)]! / w : old;
  });
}

function seedCentres(cloud: ColourCloud, fixed: readonly Lab[], k: number, random: () => number): Float64Array {
  const { points, weights } = cloud;
  const n = weights.length;
  const centres = new Float64Array(3 * k);
  const away = new Float64Array(n).fill(1);
  for (let j = 0; j < k; j++) {
    let chosen: readonly number[] | undefined = fixed[j];
    if (!chosen) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += weights[i]! * away[i]!;
      let pick = random() * sum;
      let i = 0;
      while (i < n - 1 && pick > weights[i]! * away[i]!) {
        pick -= weights[i]! * away[i]!;
        i++;
      }
      chosen = [points[3 * i]!, points[3 * i + 1]!, points[3 * i + 2]!];
    }
    centres.set(chosen, 3 * j);
    for (let i = 0; i < n; i++) {
      const d =
        (points[3 * i]! - chosen[0]!) ** 2 +
        (points[3 * i + 1]! - chosen[1]!) ** 2 +
        (points[3 * i + 2]! - chosen[2]!) ** 2;
      away[i] = j === 0 ? d : Math.min(away[i]!, d);
    }
  }
  return centres;
}

/** The k colours, in no order; fewer where the cloud has fewer. `fixed` ones are kept as they are and come first.
 *  The same cloud, k and seed give the same colours. */
export function clusterColours(cloud: ColourCloud, k: number, seed: number, fixed: readonly Lab[] = []): Lab[] {
  const n = cloud.weights.length;
  const count = Math.min(k, Math.max(n, fixed.length));
  const random = seededRandom(seed);
  const nearest = new Int32Array(n);
  const hold = (centres: Float64Array): Float64Array => {
    fixed.slice(0, count).forEach((f, j) => {
      centres.set(f, 3 * j);
    });
    return centres;
  };
  let best: Split | undefined;
  for (let start = 0; start < 16; start++) {
    let centres = seedCentres(cloud, fixed, count, random);
    for (let round = 0; round < 12; round++) {
      assign(cloud, centres, nearest);
      centres = hold(moveCentres(cloud, centres, nearest, round >= 4));
    }
    const cost = assign(cloud, centres, nearest);
    if (!best || cost < best.cost - 1e-12) best = { centres, cost };
  }
  let { centres } = best!;
  for (let round = 0; round < 30; round++) {
    assign(cloud, centres, nearest);
    centres = hold(moveCentres(cloud, centres, nearest, true));
  }
  return Array.from({ length: count }, (_, j) => [centres[3 * j]!, centres[3 * j + 1]!, centres[3 * j + 2]!] as const);
}

/** Mean distance of the cloud to the nearest of the colours. */
export function meanDistance(cloud: ColourCloud, colours: readonly Lab[]): number {
  const sum = cloud.weights.reduce((t, w) => t + w, 0) || 1;
  return assign(cloud, Float64Array.from(colours.flat()), new Int32Array(cloud.weights.length)) / sum;
}
