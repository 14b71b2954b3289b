import { describe, expect, it } from 'vitest';
import { clusterColours, gatherColours } from '../../src/colour/cluster.ts';
import { oklabOfHex } from '../../src/colour/oklab.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { findRegions } from '../../src/geometry/label-regions.ts';
import { cropAround, type SubjectBox } from '../../src/picture/choose-crop.ts';
import { calmGround, plainGround } from '../../src/shade/calm-ground.ts';
import { averageCells } from '../../src/shade/cells.ts';
import { findSubject } from '../../src/shade/find-subject.ts';
import { findFocus, weighFocus, weighSubject } from '../../src/shade/focus.ts';
import type { Guess } from '../../src/shade/guess-subject.ts';
import { measureOutline } from '../../src/shade/outline-gap.ts';
import { shadePicture } from '../../src/shade/shade-picture.ts';
import { suggestShades } from '../../src/shade/suggest-shades.ts';

const N = 192;
const disc =
  (x: number, y: number, r: number) =>
  (i: number): boolean =>
    Math.hypot((i % N) + 0.5 - x, Math.floor(i / N) + 0.5 - y) <= r;
const animal = disc(96, 100, 50);
const mask = Uint8Array.from({ length: N * N }, (_, i) => (animal(i) ? 1 : 0));

/** A photo-like picture: an animal in a meadow that is full of small things, two pixels a cell; seeded. */
function meadow(fur: readonly number[], sky: readonly number[], grass: readonly number[]): Picture {
  const n = 2 * N;
  const pixels = new Uint8Array(3 * n * n);
  let state = 5;
  const random = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state >>> 8) / 2 ** 24;
  };
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++) {
      const cell = Math.floor(y / 2) * N + Math.floor(x / 2);
      const own = mask[cell] ? fur : y < n / 2 ? sky : grass;
      const tuft = !mask[cell] && (x >> 4) % 3 === 0 && (y >> 4) % 2 === 0 ? -30 : 0;
      own.forEach((v, c) => {
        pixels[3 * (y * n + x) + c] = Math.max(0, Math.min(255, v + tuft + 14 * (random() - 0.5)));
      });
    }
  const source = { sha256: '', pixels: [n, n] as const, crop: [0, 0, n, n] as const, format: 'png' };
  return { width: n, height: n, pixels, source, notes: [] };
}
/** A guess that knows the animal roughly, as a network would. */
const guess: Guess = {
  part: [0, 0, 2 * N, 2 * N],
  side: N,
  likely: Float32Array.from({ length: N * N }, (_, i) =>
    disc(96, 100, 44)(i) ? 0.95 : disc(96, 100, 56)(i) ? 0.6 : 0.02,
  ),
  sure: 0.9,
};
const options = { size: [304.8, 304.8] as const, smallest: 9.525, shades: 5, seed: 1, kind: 'photo' as const, guess };
const meadows = meadow([190, 120, 70], [150, 190, 230], [90, 130, 60]);

