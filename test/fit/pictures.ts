// Small made-up grids of labels to fit: a disc, a slanting edge, stripes; and seeded noise.
import type { Shading } from '../../src/data.ts';

const COLOURS = ['#f4f0e6', '#c8a06a', '#8a5a32', '#4a3a30', '#101010'];

/** Seeded chance in [0, 1): mulberry32. */
function chance(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function gridOf(side: number, fabrics: number, label: (x: number, y: number) => number): Shading {
  const labels = new Uint8Array(side * side);
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) labels[y * side + x] = label((x + 0.5) / side, (y + 0.5) / side);
  return {
    width: side,
    height: side,
    labels,
    fabrics: Array.from({ length: fabrics }, (_, i) => ({
      id: `f${i + 1}`,
      code: `c${i + 1}`,
      name: `shade ${i + 1}`,
      colour: COLOURS[i]!,
      hatch: i,
    })),
    grown: [],
    lost: [],
    notes: [],
  };
}

/** A face: ground, head, two eyes, a nose. */
export const face = (side: number): Shading =>
  gridOf(side, 4, (x, y) => {
    const disc = (cx: number, cy: number, r: number): boolean => Math.hypot(x - cx, y - cy) < r;
    if (disc(0.38, 0.42, 0.05) || disc(0.62, 0.42, 0.05)) return 3;
    if (disc(0.5, 0.6, 0.06)) return 2;
    if (disc(0.5, 0.5, 0.32)) return 1;
    return (x < 0.35 || x > 0.65) && y < 0.3 && Math.abs(x - 0.5) < 0.33 && y > 0.1 ? 1 : 0;
  });

/** Blobs of `fabrics` shades, and one cell in a hundred wrong. */
export function noisy(side: number, fabrics: number, seed: number): Shading {
  const next = chance(seed);
  const below = (n: number): number => Math.floor(next() * n);
  const seeds = Array.from({ length: 14 }, () => [next(), next(), below(fabrics)] as const);
  return gridOf(side, fabrics, (x, y) => {
    if (next() < 0.01) return below(fabrics);
    let best = seeds[0]!;
    for (const s of seeds) if (Math.hypot(x - s[0], y - s[1]) < Math.hypot(x - best[0], y - best[1])) best = s;
    return best[2];
  });
}
