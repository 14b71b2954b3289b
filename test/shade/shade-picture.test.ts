import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { oklabOfHex } from '../../src/colour/oklab.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { findRegions } from '../../src/geometry/label-regions.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { type ShadeOptions, shadePicture } from '../../src/shade/shade-picture.ts';
import { makePicture as make } from './made-picture.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const options: ShadeOptions = { size: [304.8, 304.8], smallest: 12.7, shades: 5, background: 'keep', seed: 1 };
const read = (name: string): Promise<Picture> => readPicture(readFileSync(join(root, name)), name, { aspect: 1 });

/** Regions of less than `cells` cells that hold nothing that was grown. */
const specks = (s: Shading, cells: number): number =>
  findRegions(s.labels, s.width, s.height).list.filter((r) => r.cells.length < cells).length;

describe('shadePicture', () => {
  // a circle drawn with a thin pen on a screen's white, filled with what is hardly darker than the paper
  it('keeps a pale fill of a drawing, dark enough to be seen beside the paper in cloth, and invents no colour for it', async () => {
    const filled = make(400, 0, (x, y) => {
      const r = Math.hypot(x - 200, y - 200);
      return Math.abs(r - 120) < 3 ? [0, 0, 0] : r < 120 ? [236, 236, 236] : [255, 255, 255];
    });
    const { fabrics } = await shadePicture(filled, { ...options, kind: 'drawing', lines: 'dissolve' });
    const [paper, fill] = fabrics.map((f) => oklabOfHex(f.colour));
    expect(fabrics).toHaveLength(2);
    expect(Math.hypot(fill![1], fill![2])).toBeLessThan(0.01);
    expect(paper![0] - fill![0]).toBeGreaterThan(0.12);
  });

  // pale pencil hatching: two patches of it and a denser one
  it('deepens the tones of pale strokes, so that they are told apart in cloth', async () => {
    const hatched = make(400, 3, (x, y) => {
      const dense = y > 200 ? 6 : 10;
      const inside = Math.abs(x - 200) < 150 && Math.abs(y - 200) < 150;
      return inside && (x + y) % dense < 3 ? [150, 146, 140] : [214, 206, 190];
    });
    const { fabrics, notes } = await shadePicture(hatched, { ...options, kind: 'drawing' });
    expect(notes.join()).toMatch(/taken for tones/);
    const light = fabrics.map((f) => oklabOfHex(f.colour)[0]);
    expect(light[0]! - light.at(-1)!).toBeGreaterThan(0.3);
    light.slice(1).forEach((L, i) => {
      expect(light[i]! - L).toBeGreaterThan(0.05);
    });
  });

  it.each([
    ['photos/cat-chelsea-face.jpg', 'photo'],
    ['flat/noto-fox.svg', 'flat'],
    ['lines/oc-dove.svg', 'drawing'],
  ])('shades %s, a %s, with sound fabrics, and the same on every run', async (name, kind) => {
    const picture = await read(name);
    const shading = await shadePicture(picture, options);
    expect(shading.kind.kind).toBe(kind);
    expect([shading.width, shading.height, shading.labels.length]).toEqual([192, 192, 192 * 192]);
    const { fabrics } = shading;
    expect(fabrics.length).toBeGreaterThan(1);
    expect(fabrics.length).toBeLessThanOrEqual(5);
    expect(new Set(shading.labels).size).toBe(fabrics.length);
    expect(Math.max(...shading.labels)).toBe(fabrics.length - 1);
    for (const key of ['id', 'code', 'name', 'hatch'] as const)
      expect(new Set(fabrics.map((f) => f[key])).size).toBe(fabrics.length);
    const light = fabrics.map((f) => oklabOfHex(f.colour)[0]);
    expect(light).toEqual([...light].sort((a, b) => b - a));
    // a code must look neither like a section (A, AB) nor like a piece (A3) nor like a number
    for (const f of fabrics) expect(f.code).toMatch(/^[a-z]{2,3}$/);
    expect(specks(shading, 10)).toBe(0);
    const again = await shadePicture(picture, options);
    expect(again).toEqual(shading);
  });

  // check values, section 6: a disc of 12 px for an eye in a 512 px face at 3 shades must survive or be reported lost
  it.each([
    [0, 3],
    [6, 3],
    [14, 3],
    [6, 4],
  ])('keeps an eye of 12 px in a face of 512 px (noise %i, %i shades)', async (noise, shades) => {
    const eyes = [
      [190, 220],
      [322, 220],
    ] as const;
    const face = make(512, noise, (x, y) => {
      if (eyes.some(([ex, ey]) => Math.hypot(x - ex, y - ey) <= 6)) return [40, 28, 22];
      if (((x - 256) / 190) ** 2 + ((y - 256) / 210) ** 2 < 1) return x < 256 ? [201, 150, 96] : [176, 124, 74];
      return [226, 232, 238];
    });
    const shading = await shadePicture(face, { ...options, shades });
    expect(shading.lost).toEqual([]);
    expect(shading.grown).toHaveLength(2);
    for (const [ex, ey] of eyes) {
      const at = (x: number, y: number): number => shading.labels[Math.floor(y) * 192 + Math.floor(x)]!;
      const [x, y] = [(ex * 192) / 512, (ey * 192) / 512];
      const label = at(x, y);
      expect(label).not.toBe(at(x, y + 14));
      // as wide as the narrowest piece: 12.7 mm = 8 cells
      for (const [dx, dy] of [
        [-3.5, 0],
        [3.5, 0],
        [0, -3.5],
        [0, 3.5],
      ] as const)
        expect(at(x + dx, y + dy)).toBe(label);
      const dark = oklabOfHex(shading.fabrics[label]!.colour)[0];
      expect(dark).toBe(Math.min(...shading.fabrics.map((f) => oklabOfHex(f.colour)[0])));
    }
  });

  // check values, section 6: salt-and-pepper noise of 1 %: no piece below the smallest width
  it('lets salt-and-pepper noise of 1 % make no specks', async () => {
    let state = 3;
    const noisy = make(512, 0, (x, y) => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const r = (state >>> 8) % 200;
      if (r < 2) return r ? [255, 255, 255] : [0, 0, 0];
      return Math.hypot(x - 256, y - 256) < 150 ? [180, 90, 60] : [120, 170, 200];
    });
    const shading = await shadePicture(noisy, { ...options, shades: 3 });
    expect(specks(shading, 30)).toBe(0);
    expect(findRegions(shading.labels, 192, 192).list.length).toBeLessThan(5);
  });

  it('gives flat art its own colours, and its soft edges none', async () => {
    const art = make(600, 0, (x, y) => {
      // red on white with a soft edge three pixels wide
      const t = Math.max(0, Math.min(1, (Math.hypot(x - 300, y - 300) - 200) / 3));
      return [200 + Math.round(55 * t), Math.round(30 + 225 * t), Math.round(40 + 215 * t)];
    });
    const { kind, fabrics } = await shadePicture(art, { ...options, shades: 6 });
    expect(kind.kind).toBe('flat');
    expect(fabrics.map((f) => f.colour)).toEqual(['#ffffff', '#c81e28']);
  });

  it('dissolves thin strokes: what they enclose becomes a region of its own, also with a gap', async () => {
    const ring = make(600, 0, (x, y) => {
      const gap = Math.abs(Math.atan2(y - 300, x - 300)) < 0.07;
      return Math.abs(Math.hypot(x - 300, y - 300) - 180) < 4 && !gap ? [10, 10, 10] : [250, 250, 250];
    });
    const shading = await shadePicture(ring, options);
    expect(shading.kind.kind).toBe('drawing');
    expect(findRegions(shading.labels, 192, 192).list).toHaveLength(2);
    const inside = [...shading.labels].filter((l) => l === shading.labels[96 * 192 + 96]).length;
    expect(inside / 192 ** 2).toBeCloseTo((Math.PI * 180 ** 2) / 600 ** 2, 1);
  });
});
