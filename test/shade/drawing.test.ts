import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { colourDifference, lightness } from '../../src/colour/difference.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { cornerAngles, signedArea } from '../../src/geometry/polygon.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { findFigure } from '../../src/shade/drawing/find-figure.ts';
import { type ShadeOptions, shadePicture } from '../../src/shade/shade-picture.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const options: ShadeOptions = { size: [304.8, 304.8], smallest: 12.7, shades: 5, background: 'keep', seed: 1 };
const read = (name: string): Promise<Picture> => readPicture(readFileSync(join(root, name)), name, { aspect: 1 });

const N = 384;
/** A mask of ink, cell by cell. */
const inkWhere = (test: (x: number, y: number) => boolean): Uint8Array =>
  Uint8Array.from({ length: N * N }, (_, i) => (test(i % N, Math.floor(i / N)) ? 1 : 0));
const seek = async (ink: Uint8Array): Promise<(x: number, y: number) => boolean> => {
  const figure = await findFigure(ink, N, N, 5, 16);
  return (x, y) => figure?.mask[y * N + x] === 1;
};
const share = (has: (x: number, y: number) => boolean): number => {
  let n = 0;
  for (let i = 0; i < N * N; i++) if (has(i % N, Math.floor(i / N))) n++;
  return n / (N * N);
};
const ring = (x: number, y: number, cx = 192, cy = 192, r = 120): boolean =>
  Math.abs(Math.hypot(x - cx, y - cy) - r) < 3;

function drawn(n: number, test: (x: number, y: number) => boolean | readonly [number, number, number]): Picture {
  const pixels = new Uint8Array(3 * n * n);
  for (let i = 0; i < n * n; i++) {
    const c = test(i % n, Math.floor(i / n));
    pixels.set(c === true ? [15, 15, 15] : c === false ? [250, 250, 250] : c, 3 * i);
  }
  return {
    width: n,
    height: n,
    pixels,
    source: { sha256: '', pixels: [n, n], crop: [0, 0, n, n], format: 'png' },
    notes: [],
  };
}

describe('the figure of a drawing', () => {
  // gaps as shares of the drawing's longer side; a disc of 2 x 120 cells
  it.each([0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06])('is found in an outline with three gaps of %f', async (gap) => {
    const half = (gap * 246) / 2;
    const open = [0.4, 2.5, 4.9].map((a) => [192 + 120 * Math.cos(a), 192 + 120 * Math.sin(a)] as const);
    const has = await seek(inkWhere((x, y) => ring(x, y) && open.every(([u, v]) => Math.hypot(x - u, y - v) > half)));
    expect(share(has)).toBeCloseTo((Math.PI * 123 ** 2) / N ** 2, 1);
    expect(has(192, 192)).toBe(true);
    expect(has(20, 20)).toBe(false);
  });

  it('goes to the rim where its outline leaves the picture, as a neck does', async () => {
    const has = await seek(
      inkWhere((x, y) => (ring(x, y, 192, 140, 90) && y < 214) || (y > 212 && Math.abs(Math.abs(x - 192) - 54) < 3)),
    );
    expect(has(192, 140)).toBe(true);
    expect(has(192, 380)).toBe(true);
    expect(has(60, 380)).toBe(false);
    expect(has(330, 380)).toBe(false);
  });

  it('does not take the space between two legs that leave the picture', async () => {
    const has = await seek(
      inkWhere((x, y) => ring(x, y, 192, 160, 100) || (y > 240 && (Math.abs(x - 140) < 3 || Math.abs(x - 244) < 3))),
    );
    expect(has(192, 160)).toBe(true);
    expect(has(192, 340)).toBe(false);
  });

  it('is a solid shape as it stands', async () => {
    const has = await seek(inkWhere((x, y) => Math.hypot(x - 192, y - 192) < 100));
    expect(share(has)).toBeCloseTo((Math.PI * 100 ** 2) / N ** 2, 2);
  });

  it('is each of several, and no whisker, nor what lies between two of them', async () => {
    const whisker = (x: number, y: number): boolean => x > 150 && x < 290 && Math.abs(y - 100 - (x - 150) / 12) < 2;
    const lower = (x: number, y: number): boolean => x > 150 && x < 290 && Math.abs(y - 100 + (x - 150) / 20) < 2;
    const has = await seek(
      inkWhere((x, y) => ring(x, y, 100, 100, 60) || ring(x, y, 280, 290, 60) || whisker(x, y) || lower(x, y)),
    );
    expect(has(100, 100)).toBe(true);
    expect(has(280, 290)).toBe(true);
    expect(has(260, 100)).toBe(false);
    expect(has(192, 200)).toBe(false);
  });
});

