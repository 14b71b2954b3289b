// Shifts borders cell by cell so that the regions, seen from a little way off, come nearer to the picture: descent on the
// squared OKLab distance of blurred regions and blurred picture, with a price on border length. A pass never raises it.
import type { Lab } from '../colour/oklab.ts';
import { blurChannels, type Cells } from './cells.ts';
import { VIEW_BLUR } from './fit-colours.ts';

/** How much of what lies round a cell is not `l`: half for each of the four sides, 0.35 for each corner. */
function unlike(labels: Uint8Array, x: number, y: number, w: number, h: number, l: number): number {
  let t = 0;
  for (let Y = Math.max(0, y - 1); Y <= Math.min(h - 1, y + 1); Y++)
    for (let X = Math.max(0, x - 1); X <= Math.min(w - 1, x + 1); X++)
      if ((X !== x || Y !== y) && labels[Y * w + X] !== l) t += X !== x && Y !== y ? 0.35 : 0.5;
  return t;
}

/** What `pull` gains when the cell at (x, y) changes from colour `was` to `is`. */
function addChange(
  pull: Float32Array,
  w: number,
  h: number,
  x: number,
  y: number,
  kernel: Float64Array,
  is: Lab,
  was: Lab,
): void {
  const reach = kernel.length >> 1;
  const dL = is[0] - was[0];
  const da = is[1] - was[1];
  const db = is[2] - was[2];
  for (let ky = -reach; ky <= reach; ky++) {
    const Y = y + ky;
    if (Y < 0 || Y >= h) continue;
    for (let kx = -reach; kx <= reach; kx++) {
      const X = x + kx;
      if (X < 0 || X >= w) continue;
      const v = kernel[ky + reach]! * kernel[kx + reach]!;
      const o = 3 * (Y * w + X);
      pull[o]! += v * dL;
      pull[o + 1]! += v * da;
      pull[o + 2]! += v * db;
    }
  }
}

/** How far the regions' colours are from the picture's, blurred: 3 a cell. */
function blurredOff(labels: Uint8Array, colours: readonly Lab[], seen: Cells): Float32Array {
  const { width: w, height: h } = seen;
  const painted = new Float32Array(3 * w * h);
  for (let i = 0; i < labels.length; i++) {
    const colour = colours[labels[i]!]!;
    for (let c = 0; c < 3; c++) painted[3 * i + c] = colour[c]!;
  }
  const off = blurChannels(painted, w, h, 3, VIEW_BLUR);
  for (let q = 0; q < off.length; q++) off[q]! -= seen.lab[q]!;
  return off;
}

/** Changes `labels` in place. `seen` is the picture blurred by VIEW_BLUR; `price` is per cell length of border;
 *  `weights` says how much likeness counts against it in each cell. */
export function shiftBorders(
  labels: Uint8Array,
  colours: readonly Lab[],
  seen: Cells,
  price: number,
  hold?: Uint8Array,
  weights?: Float32Array,
): void {
  const { width: w, height: h } = seen;
  const n = w * h;
  const pull = blurChannels(blurredOff(labels, colours, seen), w, h, 3, VIEW_BLUR);
  // what one changed cell adds to `pull`: the blur of a blur
  const sigma = VIEW_BLUR * Math.SQRT2;
  const reach = Math.ceil(2.5 * sigma);
  const line = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const sum = line.reduce((a, b) => a + b, 0);
  const kernel = Float64Array.from(line, (v) => v / sum);
  const own = kernel[reach]! ** 2;
  for (let sweep = 0; sweep < 6; sweep++) {
    let changed = 0;
    for (let q = 0; q < n; q++) {
      const i = sweep % 2 ? n - 1 - q : q;
      if (hold?.[i]) continue;
      const x = i % w;
      const y = (i - x) / w;
      const mine = labels[i]!;
      let l0 = mine;
      let l1 = mine;
      let l2 = mine;
      let l3 = mine;
      if (x > 0) l0 = labels[i - 1]!;
      if (x < w - 1) l1 = labels[i + 1]!;
      if (y > 0) l2 = labels[i - w]!;
      if (y < h - 1) l3 = labels[i + w]!;
      if (l0 === mine && l1 === mine && l2 === mine && l3 === mine) continue;
      const per = weights ? price / weights[i]! : price;
      const before = per * unlike(labels, x, y, w, h, mine);
      let best = mine;
      let least = -1e-9;
      for (let side = 0; side < 4; side++) {
        const l = side < 2 ? (side ? l1 : l0) : side === 2 ? l2 : l3;
        if (l === mine || l === best) continue;
        let e = per * unlike(labels, x, y, w, h, l) - before;
        for (let c = 0; c < 3; c++) {
          const d = colours[l]![c]! - colours[mine]![c]!;
          e += 2 * d * pull[3 * i + c]! + d * d * own;
        }
        if (e < least) {
          least = e;
          best = l;
        }
      }
      if (best === mine) continue;
      labels[i] = best;
      changed++;
      addChange(pull, w, h, x, y, kernel, colours[best]!, colours[mine]!);
    }
    if (changed < 8) break;
  }
}
