import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readBlock } from '../../src/block.ts';
import { planYardage } from '../../src/fabric/plan-yardage.ts';
import { distance, offLine } from '../../src/geometry/polygon.ts';
import { likenessOf, lostOf } from '../../src/page/view/block/likeness.ts';
import { led, seamNear } from '../../src/page/view/hand/seam-near.ts';
import { movedSeam, seamOf } from '../../src/page/view/hand/seam-of.ts';
import { shortestCut } from '../../src/page/view/hand/shortest-cut.ts';
import { onto, panned, partOf, WHOLE, zoomedAt } from '../../src/page/view/parts/zoom.ts';
import { dealt, type Quilt, quiltLayout } from '../../src/page/view/plan/quilt-places.ts';
import { samePieces } from '../../src/page/view/store/same-pieces.ts';
import { renameFabric } from '../../src/section/change-block.ts';
import { moveSeam } from '../../src/section/move-seam.ts';

const FILE = join(import.meta.dirname, 'fox.block.json');
const block = readBlock(readFileSync(FILE, 'utf8'), FILE);
const LOOK = join(import.meta.dirname, '..', '..', 'src', 'page', 'view', 'look');

describe('one table of tokens', () => {
  const sheets = readdirSync(LOOK).filter((f) => f.endsWith('.css') && f !== 'tokens.css');

  test('sizes of type and colors are nowhere else, and every token that is used is there', () => {
    const known = new Set(
      [...readFileSync(join(LOOK, 'tokens.css'), 'utf8').matchAll(/(--[a-z0-9-]+):/g)].map((m) => m[1]),
    );
    const own = new Set(['--bar', '--panel', '--ratio']);
    expect(sheets.length).toBeGreaterThan(8);
    const faults: string[] = [];
    for (const sheet of sheets) {
      const text = readFileSync(join(LOOK, sheet), 'utf8').replace(/\/\*.*?\*\//gs, '');
      for (const [colour] of text.matchAll(/#[0-9a-f]{3,8}(?![\w-])|rgb\([^)]*\)/gi))
        faults.push(`${sheet}: ${colour}`);
      for (const [, size] of text.matchAll(/font-size: ([^;]+);/g))
        if (!/^(var\(--type-|0$|112\.5%|0\.9em|clamp\()/.test(size!)) faults.push(`${sheet}: font-size ${size}`);
      for (const [, token] of text.matchAll(/var\((--[a-z0-9-]+)/g))
        if (!known.has(token!) && !own.has(token!)) faults.push(`${sheet}: ${token} is in no table`);
    }
    expect(faults).toEqual([]);
  });
});

describe('looking from near', () => {
  test('the place under the hand stays, and nothing beyond the rim is shown', () => {
    const base = [10, 20, 300, 200] as const;
    const near = zoomedAt(WHOLE, 3, 0.25, 0.75);
    const [x, y, w, h] = partOf(base, near);
    // the place at a quarter and three quarters of what was shown is there still
    expect(x + 0.25 * w).toBeCloseTo(10 + 0.25 * 300, 6);
    expect(y + 0.75 * h).toBeCloseTo(20 + 0.75 * 200, 6);
    const [px, py, pw, ph] = partOf(base, panned(near, 5, -5));
    expect([px, py + ph]).toEqual([expect.closeTo(10, 6), expect.closeTo(220, 6)]);
    expect(pw).toBeCloseTo(100, 6);
    expect(zoomedAt(near, 1 / 100)).toEqual(WHOLE);
    const [ox, oy, ow, oh] = partOf(base, onto(base, [100, 80, 30, 20]));
    expect(ox).toBeLessThanOrEqual(100);
    expect(ox + ow).toBeGreaterThanOrEqual(130);
    expect(oy).toBeLessThanOrEqual(80);
    expect(oy + oh).toBeGreaterThanOrEqual(100);
  });
});

describe('seams under the hand', () => {
  test('the nearest is found, its end by its end; led by an end it goes through the far one', () => {
    const names = block.sections.flatMap((s) => s.pieces.slice(1).map((p) => `${s.id}${p.number}`));
    let judged = 0;
    for (const name of names) {
      const own = seamOf(block, name)!;
      const found = seamNear(block, own.middle, 0.5);
      // another seam may cross there; it is at least as near
      expect(found).toBeDefined();
      if (distance(...own.seam) < 20) continue;
      for (const grip of ['start', 'end'] as const) {
        const [still, held] = grip === 'end' ? own.seam : [own.seam[1], own.seam[0]];
        const to = [held[0] + own.outward[0] * 3, held[1] + own.outward[1] * 3] as const;
        const { by, degrees } = led(block, { seam: own, grip }, held, to, 0.01);
        const [a, b] = movedSeam(own, by, degrees);
        expect(Math.abs(offLine(a, b, still))).toBeLessThan(1e-6);
        expect(Math.abs(offLine(a, b, to))).toBeLessThan(1e-6);
        judged++;
      }
    }
    expect(judged).toBeGreaterThan(10);
  });

  test('near the corner of a neighbour it is drawn to it', () => {
    const own = block.sections.flatMap((s) => s.pieces.slice(1).map((p) => seamOf(block, `${s.id}${p.number}`)!));
    const snapped = own.filter((seam) => {
      const from = seam.middle;
      const free = led(
        block,
        { seam, grip: 'middle' },
        from,
        [from[0] + seam.outward[0] * 4, from[1] + seam.outward[1] * 4],
        0.001,
      );
      const drawn = led(
        block,
        { seam, grip: 'middle' },
        from,
        [from[0] + seam.outward[0] * 4, from[1] + seam.outward[1] * 4],
        3,
      );
      expect(free.by).toBeCloseTo(4, 6);
      expect(Math.abs(drawn.by - 4)).toBeLessThan(3);
      return Math.abs(drawn.by - 4) > 1e-6;
    });
    expect(snapped.length).toBeGreaterThan(3);
  });

  test('a double tap cuts a piece where it is shortest', () => {
    const cut = shortestCut(
      [
        [0, 0],
        [40, 0],
        [40, 10],
        [0, 10],
      ],
      [20, 5],
    )!;
    expect(distance(...cut)).toBeCloseTo(10, 6);
  });
});

describe('picks end with the block that they were made on', () => {
  test('another name or a moved seam leaves them, another fit ends them', () => {
    const named = renameFabric(block, 'f1', { name: 'snow' });
    expect(samePieces(block, named)('A1')).toBe(true);
    const limits = { mostPieces: 12, paper: [190, 254], allowance: 6.35, narrowest: 6.35 } as const;
    const seamed = block.sections.flatMap((s) => s.pieces.slice(1).map((p) => `${s.id}${p.number}`))[0]!;
    expect(samePieces(block, moveSeam(block, seamed, { by: 1, turn: 0 }, limits))('A1')).toBe(true);
    const turned = {
      ...block,
      sections: block.sections.map((s) => ({
        ...s,
        pieces: s.pieces.map((p) => ({ ...p, outline: p.outline.map(([x, y]) => [y, x] as const) })),
      })),
    } as typeof block;
    expect(samePieces(block, turned)('A1')).toBe(false);
  });
});

describe('likeness', () => {
  test('is a word, and names what is lost', () => {
    expect([0.03, 0.08, 0.14, 0.25].map((m) => likenessOf(m).word)).toEqual(['Very close', 'Close', 'Fair', 'Loose']);
    expect(
      lostOf([
        'The eyes got no piece of its own: ask for more pieces, or show the head alone.',
        'A small detail 2 in from the left and 3 in from the top got no piece of its own: ask for more pieces.',
        'Something else.',
      ]),
    ).toBe('the eyes, one small detail');
    expect(lostOf([])).toBe('');
  });
});

describe('the picture of a quilt', () => {
  const quilt: Quilt = {
    ...{ rows: 3, columns: 4, setting: 'straight', sashing: 25.4, sashingAround: true, cornerstones: false },
    ...{ borders: [50.8, 76.2], binding: 63.5, overhang: 101.6 },
  };

  test('is as large as the yardage has it, straight and on point, with as many blocks', () => {
    for (const setting of ['straight', 'on point'] as const)
      for (const sashing of [0, 25.4]) {
        const asked = { ...quilt, setting, sashing, sashingAround: setting === 'straight' };
        const { binding: _, overhang: __, ...rest } = asked;
        const plan = planYardage([block], { quilt: rest }).quilt!;
        const own = quiltLayout(asked, block.size);
        expect(own.places.length, setting).toBe(plan.blocks);
        if (setting === 'straight' || sashing === 0) {
          expect(own.width, `${setting} ${sashing}`).toBeCloseTo(plan.size[0], 1);
          expect(own.height).toBeCloseTo(plan.size[1], 1);
        }
      }
    expect(dealt(5, 2)).toEqual([0, 1, 0, 1, 0]);
  });
});
