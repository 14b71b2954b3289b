import { describe, expect, it } from 'vitest';
import { lightness } from '../../src/colour/difference.ts';
import { hexOfOklab, oklabOfHex } from '../../src/colour/oklab.ts';
import type { FaceShape, Shading } from '../../src/data.ts';
import { alongOutline, groundFor } from '../../src/shade/figure-ground.ts';
import { fabricsOf } from '../../src/shade/make-fabrics.ts';
import { mirrorCells, paintOver, signedDistance, smoothMask } from '../../src/shade/mirror-cells.ts';
import { markingsDiffer, mirrorLabels } from '../../src/shade/mirror-labels.ts';
import { cellsNear, showFace } from '../../src/shade/show-face.ts';
import { turnGuess } from '../../src/shade/turn-guess.ts';

const N = 96;

const square = (x: number, y: number, r: number): FaceShape['outline'] => [
  [x - r, y - r],
  [x + r, y - r],
  [x + r, y + r],
  [x - r, y + r],
];

/** A disc of fur on a ground. */
function animal(ground: string, fur: string): Shading {
  const labels = Uint8Array.from({ length: N * N }, (_, i) =>
    Math.hypot((i % N) - 47.5, Math.floor(i / N) - 47.5) < 40 ? 1 : 0,
  );
  return { width: N, height: N, labels, fabrics: fabricsOf([ground, fur]), grown: [], lost: [], notes: [] };
}

describe('a face on a shading', () => {
  const eyes: FaceShape[] = [
    { kind: 'eye', outline: square(0.35, 0.4, 0.04), colour: '#201812', pair: 1 },
    { kind: 'eye', outline: square(0.65, 0.4, 0.04), colour: '#201812', pair: 1 },
  ];
  const nose: FaceShape = { kind: 'nose', outline: square(0.5, 0.6, 0.05), colour: '#302420' };

  it.each(['#e8dcc0', '#b58850', '#5a4630', '#201c1a'])('stands out from fur of %s, both eyes in one fabric', (fur) => {
    const { shading, scraps } = showFace(animal('#f4f4f0', fur), [...eyes, nose], 0);
    const [a, b, c] = shading.features!;
    expect(a!.fabric).toBe(b!.fabric);
    const gap = (f: number): number => Math.abs(lightness(shading.fabrics[f]!.colour) - lightness(fur));
    expect(gap(a!.fabric)).toBeGreaterThan(25);
    expect(gap(c!.fabric)).toBeGreaterThan(17);
    expect(scraps).toBeGreaterThan(0);
    expect(scraps).toBeLessThanOrEqual(2);
    // painted: the cells of each feature have its fabric
    for (const f of shading.features!)
      for (const i of cellsNear(f.outline, N, N, 0)) expect(shading.labels[i]).toBe(f.fabric);
    // fabrics stay light to dark
    const levels = shading.fabrics.map((f) => oklabOfHex(f.colour)[0]);
    expect([...levels].sort((p, q) => q - p)).toEqual(levels);
    // the weights are the features' and those round them
    expect(shading.weights![Math.round(0.4 * N) * N + Math.round(0.35 * N)]).toBe(10);
    expect(shading.weights![5 * N + 5]).toBe(1);
  });

  it('never takes the ground for an eye', () => {
    const { shading } = showFace(animal('#1c1612', '#d8c8a8'), eyes, 1);
    const ground = shading.labels[0];
    for (const f of shading.features!) expect(f.fabric).not.toBe(ground);
  });

  it('has pupils darker than their irises', () => {
    const both: FaceShape[] = [
      { kind: 'eye', outline: square(0.35, 0.4, 0.06), colour: '#7a6a20' },
      { kind: 'pupil', outline: square(0.35, 0.4, 0.02), colour: '#403428', within: 0 },
    ];
    const { shading } = showFace(animal('#f0f0f0', '#8a6a48'), both, 0);
    const [iris, pupil] = shading.features!.map((f) => lightness(shading.fabrics[f.fabric]!.colour));
    expect(iris! - pupil!).toBeGreaterThan(30);
  });
});

describe('a ground', () => {
  it('is 20 L* from every fabric along the outline where it can be, light before dark', () => {
    const grey = (L: number) => ({ colour: [L, 0, 0] as const, share: 0.5 });
    const chosen = groundFor([0.45, 0.05, 0.05], [grey(0.3), grey(0.5)]);
    expect(chosen.shows).toBe(1);
    expect(lightness(hexOfOklab(chosen.colour))).toBeGreaterThan(55);
    // a white cat has a darker one
    expect(lightness(hexOfOklab(groundFor([0.95, 0, 0], [{ colour: [0.95, 0, 0], share: 1 }]).colour))).toBeLessThan(
      74,
    );
  });

  it("reads the fabrics inside the outline, not at the block's own edge", () => {
    const mask = Uint8Array.from({ length: N * N }, (_, i) => (i % N < 48 ? 1 : 0));
    const labels = Uint8Array.from({ length: N * N }, (_, i) => (i % N < 20 ? 2 : i % N < 48 ? 1 : 0));
    expect(alongOutline(labels, mask, N, N, 3)).toEqual([0, 1, 0]);
  });
});

