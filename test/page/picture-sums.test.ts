// What the view works out itself about the picture: frames on it, what is shown of it, eyes and nose.
import { fc, test } from '@fast-check/vitest';
import { describe, expect } from 'vitest';
import type { Box, WorkFigure } from '../../src/page/api.ts';
import {
  insideBox,
  movedBox,
  shapedBox,
  sizedBox,
  turned,
  viewAround,
} from '../../src/page/view/picture/crop-ratio.ts';
import {
  confirmed,
  handlesOf,
  movedTo,
  nameOf,
  placed,
  removed,
  sayFace,
  viewOfFace,
} from '../../src/page/view/picture/face-now.ts';
import { shownBy, toCrop, toShow } from '../../src/page/view/picture/what-is-shown.ts';

const NEAR = 2e-4;
const share = fc.double({ min: 0.05, max: 1, noNaN: true });
const step = fc.double({ min: -1.5, max: 1.5, noNaN: true });
const box = fc
  .tuple(share, share, fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([w, h, x, y]): Box => [x * (1 - w), y * (1 - h), w, h]);
const inside = ([x, y, w, h]: Box): void => {
  expect(Math.min(x, y)).toBeGreaterThanOrEqual(-NEAR);
  expect(Math.max(x + w, y + h)).toBeLessThanOrEqual(1 + NEAR);
  expect(Math.min(w, h)).toBeGreaterThan(0);
};

describe('frames on the picture', () => {
  test.prop([box, step, step], { seed: 1 })('moved, they stay inside and keep their size', (b, dx, dy) => {
    const moved = movedBox(b, dx, dy);
    inside(moved);
    expect([moved[2], moved[3]]).toEqual([b[2], b[3]]);
  });

  test.prop([box, fc.boolean(), fc.boolean(), step, step], { seed: 2 })(
    'sized at a corner, the other one stays',
    (b, right, low, dx, dy) => {
      const sized = sizedBox(b, right, low, dx, dy, undefined);
      inside(sized);
      expect(right ? sized[0] : sized[0] + sized[2]).toBeCloseTo(right ? b[0] : b[0] + b[2], 3);
      expect(low ? sized[1] : sized[1] + sized[3]).toBeCloseTo(low ? b[1] : b[1] + b[3], 3);
    },
  );

  test.prop([box, fc.double({ min: 0.5, max: 2, noNaN: true }), fc.boolean(), fc.boolean(), step, step], { seed: 3 })(
    'the block’s frame keeps the block’s shape',
    (b, ratio, right, low, dx, dy) => {
      const shaped = shapedBox(b, ratio);
      inside(shaped);
      expect(shaped[2] / shaped[3] / ratio).toBeCloseTo(1, 1);
      const sized = sizedBox(shaped, right, low, dx, dy, ratio);
      inside(sized);
      expect(Math.abs(sized[2] - sized[3] * ratio)).toBeLessThan(4 * NEAR);
    },
  );
});

const beyond = fc
  .tuple(step, step, fc.double({ min: 0.2, max: 3, noNaN: true }), fc.double({ min: 0.2, max: 3, noNaN: true }))
  .map((b): Box => b);

describe('a frame that was found beyond the picture', () => {
  test.prop([beyond, step, step], { seed: 4 })('can be taken hold of: it comes inside in its shape', (b, dx, dy) => {
    const drawn = insideBox(b);
    inside(drawn);
    expect(drawn[2] / drawn[3] / (b[2] / b[3])).toBeCloseTo(1, 1);
    inside(movedBox(drawn, dx, dy));
  });

  test.prop([beyond, fc.double({ min: -30, max: 30, noNaN: true })], { seed: 5 })(
    'is drawn whole, turned or not, and the picture with it',
    (b, turn) => {
      const [x, y, w, h] = viewAround(b, turn, 1.5);
      expect(Math.max(x, y)).toBeLessThanOrEqual(NEAR);
      expect(Math.min(x + w, y + h)).toBeGreaterThanOrEqual(1 - NEAR);
      // its middle is where it was
      expect(x + w).toBeGreaterThan(b[0] + b[2] / 2);
    },
  );

  test('a quarter turn to the right leads from the right downward, in pixels', () => {
    // on a picture twice as wide as high .1 of the width is .2 of the height
    const [dx, dy] = turned(0.1, 0, 90, 2);
    expect(dx).toBeCloseTo(0, 9);
    expect(dy).toBeCloseTo(0.2, 9);
    expect(viewAround([0, 0, 1, 1], 90, 2)[3]).toBeCloseTo(2, 9);
  });
});

describe('what is shown', () => {
  const figure: WorkFigure = { eyes: [], show: 'head', why: '', sure: 1 };
  test('every answer is two settings, and they are read as that answer again', () => {
    for (const show of ['auto', 'head', 'animal', 'picture'] as const)
      expect(shownBy({ show, crop: 'auto', ...toShow(show) } as Parameters<typeof shownBy>[0])).toBe(show);
    expect(shownBy({ show: 'head', crop: [0, 0, 1, 1] })).toBe('own');
  });

  test('a frame that is moved about a head goes on showing a head', () => {
    const crop: Box = [0, 0, 0.5, 0.5];
    expect(toCrop(crop, { show: 'auto' }, figure)).toEqual({ crop, show: 'head' });
    expect(toCrop(crop, { show: 'animal' }, figure)).toEqual({ crop });
    expect(toCrop(crop, { show: 'auto' }, { ...figure, show: 'picture' })).toEqual({ crop });
    expect(toCrop(crop, { show: 'auto' })).toEqual({ crop });
  });
});

