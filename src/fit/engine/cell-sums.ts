// Takes a grid of labels with a whole-number weight a cell; gives, for any convex polygon, the weight of each fabric in it.
// A polygon's sum is the signed sum along its edges of row prefix sums (Green's theorem on rows of cells): O(rows), not
// O(cells). Several fabrics ride in one float64, each in its own bits, so that one addition adds them all.
import { Doubles, room } from './memory';
import { Mirror } from './mirror';
import { xy } from './state';

/** Cell centres are looked at this much beside themselves (in cells), so that a seam laid right through centres, as border
 *  chords often are, does not leave rounding to say which side a cell is on. */
const ASIDE: f64 = 1.3e-7;
const HALF: f64 = 0.5 - ASIDE;
const HALF_DOWN: f64 = 0.5 - 0.37 * ASIDE;
const MOST_FABRICS: i32 = 256;

/** weight of each fabric in the polygon measured last */
export const sums = changetype<Doubles>(memory.data(8 * (MOST_FABRICS + 4), 16));
const acc = changetype<Doubles>(memory.data(8 * MOST_FABRICS, 16));

export class Sums {
  static width: i32 = 0;
  static height: i32 = 0;
  static fabrics: i32 = 0;
  /** numbers that hold all fabrics: two or fewer can be kept for each piece, and added and taken away */
  static lanes: i32 = 0;
  static packed0: f64 = 0;
  static packed1: f64 = 0;
  static perLane: i32 = 0;
  static radix: f64 = 0;
  static stride: i32 = 0;
  static scaleX: f64 = 0;
  static scaleY: f64 = 0;
  static table: usize = 0;
}

/** Labels: a byte a cell; weights: two bytes a cell; size of the grid in mm. False where the weights are more than can be held. */
export function fillSums(
  labels: usize,
  weights: usize,
  width: i32,
  height: i32,
  fabrics: i32,
  wide: f64,
  high: f64,
): bool {
  let all: f64 = 0;
  for (let i = 0; i < width * height; i++) all += load<u16>(weights + ((<usize>i) << 1));
  Sums.perLane = all < 131072 ? 3 : 2;
  Sums.radix = Sums.perLane === 3 ? 131072 : 67108864;
  if (all >= Sums.radix) return false;
  Sums.width = width;
  Sums.height = height;
  Sums.fabrics = fabrics;
  const lanes = (fabrics + Sums.perLane - 1) / Sums.perLane;
  Sums.lanes = lanes;
  // column by column: a seam's rows then lie side by side in memory, where it is steep
  const stride = height * lanes;
  Sums.stride = stride;
  Sums.scaleX = Mirror.axis > 0 ? Mirror.scale : <f64>width / wide;
  Sums.scaleY = <f64>height / high;
  Sums.table = room(8 * <usize>stride * <usize>(width + 1));
  const table = changetype<Doubles>(Sums.table);
  for (let x = 0; x < width; x++)
    for (let y = 0; y < height; y++) {
      const from = x * stride + y * lanes;
      for (let lane = 0; lane < lanes; lane++) table[from + stride + lane] = table[from + lane];
      const cell = <usize>(y * width + x);
      const label = <i32>load<u8>(labels + cell);
      let worth = <f64>load<u16>(weights + (cell << 1));
      for (let i = label % Sums.perLane; i > 0; i--) worth *= Sums.radix;
      table[from + stride + label / Sums.perLane] += worth;
    }
  return true;
}

/** Sums over the cells whose centre lies in the polygon of `n` corners at `at` in `xy`, positive order. Fills `sums` and returns
 *  their total. */
