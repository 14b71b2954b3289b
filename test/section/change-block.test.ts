// Changes of blocks: whatever is asked for, what comes out can be sewn, and what was not touched stays.
import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { pieceName } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { areaOf, centroid, type Segment } from '../../src/geometry/polygon.ts';
import { findVoid, followingEdition, nextEdition } from '../../src/pipeline/change.ts';
import { UserError } from '../../src/problems/problem.ts';
import {
  changeFabric,
  dividePiece,
  joinSections,
  mergePieces,
  renameFabric,
  splitSection,
} from '../../src/section/change-block.ts';
import { moveSeam } from '../../src/section/move-seam.ts';
import { completeSettings } from '../../src/settings/settings.ts';
import { mm } from '../../src/units.ts';
import { randomBlock, randomNumbers } from '../check/random-block.ts';
import { greatest } from '../extremes.ts';

const limits = { mostPieces: 10, paper: [190, 254], allowance: 6.35, narrowest: 6.35 } as const;
const settings = completeSettings({ mostPieces: 16, smallest: mm(6.35) });
const names = (b: Block): string[] => b.sections.flatMap((s) => s.pieces.map((p) => pieceName(s, p)));
const area = (b: Block): number =>
  b.sections.flatMap((s) => s.pieces).reduce((t, p) => t + areaOf(p.outline), 0) / (b.size[0] * b.size[1]);

describe('any change of any block', () => {
  test('leaves a block that the check passes, or is refused with a reason', () => {
    const refused: Record<string, number> = {};
    const made: Record<string, number> = {};
    for (let seed = 0; seed < 24; seed++) {
      const block = randomBlock(seed, { pieces: 30, most: 8, smallest: 12 });
      const random = randomNumbers(seed + 1000);
      const any = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
      const through = (name: string): Segment => {
        const s = block.sections.find((t) => t.pieces.some((p) => pieceName(t, p) === name))!;
        const [x, y] = centroid(s.pieces.find((p) => pieceName(s, p) === name)!.outline);
        const a = random() * Math.PI;
        return [
          [x, y],
          [x + 10 * Math.cos(a), y + 10 * Math.sin(a)],
        ];
      };
      const tries: Record<string, () => Block> = {
        fabric: () => changeFabric(block, [any(names(block)), any(names(block))], any(block.fabrics).code),
        rename: () => renameFabric(block, any(block.fabrics).id, { name: 'hen house red', colour: '#a33b2e' }),
        merge: () => {
          const s = any(block.sections);
          return mergePieces(block, pieceName(s, any(s.pieces)), pieceName(s, any(s.pieces)), limits);
        },
        divide: () => {
          const name = any(names(block));
          return dividePiece(block, name, through(name), limits, any(block.fabrics).code);
        },
        move: () => moveSeam(block, any(names(block)), { by: random() * 8 - 4, turn: random() * 10 - 5 }, limits),
        'move a join': () =>
          moveSeam(block, `${any(block.joins).number}`, { by: random() * 4 - 2, turn: random() * 4 - 2 }, limits),
        unite: () => {
          const pairs = block.joins.filter((j) => j.left.length === 1 && j.right.length === 1);
          const j = any(pairs);
          return joinSections(block, j.left[0]!, j.right[0]!, { ...limits, mostPieces: 16 });
        },
        part: () => splitSection(block, any(block.sections).id, limits),
      };
      for (let round = 0; round < 4; round++)
        for (const [kind, change] of Object.entries(tries)) {
          let after: Block;
          try {
            after = nextEdition(block, change);
          } catch (e) {
            expect(e, `${kind}: ${(e as Error).stack}`).toBeInstanceOf(UserError);
            expect((e as Error).message).not.toMatch(/So changed/);
            refused[kind] = (refused[kind] ?? 0) + 1;
            continue;
          }
          made[kind] = (made[kind] ?? 0) + 1;
          expect(checkBlock(after).faults, `${kind} ${seed}`).toEqual([]);
          expect(area(after)).toBeCloseTo(1, 5);
          expect(after.edition).toBe('B');
        }
    }
    // every kind was both tried and done
    for (const kind of ['fabric', 'rename', 'merge', 'divide', 'move', 'move a join', 'unite', 'part'])
      expect(made[kind], `${kind} of ${JSON.stringify({ made, refused })}`).toBeGreaterThan(5);
  });
});

