// What the view works out itself: frames on the picture, colours as they are looked at, walking over the pieces, steps of sewing.
import { fc, test } from '@fast-check/vitest';
import { describe, expect } from 'vitest';
import type { Block } from '../../src/block.ts';
import { areaOf, distance, offLine } from '../../src/geometry/polygon.ts';
import type { Box, WorkFigure } from '../../src/page/api.ts';
import { pointsOn } from '../../src/page/view/hand/points-on.ts';
import { movedSeam, seamOf } from '../../src/page/view/hand/seam-of.ts';
import { wholeMeasures } from '../../src/page/view/parts/whole-measures.ts';
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
import { sewingSteps, stepTitle, stepWords } from '../../src/page/view/sew/sewing-steps.ts';
import { readAddress, seriesAddress, workAddress } from '../../src/page/view/store/address.ts';
import { greyOf, inkOn, shownColour } from '../../src/page/view/store/colours.ts';
import { factsOf, neighbourTowards, sayPiece } from '../../src/page/view/store/facts.ts';
import { moveSeam } from '../../src/section/move-seam.ts';
import { randomBlock } from '../check/random-block.ts';

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

describe('colours as they are looked at', () => {
  test('a grey is as light as its colour', () => {
    // WCAG 2.2, "relative luminance": red .2126, green .7152, blue .0722, carried back to sRGB by IEC 61966-2-1 (computed)
    expect(['#ff0000', '#00ff00', '#0000ff', '#ffffff', '#000000'].map(greyOf)).toEqual([
      '#7f7f7f',
      '#dcdcdc',
      '#4c4c4c',
      '#ffffff',
      '#000000',
    ]);
    expect(greyOf('#777777')).toBe('#777777');
  });

  test('eyes weak in one colour are shown in linear light', () => {
    // Machado, Oliveira & Fernandes 2009, severity 1: red under protan
    expect(shownColour('#ff0000', 'protan')).toBe('#6d5f00');
    expect(shownColour('#ff0000', 'fabrics')).toBe('#ff0000');
    expect(shownColour('#808080', 'tritan')).toBe('#808080');
  });

  test('numbers are black on light cloth and white on dark', () => {
    expect(['#ffffff', '#f2d04a', '#404040', '#1a2a60'].map(inkOn)).toEqual([
      '#000000',
      '#000000',
      '#ffffff',
      '#ffffff',
    ]);
  });
});

const blocks = (): Block[] => [3, 8, 21].map((seed) => randomBlock(seed));

describe('walking over the pieces', () => {
  test('every piece is reached by arrow keys alone', () => {
    for (const block of blocks()) {
      const facts = factsOf(block);
      const reached = new Set([facts[0]!]);
      for (const f of reached)
        for (const [dx, dy] of [
          [-1, 0],
          [1, 0],
          [0, -1],
          [0, 1],
        ] as const) {
          const next = neighbourTowards(facts, f, dx, dy);
          if (next) {
            expect((next.middle[0] - f.middle[0]) * dx + (next.middle[1] - f.middle[1]) * dy).toBeGreaterThan(0);
            reached.add(next);
          }
        }
      expect(reached.size).toBe(facts.length);
    }
  });

  test('a piece is named in a sentence', () => {
    const square: Block = {
      format: 'seamwright-block',
      version: 1,
      name: 'two',
      unit: 'mm',
      size: [50.8, 25.4],
      smallest: 12.7,
      fabrics: [{ id: 'f1', code: 'fa', name: 'charcoal', colour: '#333333', hatch: 0 }],
      sections: [
        {
          id: 'B',
          outline: [
            [0, 0],
            [50.8, 0],
            [50.8, 25.4],
            [0, 25.4],
          ],
          pieces: [
            {
              number: 1,
              fabric: 'f1',
              outline: [
                [0, 0],
                [28.575, 0],
                [28.575, 25.4],
                [0, 25.4],
              ],
              seam: null,
            },
            {
              number: 2,
              fabric: 'f1',
              outline: [
                [28.575, 0],
                [50.8, 0],
                [50.8, 25.4],
                [28.575, 25.4],
              ],
              seam: [
                [28.575, 0],
                [28.575, 25.4],
              ],
            },
          ],
        },
      ],
      joins: [],
    };
    const [first, second] = factsOf(square);
    expect(sayPiece(first!, 'inch')).toBe('B1, charcoal, 1 in wide, sewn first of section B');
    expect(sayPiece(second!, 'metric')).toContain('sewn second of section B');
    expect(second!.seam).toBeCloseTo(25.4, 6);
    const steps = sewingSteps(square);
    expect(steps.map(stepTitle)).toEqual(['B1', 'B2', 'Trim section B']);
    expect(stepWords(square, steps[1]!, 'inch', '1 1/2 x 1 3/4 in').join(' ')).toMatch(
      /^charcoal \(fa\), patch 1 1\/2 x 1 3\/4\sin\. Right sides together.*Sew 1\sin/,
    );
  });
});

