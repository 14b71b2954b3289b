import { describe, expect, it } from 'vitest';
import { oklabOfHex } from '../../src/colour/oklab.ts';
import { findRegions } from '../../src/geometry/label-regions.ts';
import { groundRegion } from '../../src/geometry/silhouette.ts';
import { inkOf } from '../../src/shade/find-ink.ts';
import { keepLandmarks } from '../../src/shade/keep-landmarks.ts';
import { type ShadeOptions, shadePicture } from '../../src/shade/shade-picture.ts';
import { makePicture as make } from './made-picture.ts';

const options: ShadeOptions = { size: [304.8, 304.8], smallest: 12.7, shades: 5, background: 'keep', seed: 1 };

describe('a drawing', () => {
  it('takes a great mass of ink for ink to its middle, however far the paper is', () => {
    const mass = make(480, 2, (x, y) => (Math.hypot(x - 260, y - 240) < 130 ? [30, 28, 26] : [240, 230, 210]));
    const ink = inkOf(mass);
    const at = (x: number, y: number): number => ink[y * 480 + x]!;
    expect(at(260, 240)).toBeGreaterThan(0.6);
    expect(Math.abs(at(260, 240) - at(380, 240))).toBeLessThan(0.1);
    expect(at(30, 30)).toBeLessThan(0.05);
  });

  // an eye as large as 1/16 of the block, with lashes of fur beside it
  it('keeps an eye and lets flecks of fur go', async () => {
    const flecks = [
      [150, 300],
      [180, 330],
      [210, 300],
      [240, 330],
      [270, 300],
    ];
    const face = make(600, 0, (x, y) => {
      const ring = Math.abs(Math.hypot(x - 300, y - 300) - 200) < 4;
      const eye = Math.hypot((x - 330) / 1.4, y - 230) < 16;
      const fleck = flecks.some(([u, v]) => Math.abs(x - u!) < 5 && Math.abs(y - v!) < 5);
      return ring || eye || fleck ? [10, 10, 10] : [250, 250, 250];
    });
    const { labels, fabrics } = await shadePicture(face, { ...options, kind: 'drawing', lines: 'dissolve' });
    const ink = fabrics.findIndex((f) => oklabOfHex(f.colour)[0] < 0.4);
    const dots = findRegions(labels, 192, 192).list.filter((r) => r.label === ink);
    expect(dots).toHaveLength(1);
    expect(labels[Math.round((230 / 600) * 192) * 192 + Math.round((330 / 600) * 192)]).toBe(ink);
  });

  it('never gives the ground its fabric to an area that has several neighbours', async () => {
    // two rooms side by side in one outline
    const rooms = make(600, 0, (x, y) => {
      const [u, v] = [Math.abs(x - 300), Math.abs(y - 300)];
      const outline = Math.abs(Math.max(u, v) - 200) < 4;
      const walls = Math.max(u, v) < 200 && (Math.abs(u - 70) < 4 || (u < 70 && v < 4));
      return outline || walls ? [10, 10, 10] : [250, 250, 250];
    });
    const { labels } = await shadePicture(rooms, { ...options, shades: 3, kind: 'drawing', lines: 'dissolve' });
    const ground = labels[0]!;
    for (const [x, y] of [
      [160, 300],
      [300, 200],
      [300, 400],
      [440, 300],
    ])
      expect(labels[Math.round((y! / 600) * 192) * 192 + Math.round((x! / 600) * 192)]).not.toBe(ground);
  });

  // a coat drawn in a hundred and more short strokes on its left, white on its right; with and without a black mass in it
  it.each([0, 100])(
    'shows the white of a figure drawn in many strokes on a ground of its own (black: %i)',
    async (black) => {
      const striped = make(600, 0, (x, y) => {
        const away = Math.hypot((x - 300) / 1.3, y - 300);
        const stroke = away < 170 && x < 280 && x % 13 < 5 && (y + 9 * Math.floor(x / 13)) % 18 < 12;
        const dark = Math.hypot(x - 400, y - 360) < black;
        return Math.abs(away - 180) < 3 || stroke || dark ? [10, 10, 10] : [250, 250, 250];
      });
      const { labels, fabrics } = await shadePicture(striped, { ...options, kind: 'drawing' });
      const at = (x: number, y: number): number => labels[Math.round(0.32 * y) * 192 + Math.round(0.32 * x)]!;
      expect(at(20, 20)).toBe(0);
      expect(at(400, 210)).not.toBe(0);
      expect(at(200, 300)).not.toBe(0);
      const [paper, pale] = fabrics.map((f) => oklabOfHex(f.colour)[0]);
      expect(paper! - pale!).toBeGreaterThan(0.07);
    },
  );

  it('grows no eye out of the tips of a flat animal', () => {
    // a dark thin tip on the ground, a dark dot on the animal
    const [w, labels] = [64, new Uint8Array(64 * 64)];
    for (let y = 20; y < 60; y++) for (let x = 10; x < 50; x++) labels[y * w + x] = 1;
    const blob = (x: number, y: number) => ({ x, y, radius: 2, colour: [0.1, 0, 0] as const, stands: 0.5 });
    const colours = [
      [1, 0, 0],
      [0.6, 0.1, 0.1],
      [0.1, 0, 0],
    ] as const;
    const ground = groundRegion(labels, w, 64);
    const kept = keepLandmarks(labels, colours, w, 64, [blob(30, 8), blob(30, 40)], 6, ground);
    expect(kept.grown.map((g) => [g.blob.x, g.blob.y])).toEqual([[30, 40]]);
    expect(kept.lost).toHaveLength(0);
  });
});
