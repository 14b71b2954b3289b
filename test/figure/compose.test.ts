import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/colour/cluster.ts';
import { chooseShow, cropHead, LEAST_HEAD_PIXELS } from '../../src/figure/compose.ts';
import { drawFace, onBlock } from '../../src/figure/draw-face.ts';
import { findHead, uprightBox } from '../../src/figure/head-box.ts';
import { cornerAngles, signedArea } from '../../src/geometry/polygon.ts';
import { cutTurned } from '../../src/picture/cut-turned.ts';

const BLOCK = [304.8, 304.8] as const;

describe('the head', () => {
  /** A round head of radius 2 d about a place between the eyes, on its own in the picture. */
  function roundHead(x: number, y: number, r: number) {
    const side = 128;
    const likely = new Float32Array(side * side);
    for (let i = 0; i < likely.length; i++)
      if (Math.hypot(((i % side) + 0.5) * 10 - x, (Math.floor(i / side) + 0.5) * 10 - y) < r) likely[i] = 1;
    return { part: [0, 0, 1280, 1280] as const, likely, side };
  }

  it('ends where the subject ends, above and beside', () => {
    const face = { x: 640, y: 640, d: 160, tilt: 0, down: 0.7, across: 0 };
    const head = findHead(face, roundHead(640, 640, 240));
    expect(head.top).toBeGreaterThan(-1.6);
    expect(head.top).toBeLessThan(-1.4);
    expect(head.right).toBeGreaterThan(1.35);
    expect(head.right).toBeLessThan(1.6);
  });

  it('is as large as heads usually are where the body goes on', () => {
    const face = { x: 640, y: 640, d: 100, tilt: 0, down: 0.7, across: 0 };
    const head = findHead(face, roundHead(640, 640, 600));
    expect(head).toMatchObject({ left: -1.6, right: 1.6, top: -1.75 });
  });

  it('of an upright face has the box that its sides say', () => {
    const face = { x: 300, y: 200, d: 50, tilt: 0, down: 0.7, across: 0 };
    const [x, y, w, h] = uprightBox(face, { left: -1, right: 2, top: -1.5, bottom: 1 });
    expect([x, y, w, h].map((v) => Math.round(v))).toEqual([250, 125, 150, 125]);
  });
});

describe('the crop of a head', () => {
  const random = seededRandom(5);
  it('holds all of it with 5 to 8 % of room on the tight sides, turned upright', () => {
    for (let k = 0; k < 60; k++) {
      const tilt = ((random() - 0.5) * 56 * Math.PI) / 180;
      const face = { x: 900, y: 700, d: 120 + 80 * random(), tilt, down: 0.7, across: 0 };
      const head = { left: -1 - random(), right: 1 + random(), top: -1.2 - random(), bottom: 1 + 0.3 * random() };
      const { box, turn } = cropHead(face, head, 1, false);
      const shown = { crop: box, turn, pixels: [2000, 1500] as const };
      const [c, s] = [Math.cos(tilt), Math.sin(tilt)];
      const corners = [
        [head.left, head.top],
        [head.right, head.bottom],
        [head.left, head.bottom],
        [head.right, head.top],
      ].map(([u, v]) => onBlock(shown, face.x + face.d * (u! * c - v! * s), face.y + face.d * (u! * s + v! * c)));
      const room = Math.min(...corners.flatMap(([x, y]) => [x, 1 - x, y, 1 - y]));
      expect(room).toBeGreaterThan(0.05);
      expect(room).toBeLessThan(0.08);
    }
  });

  it('leaves a tilt over 30 degrees as it is', () => {
    const face = { x: 500, y: 500, d: 100, tilt: 0.8, down: 0.7, across: 0 };
    expect(cropHead(face, { left: -1.5, right: 1.5, top: -1.5, bottom: 1 }, 1, true).turn).toBe(0);
  });

  it('is shown by itself where there are pixels enough, and where the eyes were given', () => {
    const crop = (side: number) => ({ box: [0, 0, side, side] as const, turn: 0 });
    expect(chooseShow(crop(LEAST_HEAD_PIXELS), true, false).show).toBe('head');
    expect(chooseShow(crop(LEAST_HEAD_PIXELS - 50), true, false).show).toBe('animal');
    expect(chooseShow(crop(100), true, true).show).toBe('head');
    expect(chooseShow(undefined, true, false).show).toBe('animal');
    expect(chooseShow(undefined, false, false).show).toBe('picture');
  });
});

