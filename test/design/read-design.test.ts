// Drawings of straight lines come back as the pieces they show.
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { canBeSewn } from '../../src/check/can-be-sewn.ts';
import { readDesign } from '../../src/design/read-design.ts';
import { areaOf } from '../../src/geometry/polygon.ts';
import { randomBlock, randomNumbers } from '../check/random-block.ts';
import { drawBlock } from './draw.ts';

const piecesOf = (b: Block) => b.sections.flatMap((s) => s.pieces);
const areas = (outlines: readonly (readonly (readonly [number, number])[])[]): number[] =>
  outlines.map(areaOf).sort((a, b) => a - b);

/** Blocks in which no two corners are so near that a hand's line cannot tell them apart. */
/** In this process, which spares the start of one for each of many drawings. */
const here = async (text: string): Promise<string> => new Resvg(text, { font: { loadSystemFonts: false } }).toString();

const clear = Array.from({ length: 200 }, (_, i) =>
  randomBlock(i, { pieces: 12 + (i % 4) * 8, most: 8, smallest: 8, square: 0.4 }),
).filter((b) => {
  const corners = [...new Map(piecesOf(b).flatMap((p) => p.outline.map((q) => [q.join(), q]))).values()];
  return corners.every((p, i) => corners.slice(i + 1).every((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) > 1));
});

describe('a block drawn seam by seam', () => {
  test('with a steady hand: the same pieces, to a micrometre or two', async () => {
    for (const b of Array.from({ length: 40 }, (_, i) => randomBlock(i, { pieces: 40, smallest: 6 }))) {
      const d = await readDesign(drawBlock(b), 'a.svg', {}, here);
      expect(d.faults).toEqual([]);
      expect(d.partition.size).toEqual(b.size);
      const [drawn, own] = [areas(d.partition.pieces.map((p) => p.outline)), areas(piecesOf(b).map((p) => p.outline))];
      expect(drawn).toHaveLength(own.length);
      drawn.forEach((v, i) => {
        expect(Math.abs(v - own[i]!)).toBeLessThan(1.5);
      });
      expect(
        canBeSewn(
          d.partition.pieces.map((p) => p.outline),
          d.partition.size,
        ).sewable,
      ).toBe(true);
    }
  });
  test('with an unsteady hand, ends up to 0.2 mm off: as many pieces, and they can be sewn', async () => {
    expect(clear.length).toBeGreaterThan(25);
    for (const [i, b] of clear.entries()) {
      const d = await readDesign(drawBlock(b, { off: 0.2, random: randomNumbers(i) }), 'a.svg', {}, here);
      expect(d.faults).toEqual([]);
      expect(d.partition.pieces).toHaveLength(piecesOf(b).length);
      expect(d.joined).toBeGreaterThan(0);
      expect(d.notes.join()).toMatch(/within 0.5 mm of another line/);
      const verdict = canBeSewn(
        d.partition.pieces.map((p) => p.outline),
        d.partition.size,
      );
      expect(verdict.sewable, b.name).toBe(true);
    }
  });
  test('with fills: every piece has its colour, light to dark', async () => {
    const b = clear[0]!;
    const d = await readDesign(drawBlock(b, { fills: true }), 'a.svg');
    expect(d.colours).toEqual(['#f4efe6', '#b9a48a', '#6b5a4a', '#23211f']);
    const byColour = (list: readonly { colour: string; outline: readonly (readonly [number, number])[] }[]) =>
      d.colours.map((c) => list.filter((p) => p.colour === c).reduce((t, p) => t + areaOf(p.outline), 0));
    const colour = new Map(b.fabrics.map((f) => [f.id, f.colour]));
    const drawn = byColour(d.partition.pieces.map((p) => ({ colour: d.colours[p.fabric]!, outline: p.outline })));
    const own = byColour(piecesOf(b).map((p) => ({ colour: colour.get(p.fabric)!, outline: p.outline })));
    drawn.forEach((v, i) => {
      expect(Math.abs(v - own[i]!)).toBeLessThan(5);
    });
  });
  test.each(['mm', 'in', 'px'] as const)('in %s: the same size', async (unit) => {
    const d = await readDesign(drawBlock(clear[1]!, { unit }), 'a.svg');
    d.partition.size.forEach((v, i) => {
      expect(v).toBeCloseTo(clear[1]!.size[i]!, 2);
    });
  });
  test('500 pieces are read as they were drawn', async () => {
    const b = randomBlock(3, { pieces: 500, smallest: 3, most: 9 });
    const text = drawBlock(b);
    const d = await readDesign(text, 'a.svg');
    const verdict = canBeSewn(
      d.partition.pieces.map((p) => p.outline),
      d.partition.size,
    );
    expect(d.partition.pieces.length).toBe(piecesOf(b).length);
    expect(verdict.sewable).toBe(true);
  });
});

