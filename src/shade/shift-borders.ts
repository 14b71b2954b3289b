// Shifts borders cell by cell so that the regions, seen from a little way off, come nearer to the picture: descent on the
// squared OKLab distance of blurred regions and blurred picture, with a price on border length. A pass never raises it.
import type { Lab } from '../colour/oklab.ts';
import { blurChannels, type Cells } from './cells.ts';
import { VIEW_BLUR } from './fit-colours.ts';

/** Changes `labels` in place. `seen` is the picture blurred by VIEW_BLUR; `price` is per cell length of border. */
export function shiftBorders(
  labels: Uint8Array,
  colours: readonly Lab[],
  seen: Cells,
  price: number,
  hold?: Uint8Array,
): void {
  const { width: w, height: h } = seen;
  const n = w * h;
  const painted = new Float32Array(3 * n);
  for (let i = 0; i < n; i++) painted.set(colours[labels[i]!]!, 3 * i);
  const off = blurChannels(painted, w, h, 3, VIEW_BLUR);
  for (let q = 0; q < 3 * n; q++) off[q]! -= seen.lab[q]!;
  const pull = blurChannels(off, w, h, 3, VIEW_BLUR);
  // what one changed cell adds to `pull`: the blur of a blur
  const sigma = VIEW_BLUR * Math.SQRT2;
  const reach = Math.ceil(2.5 * sigma);
  const line = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const sum = line.reduce((a, b) => a + b, 0);
  const kernel = line.map((v) => v / sum);
  const own = kernel[reach]! ** 2;
  for (let sweep = 0; sweep < 6; sweep++) {
    let changed = 0;
    for (let q = 0; q < n; q++) {
      const i = sweep % 2 ? n - 1 - q : q;
      if (hold?.[i]) continue;
      const x = i % w;
      const y = (i - x) / w;
      const mine = labels[i]!;
      let [l0, l1, l2, l3] = [mine, mine, mine, mine];
      if (x > 0) l0 = labels[i - 1]!;
      if (x < w - 1) l1 = labels[i + 1]!;
      if (y > 0) l2 = labels[i - w]!;
      if (y < h - 1) l3 = labels[i + w]!;
      if (l0 === mine && l1 === mine && l2 === mine && l3 === mine) continue;
      const unlike = (l: number): number => {
        let t = 0;
        for (let dy = -1; dy <= 1; dy++)
          for (let dx = -1; dx <= 1; dx++) {
            const X = x + dx;
            const Y = y + dy;
            if ((dx || dy) && X >= 0 && Y >= 0 && X < w && Y < h && labels[Y * w + X] !== l) t += dx && dy ? 0.35 : 0.5;
          }
        return t;
      };
      const before = price * unlike(mine);
      let best = mine;
      let least = -1e-9;
      for (const l of [l0, l1, l2, l3]) {
        if (l === mine || l === best) continue;
        let e = price * unlike(l) - before;
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
      const [dL, da, db] = [0, 1, 2].map((c) => colours[best]![c]! - colours[mine]![c]!) as [number, number, number];
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
    if (changed < 8) break;
  }
}