describe('a turned part of a picture', () => {
  it.each([0, 17, -30])('shows each place where onBlock says, turned by %d', (turn) => {
    const [W, H] = [240, 200];
    const rgb = new Uint8Array(3 * W * H).fill(255);
    // a dark dot of 5 x 5 about (131.5, 88.5)
    for (let y = 86; y < 91; y++) for (let x = 129; x < 134; x++) rgb.fill(0, 3 * (y * W + x), 3 * (y * W + x) + 3);
    const box = [70, 40, 120, 120] as const;
    const out = cutTurned(rgb, W, H, box, turn, 120, 120);
    let [sx, sy, n] = [0, 0, 0];
    for (let i = 0; i < 120 * 120; i++) {
      const dark = 255 - out[3 * i]!;
      sx += dark * ((i % 120) + 0.5);
      sy += dark * (Math.floor(i / 120) + 0.5);
      n += dark;
    }
    const [u, v] = onBlock({ crop: box, turn, pixels: [W, H] }, 131.5, 88.5);
    expect(sx / n / 120).toBeCloseTo(u, 2);
    expect(sy / n / 120).toBeCloseTo(v, 2);
  });
});

describe('a face on the block', () => {
  const shown = { crop: [0, 0, 1000, 1000] as const, pixels: [1000, 1000] as const };
  const eye = (x: number, y: number, w = 0.07, more = {}) => ({ x, y, w, h: w, sure: 1, pupil: '#141210', ...more });
  const nose = { x: 0.51, y: 0.66, w: 0.1, h: 0.08, sure: 1 };
  const face = { x: 0.5, y: 0.4, tilt: 0, front: true };
  const inches = (v: number): number => v * 12;

  it('has eyes of 7/8 x 3/4 in at least, convex, of four to six corners, mirror images about the axis', () => {
    const { shapes, axis } = drawFace({ eyes: [eye(0.38, 0.4), eye(0.62, 0.41)], nose, face }, shown, BLOCK);
    expect(axis).toBeCloseTo(0.5, 9);
    const [left, right] = shapes.filter((s) => s.kind === 'eye');
    const xs = left!.outline.map((p) => p[0]);
    const ys = left!.outline.map((p) => p[1]);
    expect(inches(Math.max(...xs) - Math.min(...xs))).toBeGreaterThan(7 / 8 - 0.001);
    expect(inches(Math.max(...ys) - Math.min(...ys))).toBeGreaterThan(3 / 4 - 0.001);
    const mirrored = right!.outline.map(([x, y]) => [Math.round(1e6 * (1 - x)), Math.round(1e6 * y)].join()).sort();
    expect(left!.outline.map(([x, y]) => [Math.round(1e6 * x), Math.round(1e6 * y)].join()).sort()).toEqual(mirrored);
    for (const s of shapes) {
      expect(s.outline.length).toBeGreaterThanOrEqual(4);
      expect(s.outline.length).toBeLessThanOrEqual(6);
      expect(signedArea(s.outline)).toBeGreaterThan(0);
      for (const angle of cornerAngles(s.outline)) expect(angle).toBeLessThan(180);
    }
    expect(shapes.find((s) => s.kind === 'nose')!.outline.reduce((t, p) => t + p[0], 0) / 4).toBeCloseTo(0.5, 9);
  });

  it('shows iris and pupil in both eyes or in none', () => {
    const iris = { iris: '#c2a231' };
    const one = drawFace({ eyes: [eye(0.35, 0.4, 0.09, iris), eye(0.65, 0.4, 0.09)], face }, shown, BLOCK).shapes;
    expect(one.map((s) => s.kind)).toEqual(['eye', 'pupil', 'eye', 'pupil']);
    expect(one[1]!.within).toBe(0);
    expect(one[3]!.within).toBe(2);
    const none = drawFace({ eyes: [eye(0.45, 0.4, 0.03, iris), eye(0.55, 0.4, 0.03)], face }, shown, BLOCK).shapes;
    expect(none.map((s) => s.kind)).toEqual(['eye', 'eye']);
  });

  it('has no eye under 3/8 in, and says what lies off the block or runs together', () => {
    const far = drawFace(
      { eyes: [eye(0.3, 0.4, 0.01), eye(0.4, 0.4, 0.01)], face: { ...face, front: false } },
      shown,
      BLOCK,
    );
    const xs = far.shapes[0]!.outline.map((p) => p[0]);
    expect(inches(Math.max(...xs) - Math.min(...xs))).toBeGreaterThan(3 / 8 - 0.001);
    expect(drawFace({ eyes: [eye(0.3, 0.4, 0.01), eye(0.32, 0.4, 0.01)], face }, shown, BLOCK).missing[0]).toMatch(
      /too near/,
    );
    expect(
      drawFace({ eyes: [eye(0.001, 0.4), eye(0.4, 0.4)], face: { ...face, front: false } }, shown, BLOCK).missing,
    ).toEqual(['an eye lies off the block']);
  });
});
