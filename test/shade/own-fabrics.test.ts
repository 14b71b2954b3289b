import { fc, test as property } from '@fast-check/vitest';
import { describe, expect, it } from 'vitest';
import { seenBy } from '../../src/colour/colour-blind.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { UserError } from '../../src/problems/problem.ts';
import { fabricsOf } from '../../src/shade/make-fabrics.ts';
import { assignLeast, matchCloths, pairWarnings } from '../../src/shade/match-cloths.ts';
import { type Cloth, measureCloth, readCloths } from '../../src/shade/read-cloths.ts';

/** Stripes of equal width, one a colour, light to dark. */
function stripes(...colours: string[]): Shading {
  const w = 12 * colours.length;
  return {
    width: w,
    height: 12,
    labels: Uint8Array.from({ length: w * 12 }, (_, i) => Math.floor((i % w) / 12)),
    fabrics: fabricsOf(colours),
    ...{ grown: [], lost: [], notes: [] },
  };
}
const cloth = (name: string, colour: string): Cloth => ({ name, colour });
const namesOf = (s: Shading): string[] => s.fabrics.map((f) => f.name);

describe('colour-blind sight', () => {
  it('is worked out in linear light', () => {
    // check values, section 2: #ff0000 under protan is #6d5f00 in linear light, not #271d00; greys are fixed points
    expect(seenBy('#ff0000', 'protan')).toBe('#6d5f00');
    for (const sight of ['protan', 'deutan', 'tritan'] as const) expect(seenBy('#808080', sight)).toBe('#808080');
  });
});

describe('assignLeast', () => {
  property.prop([
    fc.array(fc.array(fc.integer({ min: 0, max: 50 }), { minLength: 5, maxLength: 5 }), { minLength: 1, maxLength: 4 }),
  ])('costs as little as the best of all ways', (cost) => {
    const best = (row: number, used: number[]): number =>
      row === cost.length
        ? 0
        : Math.min(...cost[row]!.map((c, j) => (used.includes(j) ? Infinity : c + best(row + 1, [...used, j]))));
    const found = assignLeast(cost);
    expect(new Set(found).size).toBe(cost.length);
    expect(found.reduce((t, j, i) => t + cost[i]![j]!, 0)).toBe(best(0, []));
  });
});

describe('a list of fabrics', () => {
  it('is read as lines or as JSON', () => {
    const lines = 'name,colour,print\r\ncream,#f4ecd8\n"grey, plain";#999\n\nleaves\t#3a5a30\tdirectional\n';
    expect(readCloths(lines, 'mine.csv')).toEqual([
      { name: 'cream', colour: '#f4ecd8' },
      { name: 'grey, plain', colour: '#999999' },
      { name: 'leaves', colour: '#3a5a30', print: 'directional' },
    ]);
    expect(readCloths('{"fabrics":[{"name":"a","colour":"#FFF"}]}', 'x')).toEqual([{ name: 'a', colour: '#ffffff' }]);
  });
  it.each([
    ['', /holds no fabric/],
    ['cream', /line 1: write the colour of "cream" as #rrggbb/],
    ['a,#000\na,#111', /two fabrics are called "a"/],
    ['a,#000,wavy', /the print of "a" is/],
    ['[{"name":1}]', /fabric 1: a fabric needs a name/],
    ['[', /JSON is damaged/],
  ])('is refused where it is wrong: %s', (text, reason) => {
    expect(() => readCloths(text, 'mine.csv')).toThrow(UserError);
    expect(() => readCloths(text, 'mine.csv')).toThrow(reason);
  });
});

describe('a snapshot of cloth', () => {
  it('has the colour of its middle, mixed as light', () => {
    const n = 80;
    const pixels = new Uint8Array(3 * n * n);
    // a chequered cloth, black and white, on a red table
    for (let y = 0; y < n; y++)
      for (let x = 0; x < n; x++) {
        const on = x > 10 && y > 10 && x < 70 && y < 70;
        pixels.set(on ? ((x + y) % 2 ? [0, 0, 0] : [255, 255, 255]) : [220, 0, 0], 3 * (y * n + x));
      }
    const source = { sha256: '', pixels: [n, n] as const, crop: [0, 0, n, n] as const, format: 'png' };
    const picture: Picture = { width: n, height: n, pixels, source, notes: [] };
    // half the light of white is #bcbcbc (IEC 61966-2-1), not #808080
    expect(measureCloth(picture, 'box/black_check (large print).JPG')).toEqual({
      name: 'black check',
      colour: '#bcbcbc',
      print: 'large',
    });
  });
});

describe('matchCloths', () => {
  const shades = stripes('#f0e8d8', '#b08050', '#202020');
  it('takes the nearest, each once, and keeps light to dark', () => {
    const mine = [cloth('soot', '#181818'), cloth('snow', '#ffffff'), cloth('tan', '#aa8058'), cloth('sky', '#80a0ff')];
    const { shading, matches } = matchCloths(shades, mine, false);
    expect(namesOf(shading)).toEqual(['snow', 'tan', 'soot']);
    expect(shading.fabrics.map((f) => f.code)).toEqual(['fa', 'fb', 'fc']);
    expect(shading.labels).toEqual(shades.labels);
    expect(matches.map((m) => m.name)).toEqual(['snow', 'tan', 'soot']);
  });
  it('never uses one twice unless it may', () => {
    const mine = [cloth('a', '#222222'), cloth('b', '#f8f0e0'), cloth('c', '#e8e0d0')];
    const near = stripes('#f0e8d8', '#ece4d4', '#202020');
    expect(new Set(namesOf(matchCloths(near, mine, false).shading)).size).toBe(3);
    const again = matchCloths(stripes('#f0e8d8', '#202020', '#1c1c1c'), mine, true).shading;
    expect(namesOf(again).length).toBeLessThanOrEqual(3);
    expect(Math.max(...again.labels)).toBe(again.fabrics.length - 1);
  });
  it('keeps neighbours apart where nearness alone would not', () => {
    const mine = [cloth('c1', '#c8c0b0'), cloth('c2', '#c4bcac'), cloth('c3', '#8a8478')];
    const pair = stripes('#cac2b2', '#b4ac9c');
    const { shading } = matchCloths(pair, mine, false);
    expect(namesOf(shading)).toContain('c3');
    expect(shading.notes).toEqual([]);
  });
  it('warns of neighbours that are too near, also for the colour-blind, and of swatches far off', () => {
    expect(pairWarnings(stripes('#c8c0b0', '#c4bcac')).join()).toMatch(/hardly told apart/);
    // red and green of one lightness: Machado's matrices bring them together
    const pair = pairWarnings(stripes('#b4653c', '#6f8a2e'));
    expect(pair.join()).toMatch(/colour-blind/);
    expect(pairWarnings(stripes('#ffffff', '#000000'))).toEqual([]);
    const { shading } = matchCloths(
      stripes('#ffffff', '#202020'),
      [cloth('blue', '#4040ff'), cloth('x', '#111111')],
      false,
    );
    expect(shading.notes.join()).toMatch(/None of your fabrics is near to #ffffff; "blue"/);
  });
});
