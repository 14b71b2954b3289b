// Takes a grid of labels with a whole-number weight a cell; gives, for any convex polygon, the weight of each fabric in it.
// A polygon's sum is the signed sum along its edges of row prefix sums (Green's theorem on rows of cells): O(rows), not
// O(cells). Several fabrics ride in one float64, each in its own bits, so that one addition adds them all.

/** The weight of a cell that matters as any other does. */
export const UNIT_WEIGHT = 2;

/** Cell centres are looked at this much beside themselves (in cells), so that a seam laid right through centres, as border
 *  chords often are, does not leave rounding to say which side a cell is on. */
const ASIDE = 1.3e-7;
const HALF = 0.5 - ASIDE;
const HALF_DOWN = 0.5 - 0.37 * ASIDE;

export class CellSums {
  /** weight of each fabric in the polygon measured last */
  readonly sums: Float64Array;
  readonly fabrics: number;
  /** the same, packed: sums of disjoint polygons can be added and taken away; only where `isPacked` */
  packed0 = 0;
  packed1 = 0;
  /** whether two numbers hold all fabrics */
  readonly isPacked: boolean;
  private readonly table: Float64Array;
  private readonly lanes: number;
  private readonly perLane: number;
  private readonly radix: number;
  private readonly stride: number;
  private readonly scaleX: number;
  private readonly scaleY: number;
  private readonly acc: Float64Array;

  /** @param labels width x height, fabric of each cell  @param size mm that the grid covers  @param weights whole numbers >= 1 */
  constructor(
    labels: Uint8Array,
    readonly width: number,
    readonly height: number,
    fabrics: number,
    size: readonly [number, number],
    weights: Uint16Array,
  ) {
    let total = 0;
    for (let i = 0; i < weights.length; i++) total += weights[i]!;
    this.perLane = total < 2 ** 17 ? 3 : 2;
    this.radix = 2 ** (this.perLane === 3 ? 17 : 26);
    if (total >= this.radix) throw new Error(`weights sum to ${total}, more than a lane holds`);
    this.fabrics = fabrics;
    this.lanes = Math.ceil(fabrics / this.perLane);
    this.isPacked = this.lanes <= 2;
    this.sums = new Float64Array(this.lanes * this.perLane);
    this.acc = new Float64Array(this.lanes);
    // column by column: a seam's rows then lie side by side in memory, where it is steep
    this.stride = height * this.lanes;
    this.scaleX = width / size[0];
    this.scaleY = height / size[1];
    const table = new Float64Array(this.stride * (width + 1));
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const from = x * this.stride + y * this.lanes;
        for (let lane = 0; lane < this.lanes; lane++) table[from + this.stride + lane] = table[from + lane]!;
        const label = labels[y * width + x]!;
        const lane = Math.floor(label / this.perLane);
        table[from + this.stride + lane]! += weights[y * width + x]! * this.radix ** (label % this.perLane);
      }
    this.table = table;
  }

  /** Sums over the cells whose centre lies in the polygon: `corners` x, y pairs (mm, positive order) in xy from `at` on.
   *  Fills `sums` and returns their total. */
  measure(xy: Float64Array, at: number, corners: number): number {
    const { lanes, table, stride, scaleX, scaleY } = this;
    let s0 = 0;
    let s1 = 0;
    if (lanes > 2) this.acc.fill(0);
    let x1 = xy[at + 2 * corners - 2]! * scaleX;
    let y1 = xy[at + 2 * corners - 1]! * scaleY;
    for (let i = 0; i < corners; i++) {
      const x2 = xy[at + 2 * i]! * scaleX;
      const y2 = xy[at + 2 * i + 1]! * scaleY;
      if (y1 < y2) {
        // a right-hand edge, running down: add what lies left of it
        const first = Math.ceil(y1 - HALF_DOWN);
        const past = Math.ceil(y2 - HALF_DOWN);
        if (first < past) {
          const slope = (x2 - x1) / (y2 - y1);
          let x = x1 + (first + HALF_DOWN - y1) * slope + HALF;
          let row = first * lanes;
          if (lanes === 2)
            for (let y = first; y < past; y++, row += 2, x += slope) {
              const j = row + (x | 0) * stride;
              s0 += table[j]!;
              s1 += table[j + 1]!;
            }
          else if (lanes === 1)
            for (let y = first; y < past; y++, row++, x += slope) s0 += table[row + (x | 0) * stride]!;
          else this.addLanes(row, x, slope, past - first, 1);
        }
      } else if (y2 < y1) {
        const first = Math.ceil(y2 - HALF_DOWN);
        const past = Math.ceil(y1 - HALF_DOWN);
        if (first < past) {
          const slope = (x1 - x2) / (y1 - y2);
          let x = x2 + (first + HALF_DOWN - y2) * slope + HALF;
          let row = first * lanes;
          if (lanes === 2)
            for (let y = first; y < past; y++, row += 2, x += slope) {
              const j = row + (x | 0) * stride;
              s0 -= table[j]!;
              s1 -= table[j + 1]!;
            }
          else if (lanes === 1)
            for (let y = first; y < past; y++, row++, x += slope) s0 -= table[row + (x | 0) * stride]!;
          else this.addLanes(row, x, slope, past - first, -1);
        }
      }
      x1 = x2;
      y1 = y2;
    }
    return lanes > 2 ? this.unpackAll() : this.load(s0, s1);
  }

  /** Fills `sums` from packed ones and returns their total. */
  load(packed0: number, packed1: number): number {
    this.packed0 = packed0;
    this.packed1 = packed1;
    return this.unpack(packed0, 0) + (this.lanes === 2 ? this.unpack(packed1, this.perLane) : 0);
  }

  private addLanes(row: number, x: number, slope: number, rows: number, sign: number): void {
    const { lanes, table, stride, acc } = this;
    for (let y = 0; y < rows; y++, row += lanes, x += slope) {
      const j = row + (x | 0) * stride;
      for (let lane = 0; lane < lanes; lane++) acc[lane]! += sign * table[j + lane]!;
    }
  }

  private unpackAll(): number {
    let total = 0;
    for (let lane = 0; lane < this.lanes; lane++) total += this.unpack(this.acc[lane]!, lane * this.perLane);
    return total;
  }

  private unpack(packed: number, at: number): number {
    const { sums, radix, perLane } = this;
    let total = 0;
    let rest = packed;
    for (let i = 0; i < perLane; i++) {
      const up = Math.floor(rest / radix);
      const own = rest - up * radix;
      sums[at + i] = own;
      total += own;
      rest = up;
    }
    return total;
  }
}
