// What the background becomes where it is not kept: one fabric, or a few large shades of its own. Takes cells and the
// subject's mask, gives the ground's colours and which of them lies where, behind the subject too.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { type Lab, labDistance } from '../colour/oklab.ts';
import { blurChannels, type Cells } from './cells.ts';
import { chooseGround } from './choose-ground.ts';
import { calmLabels, cheapestLabels, costsOf, dropThin, mergeSpecks } from './label-cells.ts';

export type Background = 'keep' | 'calm' | 'plain';

export interface GroundFound {
  /** 1 where the subject is */
  readonly mask: Uint8Array;
  readonly colours: readonly Lab[];
  /** for each cell which of the ground's colours it has, or would have behind the subject */
  readonly labels: Uint8Array;
  /** whether the one colour had to leave the picture's own */
  readonly moved: boolean;
}

/** Cells inside the outline at which the subject's colours along it are read. */
const RIM = 4;

/** Share of the outline's length that each colour has along its inner side; cells go to the nearest colour. */
export function coloursAlong(
  mask: Uint8Array,
  { width: w, height: h, lab }: Cells,
  colours: readonly Lab[],
): { colour: Lab; share: number }[] {
  const shares = colours.map(() => 0);
  let total = 0;
  for (let i = 0; i < w * h; i++) {
    if (!mask[i]) continue;
    const x = i % w;
    const y = (i - x) / w;
    // a few cells inside: at the very border subject and ground are mixed
    const outside = (d: number): boolean =>
      (x >= d && !mask[i - d]) ||
      (x < w - d && !mask[i + d]) ||
      (y >= d && !mask[i - d * w]) ||
      (y < h - d && !mask[i + d * w]);
    if (outside(RIM - 1) || !outside(RIM + 1)) continue;
    const own: Lab = [lab[3 * i]!, lab[3 * i + 1]!, lab[3 * i + 2]!];
    shares[colours.reduce((b, c, j) => (labDistance(own, c) < labDistance(own, colours[b]!) ? j : b), 0)]!++;
    total++;
  }
  return colours.map((colour, l) => ({ colour, share: shares[l]! / Math.max(1, total) }));
}

const outsideOf = (mask: Uint8Array): Float32Array => Float32Array.from(mask, (v) => 1 - v);

/** One fabric: the ground's own colour, or where the outline would not show on that the nearest on which it does. */
export function plainGround(mask: Uint8Array, cells: Cells, shades: number, seed: number): GroundFound {
  const own = clusterColours(gatherColours(cells.lab, outsideOf(mask)), 1, seed)[0] ?? [0.9, 0, 0];
  const colours = clusterColours(gatherColours(cells.lab, Float32Array.from(mask)), Math.max(1, shades - 1), seed);
  const { colour, moved } = chooseGround(own, coloursAlong(mask, cells, colours));
  return { mask, colours: [colour], labels: new Uint8Array(mask.length), moved };
}

/** Cells of blur under which a ground shows only where it is light and where dark. */
const GROUND_BLUR = 6;
/** OKLab distance under which two shades of ground are one. */
const ONE_GROUND = 0.09;
/** Share of the block that a shade of ground has in one place at least. */
const LEAST_GROUND = 0.04;
/** OKLab price of a cell's length of border between shades of ground. */
const GROUND_CALM = 0.12;

/** A few large shades of the ground's own: two where there are five fabrics or more, three from eight on. */
export function calmGround(mask: Uint8Array, cells: Cells, shades: number, seed: number, narrow: number): GroundFound {
  const { width: w, height: h } = cells;
  // a blur of what is ground alone, which goes on behind the subject
  const part = new Float32Array(4 * w * h);
  for (let i = 0; i < w * h; i++)
    if (!mask[i]) part.set([cells.lab[3 * i]!, cells.lab[3 * i + 1]!, cells.lab[3 * i + 2]!, 1], 4 * i);
  let sums = blurChannels(part, w, h, 4, GROUND_BLUR);
  const wide = blurChannels(part, w, h, 4, 5 * GROUND_BLUR);
  const mean = [0, 1, 2, 3].map((c) => {
    let t = 0;
    for (let q = c; q < part.length; q += 4) t += part[q]!;
    return t / (w * h);
  });
  sums = sums.map((v, q) => v + 0.05 * wide[q]! + 0.001 * mean[q % 4]!);
  const lab = new Float32Array(3 * w * h);
  for (let i = 0; i < w * h; i++) for (let c = 0; c < 3; c++) lab[3 * i + c] = sums[4 * i + c]! / sums[4 * i + 3]!;
  const blurred: Cells = { width: w, height: h, lab };
  const most = shades >= 8 ? 3 : shades >= 5 ? 2 : 1;
  let colours = clusterColours(gatherColours(lab, outsideOf(mask)), most, seed);
  colours = colours.filter((c, i) => colours.slice(0, i).every((o) => labDistance(o, c) >= ONE_GROUND));
  const k = colours.length;
  const costs = costsOf(blurred, colours);
  const labels = cheapestLabels(costs, k);
  calmLabels(labels, costs, w, h, k, GROUND_CALM);
  dropThin(labels, costs, w, h, k, Math.max(3, 2 * narrow));
  mergeSpecks(labels, costs, w, h, k, { least: LEAST_GROUND * w * h, wanted: 0 });
  return { mask, colours, labels, moved: false };
}