describe('eyes and nose on the picture', () => {
  const part = (x: number, y: number) => ({ x, y, w: 0.05, h: 0.04, sure: 0.9 });
  const AUTO = { eyes: 'auto', nose: 'auto' } as const;
  const figure: WorkFigure = {
    eyes: [part(0.4, 0.3), part(0.6, 0.3)],
    nose: part(0.5, 0.5),
    ...{ show: 'head', why: '', sure: 0.9 },
  };
  const { eyes, nose, ...rest } = figure;
  const unsure: WorkFigure = { ...rest, eyes: [], guess: { eyes, nose: nose! } };

  test('found, guessed, given: each is what it is', () => {
    const found = handlesOf(AUTO, figure);
    expect(found.map((h) => `${nameOf(found, h)} ${h.by}`)).toEqual([
      'Left eye found',
      'Right eye found',
      'Nose found',
    ]);
    expect(handlesOf(AUTO, unsure).map((h) => h.by)).toEqual(['guess', 'guess', 'guess']);
    // given the wrong way round, each still has its own measured size and name
    const given = handlesOf(
      {
        eyes: [
          { x: 0.6, y: 0.3 },
          { x: 0.4, y: 0.3 },
        ],
        nose: [],
      },
      { ...rest, eyes: [{ ...part(0.4, 0.3), w: 0.07 }, part(0.6, 0.3)] },
    );
    expect(given.map((h) => [nameOf(given, h), h.by, h.w])).toEqual([
      ['Right eye', 'given', 0.05],
      ['Left eye', 'given', 0.07],
    ]);
    expect(handlesOf(AUTO, undefined)).toEqual([]);
  });

  test('one moved: the other eye stays; a size that was given stays, one that was measured is measured again', () => {
    const all = handlesOf(AUTO, figure);
    expect(movedTo(all, all[0]!, 0.41, 0.32)).toEqual({
      eyes: [
        { x: 0.41, y: 0.32 },
        { x: 0.6, y: 0.3 },
      ],
    });
    expect(movedTo(all, all[2]!, 0.5, 1.7)).toEqual({ nose: [{ x: 0.5, y: 1 }] });
    const sized = handlesOf({ eyes: [{ x: 0.2, y: 0.2, w: 0.1, h: 0.1 }], nose: 'auto' }, undefined);
    expect(movedTo(sized, sized[0]!, 0.3, 0.3)).toEqual({ eyes: [{ x: 0.3, y: 0.3, w: 0.1, h: 0.1 }] });
  });

  test('removed, placed, confirmed', () => {
    const all = handlesOf(AUTO, figure);
    expect(removed(all, all[1]!)).toEqual({ eyes: [{ x: 0.4, y: 0.3 }] });
    expect(removed(all, all[2]!)).toEqual({ nose: [] });
    // a third eye takes the place of the nearer one
    expect(placed(all, 'eye', 0.62, 0.31)).toEqual({
      eyes: [
        { x: 0.4, y: 0.3 },
        { x: 0.62, y: 0.31 },
      ],
    });
    expect(placed(all, 'nose', 0.1, 0.2)).toEqual({ nose: [{ x: 0.1, y: 0.2 }] });
    const guess = handlesOf(AUTO, unsure);
    expect(placed(guess, 'eye', 0.1, 0.2)).toEqual({ eyes: [{ x: 0.1, y: 0.2 }] });
    expect(confirmed(guess)).toEqual({
      eyes: [
        { x: 0.4, y: 0.3 },
        { x: 0.6, y: 0.3 },
      ],
      nose: [{ x: 0.5, y: 0.5 }],
    });
    expect(sayFace(guess, AUTO, true)).toMatch(/not sure/);
    expect(sayFace(all, AUTO, true)).toBe('Found: both eyes and the nose.');
    expect(sayFace([], AUTO, true)).toMatch(/^No eyes were found/);
    expect(sayFace([], AUTO, false)).toMatch(/^Place the eyes/);
  });

  test('seen near, all of the face is inside the picture', () => {
    for (const aspect of [0.6, 1, 1.8]) {
      const view = viewOfFace(handlesOf(AUTO, figure), undefined, aspect);
      inside(view);
      expect(view[2] * aspect).toBeCloseTo(view[3], 3);
      for (const p of [...eyes, nose!]) {
        expect(p.x).toBeGreaterThan(view[0]);
        expect(p.x).toBeLessThan(view[0] + view[2]);
        expect(p.y).toBeGreaterThan(view[1]);
        expect(p.y).toBeLessThan(view[1] + view[3]);
      }
    }
    expect(viewOfFace([], [0.2, 0.2, 0.3, 0.3], 1)).toEqual([0.2, 0.2, 0.3, 0.3]);
  });
});
