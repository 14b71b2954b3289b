// Takes a grid of labels; gives its label borders as chains of points (mm): the lines a seam would like to lie on.
// A chain runs between two places where more than two labels meet, or round a region; its points are smoothed over their
// neighbours, so that the stairs of a slanting border lie on a straight line.

export interface Borders {
  /** number of points */
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** first and one past the last point of the chain that holds point i */
  readonly first: Int32Array;
  readonly past: Int32Array;
  /** 1 where the chain closes on itself */
  readonly closed: Uint8Array;
}

/** Every crack between cells of different labels lies in exactly one chain. O(cells). */
export function traceBorders(
  labels: Uint8Array,
  width: number,
  height: number,
  size: readonly [number, number],
): Borders {
  const W = width + 1;
  const label = (x: number, y: number): number =>
    x < 0 || y < 0 || x >= width || y >= height ? -1 : labels[y * width + x]!;
  // cracks from lattice point (x, y): bit 0 to the right, bit 1 down; only inside the block
  const crackRight = (x: number, y: number): boolean =>
    x < width && y > 0 && y < height && label(x, y - 1) !== label(x, y);
  const crackDown = (x: number, y: number): boolean =>
    y < height && x > 0 && x < width && label(x - 1, y) !== label(x, y);
  const degree = new Uint8Array(W * (height + 1));
  const used = new Uint8Array(W * (height + 1));
  for (let y = 0; y <= height; y++)
    for (let x = 0; x <= width; x++) {
      if (crackRight(x, y)) {
        degree[y * W + x]!++;
        degree[y * W + x + 1]!++;
      }
      if (crackDown(x, y)) {
        degree[y * W + x]!++;
        degree[(y + 1) * W + x]!++;
      }
    }
  /** Takes an unused crack from p and returns the point at its other end, or -1. */
  const step = (p: number): number => {
    const x = p % W;
    const y = (p / W) | 0;
    if (crackRight(x, y) && !(used[p]! & 1)) {
      used[p]! |= 1;
      return p + 1;
    }
    if (crackDown(x, y) && !(used[p]! & 2)) {
      used[p]! |= 2;
      return p + W;
    }
    if (x > 0 && crackRight(x - 1, y) && !(used[p - 1]! & 1)) {
      used[p - 1]! |= 1;
      return p - 1;
    }
    if (y > 0 && crackDown(x, y - 1) && !(used[p - W]! & 2)) {
      used[p - W]! |= 2;
      return p - W;
    }
    return -1;
  };
  const xs: number[] = [];
  const ys: number[] = [];
  const firsts: number[] = [];
  const pasts: number[] = [];
  const loops: number[] = [];
  const walk = (start: number): void => {
    for (;;) {
      let p = step(start);
      if (p < 0) return;
      const chain = [start, p];
      while (p !== start && degree[p] === 2) {
        p = step(p);
        if (p < 0) break;
        chain.push(p);
      }
      addChain(chain, chain[0] === chain[chain.length - 1]);
    }
  };
  const addChain = (chain: number[], loop: boolean): void => {
    const from = xs.length;
    const n = loop ? chain.length - 1 : chain.length;
    for (let i = 0; i < n; i++) {
      let [sx, sy, weight] = [0, 0, 0];
      for (let o = -2; o <= 2; o++) {
        const j = i + o;
        if (!loop && (j < 0 || j >= n || i + Math.abs(o) >= n || i - Math.abs(o) < 0)) continue;
        const q = chain[((j % n) + n) % n]!;
        const share = 3 - Math.abs(o);
        sx += share * (q % W);
        sy += share * ((q / W) | 0);
        weight += share;
      }
      xs.push(((sx / weight) * size[0]) / width);
      ys.push(((sy / weight) * size[1]) / height);
    }
    for (let i = 0; i < n; i++) {
      firsts.push(from);
      pasts.push(from + n);
      loops.push(loop ? 1 : 0);
    }
  };
  for (let p = 0; p < degree.length; p++) if (degree[p]! > 0 && degree[p] !== 2) walk(p);
  for (let p = 0; p < degree.length; p++) if (degree[p] === 2) walk(p);
  return {
    count: xs.length,
    x: Float64Array.from(xs),
    y: Float64Array.from(ys),
    first: Int32Array.from(firsts),
    past: Int32Array.from(pasts),
    closed: Uint8Array.from(loops),
  };
}
