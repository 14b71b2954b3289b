import { describe, expect, it } from 'vitest';
import { lightness } from '../../src/colour/difference.ts';
import { hexOfOklab } from '../../src/colour/oklab.ts';
import type { FaceShape, Shading } from '../../src/data.ts';
import { drawEars } from '../../src/figure/draw-ears.ts';
import { findEars } from '../../src/figure/find-ears.ts';
import { insideConvex, type Point } from '../../src/geometry/polygon.ts';
import { fabricsOf } from '../../src/shade/make-fabrics.ts';
import { earOutline, pointEars, weighEars } from '../../src/shade/point-ears.ts';
import { showFace } from '../../src/shade/show-face.ts';

const SIDE = 256;
/** A face of which the eyes are 200 pixels apart, midway at (640, 700), in a picture of 1280 by 1280. */
const FACE = { x: 640, y: 700, d: 200, tilt: 0, down: 0.7, across: 0 };

/** What is likely the animal's: `inside` in distances of the eyes from the point midway. */
function likely(inside: (u: number, v: number) => boolean, tilt = 0) {
  const map = new Float32Array(SIDE * SIDE);
  const [c, s] = [Math.cos(tilt), Math.sin(tilt)];
  for (let i = 0; i < map.length; i++) {
    const [dx, dy] = [((i % SIDE) + 0.5) * 5 - FACE.x, (Math.floor(i / SIDE) + 0.5) * 5 - FACE.y].map(
      (v) => v / FACE.d,
    );
    if (inside(dx! * c + dy! * s, dy! * c - dx! * s)) map[i] = 1;
  }
  return { part: [0, 0, 1280, 1280] as const, likely: map, side: SIDE };
}

const LEFT: readonly Point[] = [
  [-1.2, -1.7],
  [-0.4, -0.9],
  [-1.25, -0.3],
];
const RIGHT: readonly Point[] = LEFT.map(([u, v]): Point => [-u, v]).reverse();
const head = (u: number, v: number): boolean => Math.hypot(u, v * 1.15) < 1.3;
const cat = (u: number, v: number): boolean => head(u, v) || insideConvex(LEFT, [u, v]) || insideConvex(RIGHT, [u, v]);

describe('ears', () => {
  it('that stand up have their tips where they are, upright and tilted', () => {
    for (const tilt of [0, 0.4, -0.6]) {
      const [left, right] = findEars({ ...FACE, tilt }, likely(cat, tilt), false);
      for (const [tip, u] of [
        [left, -1.2],
        [right, 1.2],
      ] as const) {
        expect(tip, `tilt ${tilt}`).toBeDefined();
        expect(Math.hypot(tip!.u - u, tip!.v + 1.7)).toBeLessThan(0.2);
        expect(tip!.filled).toBeLessThan(0.3);
      }
    }
  });

  it('that hang, or are none, have no tips', () => {
    const hanging = (u: number, v: number): boolean => head(u, v) || Math.hypot(Math.abs(u) - 1.3, v / 2) < 0.5;
    expect(findEars(FACE, likely(hanging), true)).toEqual([undefined, undefined]);
    expect(findEars(FACE, likely(head), true)).toEqual([undefined, undefined]);
  });

  it('of a face from the front are alike: a corner of what stands behind the head is none', () => {
    // a cushion hides the right ear and has a corner farther up
    const cushion = (u: number, v: number): boolean => cat(u, v) || (u > 0.7 && v > -2.5 && v < 0 && u < 2.6);
    const [left, right] = findEars(FACE, likely(cushion), true);
    expect(Math.abs(left!.u + right!.u)).toBeLessThan(0.3);
    expect(Math.abs(left!.v - right!.v)).toBeLessThan(0.3);
  });

  it('that only hang together with the face through nothing are not the animal', () => {
    const apart = (u: number, v: number): boolean => head(u, v) || (v < -1.5 && v > -1.5 - (1.4 - Math.abs(u)));
    expect(findEars(FACE, likely(apart), true)).toEqual([undefined, undefined]);
  });
});

describe('ears on the block', () => {
  const shown = { crop: [140, 100, 1000, 1000] as const, pixels: [1280, 1280] as const };
  const figure = {
    face: { x: 640 / 1280, y: 700 / 1280, tilt: 0, front: true },
    ears: [
      { x: 400 / 1280, y: 360 / 1280 },
      { x: 860 / 1280, y: 340 / 1280 },
    ],
  };

  it('are mirror images where the face is drawn alike on both sides', () => {
    const { ears, between } = drawEars(figure, shown, [304.8, 304.8], 0.5);
    expect(ears[0]!.tip[0] + ears[1]!.tip[0]).toBeCloseTo(1, 9);
    expect(ears[0]!.tip[1]).toBeCloseTo(ears[1]!.tip[1], 9);
    expect(ears[0]!.tip[1]).toBeCloseTo((260 + 240) / 2000, 9);
    expect(between).toHaveLength(5);
    expect(between![2]![0]).toBeCloseTo(0.5, 9);
  });

  it('are filled to their tips; what stands between them above the forehead, and beyond them, is ground', () => {
    const N = 192;
    const block = drawEars(figure, shown, [304.8, 304.8], 0.5);
    // an animal whose back stands behind its head as high as its ears, and a cushion beside them
    const mask = Uint8Array.from({ length: N * N }, (_, i) => (Math.floor(i / N) > 40 ? 1 : 0));
    const out = pointEars(mask, N, N, block);
    const at = (u: number, v: number): number => out[Math.floor(v * N) * N + Math.floor(u * N)]!;
    expect(at(0.5, 0.3)).toBe(0);
    expect(at(0.5, 0.5)).toBe(1);
    expect(at(0.05, 0.3)).toBe(0);
    for (const e of block.ears) {
      const [x, y] = earOutline(e).reduce((sum, p) => [sum[0] + p[0] / 3, sum[1] + p[1] / 3], [0, 0]);
      expect(at(x, y)).toBe(1);
      expect(at(e.tip[0], e.tip[1] + 2 / N)).toBe(1);
    }
    expect(weighEars(undefined, N, N, block).filter((v) => v > 1).length).toBeGreaterThan(500);
  });

  it('leave a mask as it is where there are none', () => {
    const mask = new Uint8Array(64).fill(1);
    expect(pointEars(mask, 8, 8, { ears: [] })).toEqual(mask);
  });
});

describe('a dark eye', () => {
  it('gets the lightest shade that lies about it as its frame, whatever most of it is', () => {
    const N = 192;
    const eye: FaceShape = {
      kind: 'eye',
      outline: [
        [0.46, 0.46],
        [0.54, 0.46],
        [0.54, 0.54],
        [0.46, 0.54],
      ],
      colour: '#3a3020',
    };
    // two thirds dark fur, one third light
    const labels = Uint8Array.from({ length: N * N }, (_, i) => ((i % N) % 12 < 8 ? 1 : 0));
    const shading: Shading = {
      ...{ width: N, height: N, labels, grown: [], lost: [], notes: [] },
      fabrics: fabricsOf([hexOfOklab([0.8, 0.02, 0.05]), hexOfOklab([0.4, 0.02, 0.04])]),
    };
    const { shading: shown } = showFace(shading, [eye]);
    // light to dark
    const light = 0;
    for (const [x, y] of [
      [85, 96],
      [106, 96],
      [96, 85],
      [96, 106],
    ] as const)
      expect(shown.labels[y * N + x]).toBe(light);
    expect(lightness(shown.fabrics[shown.features![0]!.fabric]!.colour)).toBeLessThan(22);
  });
});