describe('symmetry', () => {
  it('makes labels their own mirror image about an axis beside the middle', () => {
    const labels = Uint8Array.from({ length: N * N }, (_, i) => ((i * 7919) % 13 < 6 ? 1 : (i % N) % 3));
    const out = mirrorLabels(labels, N, N, 0.46, 3);
    const twice = Math.round(2 * 0.46 * N);
    for (let y = 0; y < N; y++) for (let x = 0; x < twice; x++) expect(out[y * N + x]).toBe(out[y * N + twice - 1 - x]);
  });

  it('is not made of a half black face', () => {
    const mask = new Uint8Array(N * N).fill(1);
    const half = Float32Array.from({ length: N * N }, (_, i) => (i % N < N / 2 ? 0.8 : 0.2));
    const lit = Float32Array.from({ length: N * N }, (_, i) => 0.5 + (i % N < N / 2 ? 0.04 : -0.04));
    expect(markingsDiffer(half, mask, N, 0.5, [0, N, N / 2])).toBe(true);
    // a patch over one eye on fur that is lit from the side
    const patch = lit.map((v, i) => (i % N < 40 && Math.floor(i / N) < 60 ? v - 0.5 : v));
    expect(markingsDiffer(patch, mask, N, 0.5, [0, N, N / 2])).toBe(true);
    const side = Float32Array.from({ length: N * N }, (_, i) => 0.5 + (i % N < N / 2 ? 0.09 : -0.09));
    expect(markingsDiffer(side, mask, N, 0.5, [0, N, N / 2])).toBe(false);
    expect(markingsDiffer(lit, mask, N, 0.5, [0, N, N / 2])).toBe(false);
  });

  it("lays the two halves' outlines on each other, so that no ear is cut", () => {
    const mask = Uint8Array.from({ length: N * N }, (_, i) => (i % N >= 20 && i % N < 72 ? 1 : 0));
    const out = smoothMask(mask, N, N, 1, 0.5);
    const row = [...out.subarray(48 * N, 49 * N)];
    expect(row.indexOf(1)).toBe(20);
    expect(row.lastIndexOf(1)).toBe(75);
  });

  it("takes the mean of both halves' colours", () => {
    const lab = new Float32Array(3 * N * N);
    for (let i = 0; i < N * N; i++) lab[3 * i] = i % N < N / 2 ? 0.8 : 0.4;
    expect(mirrorCells({ width: N, height: N, lab }, 0.5).lab[0]).toBeCloseTo(0.6, 5);
  });

  it('knows how far a cell is from the border', () => {
    const mask = Uint8Array.from({ length: N * N }, (_, i) => (i % N >= 30 ? 1 : 0));
    const d = signedDistance(mask, N, N);
    expect(d[50 * N + 40]).toBeCloseTo(10.5, 5);
    expect(d[50 * N + 20]).toBeCloseTo(-9.5, 5);
  });

  it('paints holes over with what lies round them', () => {
    const lab = new Float32Array(3 * N * N).fill(0.5);
    const hole = cellsNear(square(0.5, 0.5, 0.1), N, N, 0);
    for (const i of hole) lab[3 * i] = 0;
    const out = paintOver({ width: N, height: N, lab }, [hole]).lab;
    expect(Math.min(...out)).toBeCloseTo(0.5, 5);
  });
});

describe('a guess under a turned crop', () => {
  const side = 64;
  const likely = Float32Array.from({ length: side * side }, (_, i) => (i % side < 40 ? 1 : 0));
  const guess = { part: [0, 0, 640, 640] as const, likely, side, sure: 1 };
  const at = (g: ReturnType<typeof turnGuess>, x: number, y: number): number => {
    const u = Math.floor(((x - g.part[0]) * g.side) / g.part[2]);
    const v = Math.floor(((y - g.part[1]) * g.side) / g.part[3]);
    return g.likely[v * g.side + u]!;
  };
  it('is the same where nothing is turned', () => {
    const same = turnGuess(guess, [100, 100, 400, 400], 0, [640, 640]);
    expect(at(same, 380, 300)).toBe(1);
    expect(at(same, 420, 300)).toBe(0);
  });
  it('turns with it: what lies to the right lies above after a quarter turn clockwise', () => {
    const turned = turnGuess(guess, [100, 100, 400, 400], 90, [640, 640]);
    // the crop's middle is (300, 300); a place 150 right of it in the block lies 150 below it in the picture
    expect(at(turned, 300, 160)).toBe(0);
    expect(at(turned, 300, 440)).toBe(1);
    expect(at(turned, 440, 300)).toBe(1);
  });
  it('goes on where the rim cuts the animal, and not elsewhere', () => {
    const cut = turnGuess(guess, [-100, 100, 400, 400], 0, [640, 640]);
    expect(at(cut, -60, 300)).toBe(1);
    const beyond = turnGuess(guess, [300, 100, 400, 400], 0, [640, 640]);
    expect(at(beyond, 680, 300)).toBe(0);
  });
});
