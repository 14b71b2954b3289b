import { describe, expect, it } from 'vitest';
import type { Lab } from '../../src/colour/oklab.ts';
import { flatFeatures } from '../../src/shade/drawing/flat-features.ts';

const N = 192;
/** ground, fur, black, white (OKLab) */
const COLOURS: readonly Lab[] = [
  [0.97, 0, 0],
  [0.72, 0.08, 0.12],
  [0.2, 0, 0],
  [0.95, 0, 0.01],
];

interface Disc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  readonly label: number;
}

/** Discs on the ground, the later ones on top; shares of the block. */
const art = (discs: readonly Disc[]): Uint8Array =>
  Uint8Array.from({ length: N * N }, (_, i) => {
    const [x, y] = [((i % N) + 0.5) / N, (Math.floor(i / N) + 0.5) / N];
    return discs.reduce((l, d) => (Math.hypot(x - d.x, y - d.y) < d.r ? d.label : l), 0);
  });

const HEAD = { x: 0.5, y: 0.5, r: 0.4, label: 1 };
const eye = (x: number, label = 2): Disc => ({ x, y: 0.42, r: 0.035, label });
const NOSE = { x: 0.5, y: 0.58, r: 0.03, label: 2 };

describe('flat art', () => {
  it('has two dark discs side by side as eyes and a third below as its nose, as large as can be sewn', () => {
    const face = flatFeatures(art([HEAD, eye(0.36), eye(0.64), NOSE]), COLOURS, N, N, 8)!;
    expect(face.features.map((f) => f.kind)).toEqual(['eye', 'eye', 'nose']);
    const [left, right] = face.features;
    expect(left!.pair).toBe(right!.pair);
    for (const [f, x] of [
      [left!, 0.36],
      [right!, 0.64],
    ] as const) {
      const xs = f.outline.map((p) => p[0]);
      expect((Math.min(...xs) + Math.max(...xs)) / 2).toBeCloseTo(x, 1);
      expect(Math.max(...xs) - Math.min(...xs)).toBeGreaterThan(0.06);
      // painted, and left alone by what comes after
      const middle = Math.floor(0.42 * N) * N + Math.floor(x * N);
      expect([face.labels[middle], face.hold[middle]]).toEqual([2, 1]);
    }
  });

  it('seen from the side has one round eye', () => {
    expect(flatFeatures(art([HEAD, eye(0.36)]), COLOURS, N, N, 8)!.features.map((f) => f.kind)).toEqual(['eye']);
  });

  it('has none where nothing is darker than its fur, where dark lies on the ground, or where a dark disc is a sunflower', () => {
    expect(flatFeatures(art([HEAD, eye(0.36, 3), eye(0.64, 3)]), COLOURS, N, N, 8)).toBeUndefined();
    expect(flatFeatures(art([HEAD, eye(0.06), eye(0.94)]), COLOURS, N, N, 8)).toBeUndefined();
    expect(flatFeatures(art([HEAD, { x: 0.5, y: 0.5, r: 0.2, label: 2 }]), COLOURS, N, N, 8)).toBeUndefined();
  });
});