describe('what a change leaves alone', () => {
  const block = randomBlock(5, { pieces: 30, most: 8, smallest: 14 });
  const section = block.sections.find((s) => s.pieces.length > 3)!;
  const last = section.pieces.reduce((a, p) => (p.number > a.number ? p : a));
  const name = pieceName(section, last);

  test('another fabric for one piece: one template, one patch', () => {
    const other = block.fabrics.find((f) => f.id !== last.fabric)!;
    const after = nextEdition(block, (b) => changeFabric(b, [name], other.code));
    expect(findVoid(block, after, settings)).toMatchObject({
      print: [section.id],
      gone: [],
      cut: [name],
      unused: [name],
    });
  });

  test('another name or colour for a fabric: no template, no patch', () => {
    const after = nextEdition(block, (b) => renameFabric(b, block.fabrics[0]!.code, { colour: '#123456' }));
    expect(findVoid(block, after, settings)).toEqual({ print: [], gone: [], cut: [], relabel: [], unused: [] });
  });

  test('a seam moved in one section: that section alone; moved back, the block as it was', () => {
    const there = moveSeam(block, name, { by: -1.5, turn: 0 }, limits);
    const changed = there.sections.filter((s, i) => JSON.stringify(s) !== JSON.stringify(block.sections[i]));
    expect(changed.map((s) => s.id)).toEqual([section.id]);
    const back = moveSeam(there, name, { by: 1.5, turn: 0 }, limits);
    const areas = (b: Block): number[] => b.sections.flatMap((s) => s.pieces.map((p) => areaOf(p.outline)));
    const off = areas(back).map((v, i) => Math.abs(v - areas(block)[i]!));
    expect(greatest(off)).toBeLessThan(1);
  });

  test('a divided piece merged again is the piece it was', () => {
    const [x, y] = centroid(last.outline);
    const [a, b] = last.seam!;
    const across: Segment = [
      [x, y],
      [x - (b[1] - a[1]), y + (b[0] - a[0])],
    ];
    const divided = dividePiece(block, name, across, { ...limits, narrowest: 1 });
    expect(names(divided)).toHaveLength(names(block).length + 1);
    const parts = divided.sections
      .flatMap((s) => s.pieces.map((p) => ({ name: pieceName(s, p), p })))
      .filter(({ p }) => !block.sections.some((s) => s.pieces.some((q) => q.outline.join() === p.outline.join())));
    expect(parts).toHaveLength(2);
    const merged = mergePieces(divided, parts[0]!.name, parts[1]!.name, limits);
    expect(checkBlock(merged).faults).toEqual([]);
    expect(names(merged)).toHaveLength(names(block).length);
  });

  test('sections keep their letters when another is parted', () => {
    const after = splitSection(block, section.id, limits);
    for (const s of block.sections) {
      if (s.id !== section.id) expect(after.sections).toContainEqual(s);
    }
    expect(after.sections).toHaveLength(block.sections.length + 1);
  });
});

describe('what cannot be', () => {
  const block = randomBlock(5, { pieces: 30, most: 8, smallest: 14 });
  const second = names(block).find((n) => /[A-Z]2$/.test(n))!;
  test.each([
    [() => changeFabric(block, ['ZZ9'], 'c1'), /no piece ZZ9/],
    [() => changeFabric(block, [names(block)[0]!], 'velvet'), /no fabric "velvet"/],
    [() => moveSeam(block, names(block)[0]!, { by: 2, turn: 0 }, limits), /first piece/],
    [() => moveSeam(block, '999', { by: 2, turn: 0 }, limits), /no join 999/],
    [() => moveSeam(block, second, { by: 900, turn: 0 }, limits), /leaves nothing|wide/],
    [() => splitSection(block, 'QQ', limits), /no section QQ/],
    [
      () =>
        dividePiece(
          block,
          names(block)[0]!,
          [
            [-10, -10],
            [-20, -10],
          ],
          limits,
        ),
      /does not cross/,
    ],
    [() => renameFabric(block, block.fabrics[0]!.code, { colour: 'red' }), /not a colour/],
  ])('is refused in one sentence (%#)', (change, says) => {
    expect(change).toThrow(UserError);
    expect(change).toThrow(says);
  });
});

test('editions run A to Z and on', () => {
  expect(['A', 'Y', 'Z', 'AZ', 'ZZ'].map(followingEdition)).toEqual(['B', 'Z', 'AA', 'BA', 'AAA']);
});