/** A face from the front: a head, two eyes, a nose, a smile. */
const face = (x: number, y: number): boolean => {
  const [u, v] = [x - 300, y - 300];
  const head = Math.abs(Math.hypot(u, v) - 200) < 4;
  const eyes = Math.hypot(Math.abs(u) - 75, v + 50) < 15;
  const nose = Math.abs(u) < 22 - (v - 20) && v > 20 && v < 42;
  const smile = Math.abs(Math.hypot(u, v - 30) - 90) < 3 && v > 90;
  return head || eyes || nose || smile;
};

/** The least CIEDE2000 between fabrics that touch, and the least L* gap of one to the ground. */
function contrasts({ width: w, height: h, labels, fabrics }: Shading): { touching: number; ground: number } {
  let [touching, ground] = [100, 100];
  const look = (a: number, b: number): void => {
    if (a === b) return;
    const [p, q] = [fabrics[a]!.colour, fabrics[b]!.colour];
    touching = Math.min(touching, colourDifference(p, q));
    if (a === labels[0] || b === labels[0]) ground = Math.min(ground, Math.abs(lightness(p) - lightness(q)));
  };
  const seen = new Set<number>();
  for (let i = 0; i < w * h; i++)
    for (const j of [i % w < w - 1 ? i + 1 : i, i + w < w * h ? i + w : i]) {
      const key = labels[i]! * 256 + labels[j]!;
      if (!seen.has(key)) look(labels[i]!, labels[j]!);
      seen.add(key);
    }
  return { touching, ground };
}

describe('a drawing that is filled', () => {
  it('has a face of features: a pair of eyes alike and mirrored, a nose, each of four to six corners', async () => {
    const {
      features = [],
      axis,
      labels,
      width,
    } = await shadePicture(drawn(600, face), { ...options, kind: 'drawing' });
    expect(features.map((f) => f.kind)).toEqual(['eye', 'eye', 'nose']);
    expect(axis).toBeCloseTo(0.5, 2);
    const [left, right] = features as [(typeof features)[0], (typeof features)[0]];
    expect(left.pair).toBe(right.pair);
    for (const { outline, fabric } of features) {
      expect(outline.length).toBeGreaterThanOrEqual(4);
      expect(outline.length).toBeLessThanOrEqual(6);
      // convex and clockwise as seen: y runs down
      expect(signedArea(outline)).toBeGreaterThan(0);
      expect(cornerAngles(outline).reduce((t, a) => t + a, 0)).toBeCloseTo(180 * (outline.length - 2), 3);
      const [x, y] = [0, 1].map((c) => outline.reduce((t, p) => t + p[c]!, 0) / outline.length) as [number, number];
      expect(labels[Math.floor(y * width) * width + Math.floor(x * width)]).toBe(fabric);
    }
    const mirrored = right.outline.map(([x, y]) => [2 * axis! - x, y]).sort((p, q) => p[0]! - q[0]! || p[1]! - q[1]!);
    [...left.outline]
      .sort((p, q) => p[0] - q[0] || p[1] - q[1])
      .forEach(([x, y], i) => {
        expect(mirrored[i]![0]).toBeCloseTo(x, 6);
        expect(mirrored[i]![1]).toBeCloseTo(y, 6);
      });
    // 7/8 x 3/4 in at least in a 12 in block (house rule)
    const wide = Math.max(...left.outline.map((p) => p[0])) - Math.min(...left.outline.map((p) => p[0]));
    expect(wide * 12).toBeGreaterThan(0.86);
  });

  it('gives the smile as a line to stitch, and shows its eyes in the darkest fabric', async () => {
    const {
      strokes = [],
      features = [],
      fabrics,
      notes,
    } = await shadePicture(drawn(600, face), {
      ...options,
      kind: 'drawing',
    });
    expect(strokes).toHaveLength(1);
    const [from, to] = [strokes[0]![0]!, strokes[0]!.at(-1)!];
    expect(Math.abs(from[0] - to[0])).toBeGreaterThan(0.15);
    for (const [x, y] of strokes[0]!) {
      expect(Math.abs(Math.hypot(x - 0.5, y - 0.55) - 0.15)).toBeLessThan(0.02);
    }
    expect(new Set(features.map((f) => f.fabric))).toEqual(new Set([fabrics.length - 1]));
    expect(notes.join(' ')).toMatch(/One line is not pieced/);
  });

  it('has the colours that are named for its parts', async () => {
    const given = { body: '#c58b4a', ground: '#eef2f6' };
    const shading = await shadePicture(drawn(600, face), { ...options, kind: 'drawing', colours: given });
    const at = (x: number, y: number): string => shading.fabrics[shading.labels[y * 192 + x]!]!.colour;
    expect(at(96, 60)).toBe(given.body);
    expect(at(2, 2)).toBe(given.ground);
  });

  // house rules of the trade: CIEDE2000 of 10 between fabrics that touch, an L* gap of 20 along the outline
  it.each([
    'notomono-fox.png',
    'oc-sleeping-cat.svg',
    'simscan-duck-ink-shadow.jpg',
    'oc-tiger-bw.png',
    'lucide-turtle.png',
  ])('%s stands off from its ground, and its fabrics from each other', async (name) => {
    const picture = await read(`lines/${name}`);
    const shading = await shadePicture(picture, options);
    const { touching, ground } = contrasts(shading);
    expect(touching).toBeGreaterThanOrEqual(10);
    expect(ground).toBeGreaterThanOrEqual(20);
  });

  // cases hold others to the byte, whatever ran before them
  it('is the same when it is drawn again', async () => {
    const picture = await read('lines/lucide-turtle.png');
    const { labels, fabrics } = await shadePicture(picture, options);
    expect(await shadePicture(picture, options)).toMatchObject({ labels, fabrics });
  });

  it('a faint scan in uneven light becomes a figure on one ground', async () => {
    const {
      labels,
      width: w,
      height: h,
    } = await shadePicture(await read('lines/simscan-rabbit-pencil-uneven.jpg'), options);
    for (let x = 0; x < w; x++) expect([labels[x], labels[(h - 1) * w + x]]).toEqual([labels[0], labels[0]]);
    const figure = labels.reduce((t, l) => (l !== labels[0] ? t + 1 : t), 0) / labels.length;
    expect(figure).toBeGreaterThan(0.2);
    expect(figure).toBeLessThan(0.3);
  });
});