/** A drawing of 100 x 100 mm. */
const svg = (inside: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><style>.line{stroke:#000;fill:none}</style>
<rect class="line" width="100" height="100"/>${inside}</svg>`;

describe('what is wrong with a drawing is said with its place', () => {
  test('a line that stops short, and is carried on when asked', async () => {
    const text = svg('<path class="line" d="M0 50H100"/><path class="line" d="M40 50V90"/>');
    const d = await readDesign(text, 'a.svg');
    expect(d.faults).toEqual([
      expect.objectContaining({ kind: 'stops short', text: expect.stringContaining('10 mm before the next one') }),
    ]);
    expect(d.faults[0]!.at.map(Math.round)).toEqual([40, 90]);
    expect(d.partition.pieces).toHaveLength(2);
    const repaired = await readDesign(text, 'a.svg', { repair: true });
    expect(repaired.faults).toEqual([]);
    expect(repaired.partition.pieces).toHaveLength(3);
    expect(repaired.carriedOn[0]!.map((p) => p.map(Math.round))).toEqual([
      [40, 90],
      [40, 100],
    ]);
  });
  test('a line drawn a little too far or too short is joined, and counted', async () => {
    const d = await readDesign(
      svg(
        '<path class="line" d="M0 50H100"/><path class="line" d="M40 50.3V100"/><path class="line" d="M60 49.7V99.6"/>',
      ),
      'a.svg',
    );
    expect(d.faults).toEqual([]);
    expect(d.partition.pieces).toHaveLength(4);
    expect(d.joined).toBe(3);
  });
  test('a curve', async () => {
    const d = await readDesign(svg('<path class="line" d="M0 50C20 20 80 20 100 50"/>'), 'a.svg');
    expect(d.faults.map((f) => f.kind)).toEqual(['curve']);
  });
  test('a piece with another inside it', async () => {
    const d = await readDesign(svg('<rect class="line" x="30" y="30" width="20" height="20"/>'), 'a.svg');
    expect(d.faults.map((f) => f.kind)).toEqual(['island']);
    expect(d.partition.pieces).toHaveLength(1);
  });
  test('no lines at all, or no drawing', async () => {
    await expect(readDesign('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>', 'a.svg')).rejects.toThrow(
      /a.svg shows no lines/,
    );
    await expect(readDesign('%PDF-1.7', 'a.svg')).rejects.toThrow(/a.svg is not an SVG/);
    await expect(readDesign(svg(''), 'a.svg', { near: -1 })).rejects.toThrow(/distance within which/);
  });
});

test('groups, transforms, uses, style sheets and shapes are read as they are seen', async () => {
  const text = `<svg xmlns="http://www.w3.org/2000/svg" width="10cm" height="10cm" viewBox="0 0 50 50">
    <style>.seam { stroke: black; fill: none }</style><defs><line id="half" class="seam" x1="0" y1="0" x2="25" y2="0"/></defs>
    <polygon points="0,0 50,0 50,50 0,50" fill="#ffeecc"/>
    <g transform="translate(0 25)"><use href="#half"/><g transform="translate(50 0) scale(-1 1)"><use href="#half"/></g></g>
    <g transform="rotate(90 25 25)"><polyline class="seam" points="25,25 25,25.0 50,25"/></g></svg>`;
  const d = await readDesign(text, 'a.svg');
  expect(d.faults).toEqual([]);
  expect(d.partition.size).toEqual([100, 100]);
  expect(areas(d.partition.pieces.map((p) => p.outline)).map(Math.round)).toEqual([2500, 2500, 5000]);
  expect(d.colours).toEqual(['#ffeecc']);
});

test('a size that is given is the finished size', async () => {
  const d = await readDesign(svg('<path class="line" d="M0 50H100"/>'), 'a.svg', { size: [304.8, 152.4] });
  expect(areas(d.partition.pieces.map((p) => p.outline)).map(Math.round)).toEqual([23226, 23226]);
});