export function measure(at: i32, n: i32): f64 {
  const lanes = Sums.lanes;
  const scaleX = Sums.scaleX;
  const scaleY = Sums.scaleY;
  if (lanes > 2) for (let i = 0; i < lanes; i++) acc[i] = 0;
  let s0: f64 = 0;
  let s1: f64 = 0;
  let x1 = xy[at + 2 * n - 2] * scaleX;
  let y1 = xy[at + 2 * n - 1] * scaleY;
  for (let i = 0; i < n; i++) {
    const x2 = xy[at + 2 * i] * scaleX;
    const y2 = xy[at + 2 * i + 1] * scaleY;
    // an edge that runs down is a right-hand one: what lies left of it counts; one that runs up takes that away
    const down = y1 < y2;
    const first = <i32>Math.ceil((down ? y1 : y2) - HALF_DOWN);
    const past = <i32>Math.ceil((down ? y2 : y1) - HALF_DOWN);
    if (first < past) {
      const slope = down ? (x2 - x1) / (y2 - y1) : (x1 - x2) / (y1 - y2);
      const x = (down ? x1 : x2) + (<f64>first + HALF_DOWN - (down ? y1 : y2)) * slope + HALF;
      if (lanes === 2) {
        addTwo(first, past, x, slope);
        s0 += down ? Sums.packed0 : -Sums.packed0;
        s1 += down ? Sums.packed1 : -Sums.packed1;
      } else if (lanes === 1) {
        const sum = addOne(first, past, x, slope);
        s0 += down ? sum : -sum;
      } else addLanes(first, past, x, slope, down ? 1 : -1);
    }
    x1 = x2;
    y1 = y2;
  }
  if (lanes <= 2) return loadSums(s0, s1);
  let whole: f64 = 0;
  for (let lane = 0; lane < lanes; lane++) whole += unpack(acc[lane], lane * Sums.perLane);
  return whole;
}

function addTwo(first: i32, past: i32, from: f64, slope: f64): void {
  // two plain loads: one of 16 bytes makes the whole fit a fifth slower
  let x = from;
  let s0: f64 = 0;
  let s1: f64 = 0;
  let row = Sums.table + ((<usize>first) << 4);
  const stride = (<usize>Sums.stride) << 3;
  for (let y = first; y < past; y++, row += 16, x += slope) {
    const at = row + <usize>(<i32>x) * stride;
    s0 += load<f64>(at);
    s1 += load<f64>(at, 8);
  }
  Sums.packed0 = s0;
  Sums.packed1 = s1;
}

function addOne(first: i32, past: i32, from: f64, slope: f64): f64 {
  let x = from;
  let s: f64 = 0;
  let row = Sums.table + ((<usize>first) << 3);
  const stride = (<usize>Sums.stride) << 3;
  for (let y = first; y < past; y++, row += 8, x += slope) s += load<f64>(row + <usize>(<i32>x) * stride);
  return s;
}

function addLanes(first: i32, past: i32, from: f64, slope: f64, sign: f64): void {
  const lanes = Sums.lanes;
  const table = changetype<Doubles>(Sums.table);
  let x = from;
  for (let y = first; y < past; y++, x += slope) {
    const at = y * lanes + <i32>x * Sums.stride;
    for (let lane = 0; lane < lanes; lane++) acc[lane] += sign * table[at + lane];
  }
}

/** Fills `sums` from packed ones and returns their total. */
export function loadSums(packed0: f64, packed1: f64): f64 {
  Sums.packed0 = packed0;
  Sums.packed1 = packed1;
  return unpack(packed0, 0) + (Sums.lanes === 2 ? unpack(packed1, Sums.perLane) : 0);
}

function unpack(packed: f64, at: i32): f64 {
  const radix = Sums.radix;
  const inverse = 1 / radix;
  let whole: f64 = 0;
  let rest = packed;
  for (let i = 0; i < Sums.perLane; i++) {
    const up = Math.floor(rest * inverse);
    const own = rest - up * radix;
    sums[at + i] = own;
    whole += own;
    rest = up;
  }
  return whole;
}

/** Gini impurity of the polygon measured last, in weight: total - sum of squares / total (Breiman et al. 1984). */
export function impurity(): f64 {
  let whole: f64 = 0;
  let squares: f64 = 0;
  for (let f = 0; f < Sums.fabrics; f++) {
    whole += sums[f];
    squares += sums[f] * sums[f];
  }
  return whole > 0 ? whole - squares / whole : 0;
}
