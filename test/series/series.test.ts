// A series by parts: settings, numbers, shared fabrics.
import { describe, expect, test } from 'vitest';
import { colourDifference } from '../../src/colour/difference.ts';
import { labDistance, oklabOfHex } from '../../src/colour/oklab.ts';
import type { Shading } from '../../src/data.ts';
import { UserError } from '../../src/problems/problem.ts';
import { blockName, numberFiles } from '../../src/series/entries.ts';
import { commonGround, onOwnGround } from '../../src/series/grounds.ts';
import { readSeriesSettings } from '../../src/series/settings.ts';
import { fabricsOf } from '../../src/shade/make-fabrics.ts';
import { dressIn, shadesOf, shareFabrics } from '../../src/shade/share-fabrics.ts';

/** Rows of each colour, as many as `share` says, of ten. */
const shading = (colours: readonly (readonly [colour: string, share: number])[]): Shading => {
  const labels = new Uint8Array(100);
  let row = 0;
  colours.forEach(([, share], l) => {
    labels.fill(l, row * 10, (row + share) * 10);
    row += share;
  });
  const fabrics = fabricsOf(colours.map(([c]) => c));
  return { width: 10, height: 10, labels, fabrics, grown: [], lost: [], notes: [] };
};

describe('settings', () => {
  test('are read from YAML and from JSON alike', () => {
    const yaml = 'block:\n  pieces: 60\npictures:\n  hen.jpg: {crop: "0,0,1,1"}\n';
    const json = '{"block": {"pieces": 60}, "pictures": {"hen.jpg": {"crop": "0,0,1,1"}}}';
    expect(readSeriesSettings(yaml, 'a')).toEqual(readSeriesSettings(json, 'b'));
    expect(readSeriesSettings('', 'a')).toMatchObject({ common: 'fabrics', block: {}, pictures: {} });
  });
  test.each([
    ['block:\n  pieces: 60\n  colour: red\n', /line 3: block\.colour: there is no such setting/],
    ['name: a\ncommon: cloth\n', /line 2: common: /],
    ['pictures:\n  hen.jpg:\n    turn: perhaps\n', /line 3: pictures\.hen\.jpg\.turn: /],
    ['name: a\n b: [\n', /^s\.yaml, line \d: /],
    ['fabrics:\n  - {name: red, colour: "#aa0000"}\n  - {name: blue, colour: blue}\n', /line [23]: fabrics/],
  ])('%j is refused with its line', (text, says) => {
    expect(() => readSeriesSettings(text, 's.yaml')).toThrow(UserError);
    expect(() => readSeriesSettings(text, 's.yaml')).toThrow(says);
  });
});

test('numbers stay when pictures are added, names lose their ending alone', () => {
  const first = numberFiles(['cat.jpg', 'hen.jpg'], {});
  const then = numberFiles(['ass.jpg', 'cat.jpg', 'hen.jpg'], Object.fromEntries(first));
  expect([...then]).toEqual([
    ['ass.jpg', 3],
    ['cat.jpg', 1],
    ['hen.jpg', 2],
  ]);
  expect(blockName('mr. tom.v2.jpg')).toBe('mr. tom.v2');
});

describe('one set of fabrics', () => {
  const pictures = [
    shading([
      ['#f4ecd8', 5],
      ['#8a6a4a', 3],
      ['#222222', 2],
    ]),
    shading([
      ['#ffffff', 6],
      ['#7d9a5b', 3],
      ['#101010', 1],
    ]),
    shading([
      ['#f0e6d2', 4],
      ['#84663f', 4],
      ['#7a9455', 2],
    ]),
  ];
  test('does not depend on the order of the pictures', () => {
    const clouds = pictures.map(shadesOf);
    const one = shareFabrics(clouds, 4, 1);
    expect(shareFabrics([clouds[2]!, clouds[0]!, clouds[1]!], 4, 1)).toEqual(one);
    expect(one).toHaveLength(4);
    // light, brown, green, dark: each shade of each picture has a fabric near to it
    for (const p of pictures)
      for (const f of p.fabrics)
        expect(Math.min(...one.map((g) => labDistance(oklabOfHex(f.colour), oklabOfHex(g.colour))))).toBeLessThan(0.1);
  });
  test('holds no two fabrics that look alike on the bolt, however many are asked for', () => {
    const dark = [
      shading([
        ['#f4ecd8', 5],
        ['#141414', 3],
      ]),
      shading([
        ['#f0e6d2', 5],
        ['#191817', 3],
      ]),
    ];
    const set = shareFabrics(dark.map(shadesOf), 4, 1);
    expect(set).toHaveLength(2);
    expect(colourDifference(set[0]!.colour, set[1]!.colour)).toBeGreaterThan(5);
  });
  test('gives every shade the fabric near to it, and keeps shades apart', () => {
    const set = fabricsOf(['#ffffff', '#7d9a5b', '#8a6a4a', '#222222']);
    const dressed = dressIn(pictures[0]!, set);
    expect(dressed.fabrics.map((f) => f.colour)).toEqual(['#ffffff', '#8a6a4a', '#222222']);
    expect(dressed.fabrics.map((f) => f.code)).toEqual([set[0]!.code, set[2]!.code, set[3]!.code]);
    expect([...dressed.labels]).toEqual([...pictures[0]!.labels]);
    // two greys nearer to one fabric than to any other still do not become one
    const greys = shading([
      ['#d8d8d8', 4],
      ['#a8a8a8', 4],
      ['#101010', 2],
    ]);
    expect(new Set(dressIn(greys, fabricsOf(['#c8c8c8', '#909090', '#111111'])).labels).size).toBe(3);
  });
  test('brown fur becomes no pink one, nor black a red one, to keep shades apart', () => {
    const set = fabricsOf(['#ffffff', '#d7b48c', '#a6a39c', '#807055', '#b53b61', '#403b33', '#050903']);
    const coloursOf = (parts: Parameters<typeof shading>[0]): string[] =>
      dressIn(shading(parts), set).fabrics.map((f) => f.colour);
    const ginger = coloursOf([
      ['#b68c6d', 26],
      ['#9f7656', 32],
      ['#8e623e', 26],
      ['#764420', 11],
      ['#351f0f', 5],
    ]);
    expect(ginger).toContain('#807055');
    expect(ginger).not.toContain('#b53b61');
    const bear = coloursOf([
      ['#717171', 10],
      ['#565656', 14],
      ['#3e3e3e', 39],
      ['#202020', 34],
      ['#000000', 3],
    ]);
    expect(bear).not.toContain('#b53b61');
    // what is pink stays pink
    expect(
      coloursOf([
        ['#e4e6e5', 30],
        ['#b03560', 70],
      ]),
    ).toContain('#b53b61');
  });
  test('a common background keeps the own fabrics of each picture under codes of its own', () => {
    const ground = commonGround(['#f4ecd8', '#ffffff', '#f0e6d2']);
    const seventh = onOwnGround(pictures[0]!, 0, ground, 7);
    expect(seventh.fabrics.map((f) => f.code)).toEqual(['ground', '7fb', '7fc']);
    expect([...seventh.labels]).toEqual([...pictures[0]!.labels]);
    expect(commonGround(['#f4ecd8'], '#AABBCC').colour).toBe('#aabbcc');
  });
});