describe('the background', () => {
  it('calm: a few large shades of its own, whatever stood in it', async () => {
    const shading = await shadePicture(meadows, { ...options, background: 'calm' });
    const behind = findRegions(shading.labels, N, N).list.filter((r) => !r.cells.some((i) => mask[i]));
    expect(behind.length).toBeGreaterThan(0);
    for (const r of behind) expect(r.cells.length).toBeGreaterThan(0.03 * N * N);
    const outer = new Set([...shading.labels].filter((_, i) => !disc(96, 100, 60)(i)));
    expect(outer.size).toBe(2);
    expect(shading.choices.subject).toBeCloseTo(mask.reduce((t, v) => t + v, 0) / N ** 2, 1);
  });
  it('plain: one fabric, at least 20 L* from those along the outline (house rule), and the same on every run', async () => {
    const dark = meadow([40, 36, 34], [60, 58, 56], [50, 54, 44]);
    const shading = await shadePicture(dark, { ...options, background: 'plain' });
    const outer = new Set([...shading.labels].filter((_, i) => !disc(96, 100, 60)(i)));
    expect(outer.size).toBe(1);
    expect(shading.choices.outline!.weak).toBeLessThan(0.1);
    expect(shading.notes.join()).toMatch(/not the picture's own background/);
    expect(await shadePicture(dark, { ...options, background: 'plain' })).toEqual(shading);
  });
  it('calm: says so where a dark animal stands on dark', async () => {
    const dark = meadow([40, 36, 34], [60, 58, 56], [50, 54, 44]);
    const shading = await shadePicture(dark, { ...options, background: 'calm' });
    expect(shading.notes.join()).toMatch(/nearly as light or dark as its ground/);
  });
  it('goes on behind the subject', () => {
    const cells = averageCells(meadows.pixels, 2 * N, 2 * N, N, N);
    const calm = calmGround(mask, cells, 5, 1, 6);
    expect(calm.colours).toHaveLength(2);
    expect(findRegions(calm.labels, N, N).list.length).toBeLessThanOrEqual(3);
    expect(plainGround(mask, cells, 5, 1).labels.every((l) => l === 0)).toBe(true);
  });
  it('measures the outline in L*', () => {
    const labels = Uint8Array.from(mask);
    expect(measureOutline(labels, ['#ffffff', '#000000'], mask, N, N)).toEqual({
      weak: 0,
      mean: expect.closeTo(100, 3),
    });
    expect(measureOutline(labels, ['#303030', '#383838'], mask, N, N).weak).toBe(1);
  });
});

describe('a frame about the subject', () => {
  it('holds it in', async () => {
    const subject = await findSubject(meadows, N, N, undefined, [2 * 46, 2 * 50, 200, 200]);
    const outside = subject!.mask.reduce((t, v, i) => t + (v && !disc(96, 100, 75)(i) ? 1 : 0), 0);
    expect(outside).toBe(0);
    expect(subject!.share).toBeGreaterThan(0.1);
  });
});

describe('the crop around a subject', () => {
  const free = [false, false, false, false] as const;
  const around = (box: SubjectBox['box'], cut: SubjectBox['cut'], beyond: boolean) =>
    cropAround({ box, cut }, [1000, 600], 1, beyond).map(Math.round);
  it('leaves room on all sides, inside the picture', () => {
    expect(around([400, 200, 200, 100], free, false)).toEqual([382, 132, 236, 236]);
    expect(around([0, 0, 100, 100], free, false)).toEqual([0, 0, 118, 118]);
    const [x, y, w, h] = around([100, 50, 800, 500], free, false) as [number, number, number, number];
    expect([y, w, h]).toEqual([0, 600, 600]);
    expect(x).toBeGreaterThanOrEqual(0);
  });
  it('reaches beyond the picture where the ground is replaced, but not past a side that cuts the subject', () => {
    expect(around([100, 50, 800, 500], free, true)).toEqual([28, -172, 944, 944]);
    const [, y, , h] = around([300, 200, 400, 400], [false, false, false, true], true) as [
      number,
      number,
      number,
      number,
    ];
    expect(y + h).toBe(600);
    expect(around([100, 0, 500, 600], [false, true, false, true], true)[3]).toBe(600);
  });
});

describe('the focus', () => {
  it('is where small things stand out: one disc for a face', () => {
    const eyes = [disc(80, 70, 3), disc(112, 70, 3)];
    const labels = Uint8Array.from({ length: N * N }, (_, i) => (eyes.some((e) => e(i)) ? 2 : mask[i]!));
    const [face, ...more] = findFocus(labels, ['#f0f0f0', '#b08050', '#101010'], N, N);
    expect(more).toEqual([]);
    expect(face!.x).toBeCloseTo(0.5, 1);
    expect(face!.y).toBeCloseTo(70 / N, 1);
    expect(findFocus(mask, ['#f0f0f0', '#b08050'], N, N)).toEqual([]);
  });
  it('weighs each cell once, by the heaviest disc', () => {
    const discs = [
      { x: 0.5, y: 0.5, r: 0.25, weight: 2 },
      { x: 0.5, y: 0.5, r: 0.1, weight: 5 },
    ];
    const weights = weighFocus(discs, 100, 50)!;
    expect([weights[25 * 100 + 50], weights[25 * 100 + 68], weights[0]]).toEqual([5, 2, 1]);
    expect(weighFocus([], 4, 4)).toBeUndefined();
  });
  it('that is asked for is handed on to the fit', async () => {
    const asked = [{ x: 0.2, y: 0.2, r: 0.1, weight: 4 }];
    const shading = await shadePicture(meadows, { ...options, background: 'keep', focus: asked });
    expect(shading.choices.focus).toEqual(asked);
    expect(shading.weights![Math.round(0.2 * N) * N + Math.round(0.2 * N)]).toBe(4);
  });
});

describe('the number of shades', () => {
  const cloud = (colours: readonly string[]) =>
    gatherColours(Float32Array.from(colours.flatMap((c) => [...Array(40).keys()].flatMap(() => [...oklabOfHex(c)]))));
  it('is suggested: as many as there are colours', () => {
    const five = ['#f4ecd8', '#c03028', '#208040', '#2040a0', '#101010'];
    expect(suggestShades(cloud(five), 1)).toBe(5);
    expect(suggestShades(cloud(five.slice(0, 2)), 1)).toBe(3);
    expect(clusterColours(cloud(five), 5, 1)).toHaveLength(5);
  });
  it('is chosen by itself with auto, and said', async () => {
    const { choices, fabrics } = await shadePicture(meadows, { ...options, shades: 'auto', background: 'keep' });
    expect(choices.shades.suggested).toBeGreaterThanOrEqual(3);
    expect(fabrics.length).toBeLessThanOrEqual(choices.shades.suggested!);
  });
});

describe('the weights of a subject', () => {
  const flat = (weights?: Float32Array) => ({
    ...{ width: 4, height: 1, labels: new Uint8Array(4), fabrics: [], grown: [], lost: [], notes: [] },
    ...(weights && { weights }),
  });

  it('are twice those of the ground, more in a face, and never less than what was asked for', () => {
    const likely = Float32Array.of(0, 0.5, 1, 1);
    expect([...weighSubject(flat(), likely, []).weights!]).toEqual([1, 1.5, 2, 2]);
    const face = { x: 0.875, y: 0.5, r: 0.1 };
    expect([...weighSubject(flat(), likely, [face]).weights!]).toEqual([1, 1.5, 2, 2.5]);
    expect([...weighSubject(flat(Float32Array.of(3, 1, 10, 3)), likely, []).weights!]).toEqual([3, 1.5, 10, 4]);
  });

  it('are one more on both sides of its outline', () => {
    const grid: Shading = { width: N, height: N, labels: mask, fabrics: [], grown: [], lost: [], notes: [] };
    const weights = weighSubject(grid, Float32Array.from(mask), []).weights!;
    // the disc's lowest cells lie in rows up to 149; a 64th of the block is three cells
    const down = (row: number): number => weights[row * N + 96]!;
    expect([100, 146, 147, 149, 150, 152, 153].map(down)).toEqual([2, 2, 3, 3, 2, 2, 1]);
  });
});
