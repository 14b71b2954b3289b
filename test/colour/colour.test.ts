import { differenceCiede2000 } from 'culori';
import { describe, expect, test } from 'vitest';
import { colourDifference, contrast, lightness } from '../../src/colour/difference.ts';
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