describe('seams moved by hand', () => {
  test('the line that is shown is the line that comes out, and outward makes the piece larger', () => {
    const limits = { mostPieces: 16, paper: [500, 500], allowance: 6.35, narrowest: 0.5 } as const;
    let tried = 0;
    for (const block of blocks())
      for (const f of factsOf(block)) {
        const seam = seamOf(block, f.name);
        if (!f.piece.seam) expect(seam).toBeUndefined();
        if (!seam) continue;
        let moved: Block;
        try {
          moved = moveSeam(block, f.name, { by: 0.6, turn: 0.5 }, limits);
        } catch {
          continue;
        }
        tried++;
        const after = factsOf(moved).find((g) => g.name === f.name)!;
        expect(areaOf(after.piece.outline)).toBeGreaterThan(areaOf(f.piece.outline));
        const [a, b] = movedSeam(seam, 0.6, 0.5);
        for (const q of after.piece.seam!) expect(Math.abs(offLine(a, b, q))).toBeLessThan(0.02);
      }
    expect(tried).toBeGreaterThan(10);
  });

  test('points to divide between lie on the outline', () => {
    const outline = [
      [0, 0],
      [30, 0],
      [30, 20],
      [0, 20],
    ] as const;
    const points = pointsOn(outline);
    expect(points.map((p) => p.number)).toEqual(points.map((_, i) => i + 1));
    expect(points.map((p) => p.at)).toContainEqual([15, 0]);
    for (const { at } of points) expect(Math.min(at[0], at[1], 30 - at[0], 20 - at[1])).toBeCloseTo(0, 9);
    expect(distance(points[0]!.at, points[4]!.at)).toBe(30);
    // a short edge has its middle alone
    expect(
      pointsOn([
        [0, 0],
        [30, 0],
        [30, 2],
        [0, 2],
      ]),
    ).toHaveLength(12);
  });
});

describe('steps of sewing', () => {
  test('every piece, every trimming and every join comes once, and a changed piece has another mark', () => {
    for (const block of blocks()) {
      const steps = sewingSteps(block);
      const count = block.sections.reduce((n, s) => n + s.pieces.length + 1, 0) + block.joins.length;
      expect(steps).toHaveLength(count);
      expect(new Set(steps.map((s) => s.key)).size).toBe(count);
      const [first, ...others] = block.sections;
      const [piece, ...rest] = first!.pieces;
      const changed = {
        ...block,
        sections: [{ ...first!, pieces: [{ ...piece!, fabric: 'other' }, ...rest] }, ...others],
      };
      const keys = sewingSteps(changed).map((s) => s.key);
      expect(keys.filter((k, i) => k !== steps[i]!.key)).toHaveLength(1);
    }
  });
});

describe('addresses', () => {
  test('lead back to where they came from', () => {
    expect(readAddress(workAddress('a b/c', 'sew'))).toEqual({ screen: 'work', id: 'a b/c', task: 'sew' });
    expect(readAddress(seriesAddress('s1'))).toEqual({ screen: 'series', id: 's1' });
    for (const odd of ['', '#', '#/nowhere', '#/work']) expect(readAddress(odd)).toEqual({ screen: 'home' });
    expect(readAddress('#/work/x/none')).toEqual({ screen: 'work', id: 'x', task: 'picture' });
  });
});

describe('measures', () => {
  test('are not parted at the end of a line, words are', () => {
    expect(wholeMeasures('brown (fd), patch 1 3/4 x 2 3/4 in.')).toBe('brown (fd), patch 1\u00a03/4 x 2\u00a03/4 in.');
    expect(wholeMeasures('2 scraps of 9 x 11 in and 4 fat quarters')).toBe('2 scraps of 9 x 11 in and 4 fat quarters');
    expect(wholeMeasures('patch 5 in section A')).toBe('patch 5 in section A');
  });
});
