// Makes a face that is seen from the front symmetric: each cell and its mirror image get the label that most cells about both have.

const REACH = 3;
/** Cells of blur at which the two halves of a face are compared, and how far apart in OKLab lightness they then may be. */
const COARSE = 12;
/** Light from one side makes all of one half darker, by up to so much (8 photos: at most .19); half a black mask differs by more. */
const LIGHT = 0.28;
/** What is left when that is taken off: a patch over one eye is a marking. */
const MARKING = 0.14;

/** The new labels; `axis` as a share of the width, `k` labels. Cells whose mirror image lies off the block keep their own. */
export function mirrorLabels(labels: Uint8Array, w: number, h: number, axis: number, k: number): Uint8Array {
  const out = Uint8Array.from(labels);
  const votes = new Uint32Array(k);
  // to half a cell: the mirror image of a cell is a cell
  const twice = Math.round(2 * axis * w);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const m = twice - 1 - x;
      if (m < 0 || m >= w || m < x) continue;
      votes.fill(0);
      for (const c of m === x ? [x] : [x, m])
        for (let dy = -REACH; dy <= REACH; dy++)
          for (let dx = -REACH; dx <= REACH; dx++) {
            const [X, Y] = [c + dx, y + dy];
            if (X >= 0 && Y >= 0 && X < w && Y < h) votes[labels[Y * w + X]!]!++;
          }
      let best = labels[y * w + x]!;
      for (let l = 0; l < k; l++) if (votes[l]! > votes[best]!) best = l;
      out[y * w + x] = best;
      out[y * w + m] = best;
    }
  return out;
}

/** Whether the two halves of the face differ by more than light: then its markings are what makes it this animal. `lightness` is each
 *  cell's OKLab lightness, `mask` 1 where the animal is; rows from `top` to `bottom`, `half` cells to each side of the axis. */
export function markingsDiffer(
  lightness: Float32Array,
  mask: Uint8Array,
  w: number,
  axis: number,
  [top, bottom, half]: readonly [number, number, number],
): boolean {
  const twice = Math.round(2 * axis * w);
  const gaps: number[] = [];
  for (let y = top; y + COARSE <= bottom; y += COARSE)
    for (let x = Math.floor(twice / 2) - COARSE; x >= Math.max(0, Math.floor(twice / 2) - half); x -= COARSE) {
      let [a, b, n] = [0, 0, 0];
      for (let dy = 0; dy < COARSE; dy++)
        for (let dx = 0; dx < COARSE; dx++) {
          const i = (y + dy) * w + x + dx;
          const m = (y + dy) * w + twice - 1 - x - dx;
          if (twice - 1 - x - dx >= w || !mask[i] || !mask[m]) continue;
          a += lightness[i]!;
          b += lightness[m]!;
          n++;
        }
      if (n < COARSE * COARSE * 0.5) continue;
      gaps.push((a - b) / n);
    }
  const mean = (of: (gap: number) => number): number => gaps.reduce((t, g) => t + of(g), 0) / (gaps.length || 1);
  const light = mean((g) => g);
  return Math.abs(light) > LIGHT || mean((g) => Math.abs(g - light)) > MARKING;
}
