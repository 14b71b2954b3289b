import { differenceCiede2000 } from 'culori';
import { describe, expect, test } from 'vitest';
import { colourDifference, contrast, lightness } from '../../src/colour/difference.ts';
import { nameColours } from '../../src/colour/names.ts';
import { hexOfOklab, oklabOfHex } from '../../src/colour/oklab.ts';
// the pairs of Sharma, Wu & Dalal, "The CIEDE2000 color-difference formula", Color Research & Application 30(1), 2005,
// table 1, as carried by the tests of the package delta-e 0.0.8 (Unlicense)
import pairs from './ciede2000-pairs.json' with { type: 'json' };

type Pair = [number, [number, number, number], [number, number, number]];

describe('colour', () => {
  test('CIEDE2000 agrees with the published pairs to 1e-4', () => {
    const difference = differenceCiede2000();
    expect(pairs.length).toBeGreaterThanOrEqual(33);
    const lab = ([l, a, b]: [number, number, number]) => ({ mode: 'lab65' as const, l, a, b });
    for (const [expected, p, q] of pairs as Pair[])
      expect(Math.abs(difference(lab(p), lab(q)) - expected), `${p} ${q}`).toBeLessThan(1.01e-4);
  });

  test('OKLab and L* of red and grey', () => {
    // computed with two libraries
    const red = oklabOfHex('#ff0000');
    for (const [i, v] of [0.627955, 0.224863, 0.125846].entries()) expect(red[i]).toBeCloseTo(v, 5);
    expect(oklabOfHex('#808080')[0]).toBeCloseTo(0.599871, 5);
    expect(lightness('#ff0000')).toBeCloseTo(53.2371, 1);
    expect(lightness('#808080')).toBeCloseTo(53.585, 2);
  });

  test('every grey and a sample of colours survive the way to OKLab and back', () => {
    for (let i = 0; i < 256; i++) {
      const two = (n: number): string => (n & 255).toString(16).padStart(2, '0');
      for (const hex of [`#${two(i)}${two(i)}${two(i)}`, `#${two(i)}${two(i * 7)}${two(i * 31)}`])
        expect(hexOfOklab(oklabOfHex(hex))).toBe(hex);
    }
  });

  test('contrast by WCAG 2', () => {
    // WCAG 2.2, relative luminance and contrast ratio (computed): #777 fails AA on white, #767676 passes
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.478, 3);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.542, 3);
    expect(colourDifference('#123456', '#123456')).toBe(0);
  });
});

describe('names of colours', () => {
  const names = (...colours: string[]): string[] => nameColours(colours.map(oklabOfHex));

  // judged by eye: what these five were called sent people to the wrong bolt
  test.each([
    ['#292f33', 'charcoal'],
    ['#eaddcb', 'cream'],
    ['#705d4f', 'brown'],
    ['#e3e3e3', 'light gray'],
    ['#081c00', 'dark green'],
  ])('%s is %s on the bolt, alone and beside others', (colour, name) => {
    expect(names(colour)).toEqual([name]);
    expect(names('#ffffff', colour, '#b3161c')[1]).toBe(name);
  });

  test('no two are alike, and a name that is taken sends nobody to another kind of colour', () => {
    const browns = ['#9e765d', '#855c3f', '#59391e', '#705d4f', '#66452f', '#6b4a33', '#7a5637'];
    const found = names(...browns);
    expect(new Set(found).size).toBe(browns.length);
    for (const n of found) expect(n).toMatch(/brown|cinnamon|chestnut|coffee|caramel|taupe/);
    const grays = names('#fafafa', '#e3e3e3', '#dcdcdc', '#c0c0c0', '#8a8a8a', '#555555', '#333333', '#101010');
    for (const n of grays) expect(n).toMatch(/white|gray|charcoal|black|fog/);
  });
});
