import { expect, test } from 'vitest';
import { formatInches, formatLength, formatSize, parseLength, parseSize } from '../src/units.ts';

test('lengths are read as people write them', () => {
  // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)
  expect(parseLength('12in', 'x')).toBeCloseTo(304.8, 9);
  expect(parseLength('3/8 in', 'x')).toBeCloseTo(9.525, 9);
  expect(parseLength('12 1/2in', 'x')).toBeCloseTo(317.5, 9);
  expect(parseLength('30cm', 'x')).toBe(300);
  expect(parseSize('10x14in', 'x')).toEqual([254, 355.59999999999997]);
  expect(parseSize('30 cm', 'x')).toEqual([300, 300]);
  for (const wrong of ['12', 'in', '-3in', '1/0in', '', '12in x', '1x2x3in'])
    expect(() => parseSize(wrong, '--size')).toThrow(/--size/);
});

test('lengths are written as quilters write them', () => {
  expect(formatInches(2.375 * 25.4)).toBe('2 3/8');
  expect(formatInches(6.35)).toBe('1/4');
  expect(formatInches(304.8)).toBe('12');
  expect(formatLength(111.2, 'metric')).toBe('11.1 cm');
  expect(formatSize([304.8, 317.5], 'inch')).toBe('12 x 12 1/2 in');
  // under 1 cm in millimetres: centimetres would round an allowance of 1/4 in (6.35 mm) to 6
  expect([6.35, 9.525, 9.96, 10, 0].map((v) => formatLength(v, 'metric'))).toEqual([
    '6.4 mm',
    '9.5 mm',
    '1 cm',
    '1 cm',
    '0 cm',
  ]);
  expect(formatSize([6.35, 30], 'metric')).toBe('6.4 x 30 mm');
});
