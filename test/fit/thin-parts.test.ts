import { describe, expect, it } from 'vitest';
import { thinParts } from '../../src/geometry/silhouette.ts';

const SIDE = 192;
/** A block of 12 in: a body 4 in wide and high, and a leg below it that is `leg` of the block wide. */
const animal = (leg: number): Uint8Array =>
  Uint8Array.from({ length: SIDE * SIDE }, (_, i) => {
    const [x, y] = [((i % SIDE) + 0.5) / SIDE, (Math.floor(i / SIDE) + 0.5) / SIDE];
    const body = x > 0.3 && x < 0.65 && y > 0.3 && y < 0.6;
    return body || (x > 0.32 && x < 0.32 + leg && y >= 0.6 && y < 0.8) ? 1 : 0;
  });

describe('thin parts of a silhouette', () => {
  it('are a leg narrower than 7/8 in of 12, and nothing of the body', () => {
    const thin = thinParts(animal(0.05), SIDE, SIDE);
    const at = (x: number, y: number): number => thin[Math.floor(y * SIDE) * SIDE + Math.floor(x * SIDE)]!;
    expect(at(0.345, 0.75)).toBe(1);
    expect(at(0.5, 0.45)).toBe(0);
    expect(at(0.9, 0.9)).toBe(0);
    const cells = thin.reduce((n, v) => n + v, 0);
    expect(cells).toBeGreaterThan(0.9 * 0.05 * 0.2 * SIDE * SIDE);
    expect(cells).toBeLessThan(1.1 * 0.05 * 0.2 * SIDE * SIDE);
  });

  it('are none where all is wide, also where the block cuts the animal', () => {
    expect(thinParts(animal(0.12), SIDE, SIDE).some((v) => v)).toBe(false);
    expect(thinParts(new Uint8Array(SIDE * SIDE).fill(1), SIDE, SIDE).some((v) => v)).toBe(false);
  });
});
