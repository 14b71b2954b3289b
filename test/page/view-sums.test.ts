// What the view works out itself: colours as they are looked at, walking over the pieces, steps of sewing.
import { test } from '@fast-check/vitest';
import { describe, expect } from 'vitest';
import type { Block } from '../../src/block.ts';
import { areaOf, distance, offLine } from '../../src/geometry/polygon.ts';
import { pointsOn } from '../../src/page/view/hand/points-on.ts';
import { movedSeam, seamOf } from '../../src/page/view/hand/seam-of.ts';
import { wholeMeasures } from '../../src/page/view/parts/whole-measures.ts';
import { sewingSteps, stepTitle, stepWords } from '../../src/page/view/sew/sewing-steps.ts';
import { readAddress, seriesAddress, workAddress } from '../../src/page/view/store/address.ts';
import { greyOf, inkOn, shownColour } from '../../src/page/view/store/colours.ts';
import { factsOf, neighbourTowards, sayPiece } from '../../src/page/view/store/facts.ts';
import { moveSeam } from '../../src/section/move-seam.ts';
import { randomBlock } from '../check/random-block.ts';

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