describe('strokes that are kept', () => {
  it('are chosen where they are wide, with a figure between them that is not the ground', async () => {
    const { labels, fabrics, notes } = await shadePicture(await read('lines/lucide-cat.png'), options);
    expect(notes.join(' ')).not.toMatch(/filled in/);
    const at = (x: number, y: number): number => labels[Math.round(y * 192) * 192 + Math.round(x * 192)]!;
    expect(at(0.5, 0.4)).not.toBe(at(0.02, 0.02));
    expect(lightness(fabrics[at(0.5, 0.9)]!.colour)).toBeLessThan(25);
  });
});

describe('flat art with outlines', () => {
  /** A white face with a tan patch, outlined in grey on white. */
  const outlined = drawn(600, (x, y) => {
    const away = Math.hypot(x - 300, y - 300);
    if (Math.abs(away - 200) < 8 || (away < 200 && Math.abs(x - 330) < 7)) return [70, 66, 60];
    if (Math.hypot(x - 230, y - 260) < 24) return [70, 66, 60];
    return away < 200 && x > 330 ? [226, 190, 130] : [255, 255, 255];
  });

  it('has fills that meet where the strokes were, keeps the eye, and puts the white on another ground', async () => {
    const { labels, fabrics, notes } = await shadePicture(outlined, { ...options, kind: 'flat' });
    const at = (x: number, y: number): string =>
      fabrics[labels[Math.round(0.32 * y) * 192 + Math.round(0.32 * x)]!]!.colour;
    expect(notes.join(' ')).toMatch(/outlines were left out/);
    expect(at(230, 260)).toBe(fabrics.at(-1)!.colour);
    expect(lightness(at(200, 380)) - lightness(at(20, 20))).toBeGreaterThanOrEqual(20);
    expect(at(330, 150)).not.toBe(at(230, 260));
    expect(Math.abs(lightness(at(430, 300)) - lightness(at(20, 20)))).toBeGreaterThanOrEqual(20);
  });

  it('is left alone where the dark is its marking', async () => {
    const { fabrics, notes } = await shadePicture(await read('flat/oc-wolf-head.svg'), options);
    expect(notes.join(' ')).not.toMatch(/outlines/);
    expect(lightness(fabrics.at(-1)!.colour)).toBeLessThan(10);
  });
});
