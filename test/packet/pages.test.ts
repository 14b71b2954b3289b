import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { type Drawing, type PathItem, walkItems } from '../../src/drawing/drawing.ts';
import { boundsOf } from '../../src/geometry/polygon.ts';
import { drawPatches } from '../../src/packet/cutting.ts';
import { Flow } from '../../src/packet/flow.ts';
import { buildJoinTree, countLeaves, type JoinNode, levelOf, partTree } from '../../src/packet/join-tree.ts';
import { drawPacket } from '../../src/packet/packet.ts';
import { drawPlacement } from '../../src/packet/placement.ts';
import { findShadows } from '../../src/packet/shadows.ts';
import { drawPractice } from '../../src/template/practice.ts';
import { inches } from '../../src/units.ts';
import { letterF, plannedBlock, randomBlock } from './blocks.ts';
import { unreadable } from './judge-packet.ts';
import { inputFor } from './packet-input.ts';
import { plainShopping } from './shopping.ts';

const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!);

describe('pages of their own', () => {
  const wordsOf = (pages: readonly Drawing[]): string =>
    pages.flatMap((p) => [...walkItems(p.items)].flatMap((i) => (i.kind === 'text' ? [i.text] : []))).join(' ');

  test('details without a piece lie at full size, at their place, and are named with it', () => {
    const block: Block = {
      ...randomBlock(4, 40),
      marks: [
        { at: [50, 60], width: 8, fabric: 'f5' },
        {
          at: [280, 290],
          width: 10,
          fabric: 'f2',
          outline: [
            [275, 285],
            [286, 288],
            [280, 296],
          ],
        },
      ],
    };
    const flow = new Flow('letter', inches(3 / 8));
    drawPlacement(flow, { ...inputFor(block), notes: [] });
    const pages = flow.drawings('x');
    const items = pages.flatMap((p) => [...walkItems(p.items)]);
    const dashed = items.filter((i) => i.role === 'outline' && i.kind !== 'text' && 'stroke' in i && i.stroke?.dash);
    expect(dashed).toHaveLength(2);
    const ring = dashed.find((i) => i.kind === 'path') as PathItem;
    const side = distance(ring.rings[0]![0]!, ring.rings[0]![1]!);
    expect(side).toBeCloseTo(Math.hypot(11, 3), 6);
    // 50 mm = 31.5 sixteenths of an inch, 60 mm = 37.8
    expect(wordsOf(pages)).toMatch(/its middle is 1 15\/16 in from the left edge and 2 3\/8 in from the top/);
    // a detail with a shape is as large as its shape, and lies on every piece that it covers
    expect(wordsOf(pages)).toMatch(/2: \S+, about 7\/16 x 7\/16 in, on pieces? [A-Z]+\d/);
    expect(wordsOf(drawPacket(inputFor(randomBlock(4, 40))))).not.toContain('Details to stitch or ink');
  });

  test('the joins are a tree: every section a leaf once, every join once, its children joined before', () => {
    const block = randomBlock(8, 120);
    const tree = buildJoinTree(block);
    const seen: number[] = [];
    const leaves: string[] = [];
    const visit = (n: JoinNode): void => {
      for (const c of n.children) {
        visit(c);
        if (c.join) expect(c.join.number).toBeLessThan(n.join!.number);
      }
      if (n.join) seen.push(n.join.number);
      else leaves.push(...n.ids);
    };
    visit(tree);
    expect(seen.sort((a, b) => a - b)).toEqual(block.joins.map((j) => j.number));
    expect(leaves.sort()).toEqual(block.sections.map((s) => s.id).sort());
    for (const figure of partTree(tree, 7, 4)) {
      expect(countLeaves(figure)).toBeLessThanOrEqual(7);
      expect(levelOf(figure)).toBeLessThanOrEqual(4);
    }
    const joins = partTree(tree, 7, 4).flatMap(function all(n: JoinNode): number[] {
      return [...n.children.flatMap(all), ...(n.join ? [n.join.number] : [])];
    });
    expect(joins.sort((a, b) => a - b)).toEqual(block.joins.map((j) => j.number));
  });

  // trade rule: the allowance lies under the piece added last; light over dark with an L* gap over 25 shows.
  test('light over dark is named, dark over light is not', () => {
    const block = plannedBlock(['x', 40, 1, ['x', 80, 0, 1]], [120, 100], 'shadow');
    block.fabrics[0]!.colour = '#ffffff';
    block.fabrics[1]!.colour = '#202020';
    const [s] = block.sections;
    const want = s!.pieces.filter((p) => p.seam && p.fabric === 'f1').map((p) => p.number);
    expect(want).toHaveLength(1);
    expect(findShadows(block, s!).map((v) => v.piece)).toEqual(want);
    const other = structuredClone(block);
    other.fabrics[0]!.colour = '#404040';
    expect(findShadows(other, s!)).toEqual([]);
  });

  test('the practice section can be sewn and is printed at true size', () => {
    const practice = drawPractice({ allowance: inches(1 / 4), system: 'inch' });
    // its paper is called "Try", so that nobody takes it for a section of the block
    const sections = practice.block.sections.map((s) => ({ ...s, id: 'A' }));
    expect(checkBlock({ ...practice.block, sections }).faults).toEqual([]);
    const outline = [...walkItems(practice.template.items)].find((i) => i.role === 'sewing-line') as PathItem;
    const b = boundsOf(outline.rings[0]!);
    expect([b.maxX - b.minX, b.maxY - b.minY].map((v) => Math.round(v * 1e4) / 1e4)).toEqual([76.2, 63.5]);
    const page = drawPacket({ ...inputFor(letterF()), practice });
    expect(wordsOf(page)).toMatch(/Practice section/);
  });
});

// measures with two fractions and a mark are half as wide again as most
test.each(['letter', 'a4', 'both'] as const)(
  'large patches keep off their neighbours in the cutting list: %s',
  (paper) => {
    const wide = ['edge', 'upright', 'seam'] as const;
    const block = randomBlock(3, 40);
    const { patches, ...shopping } = plainShopping(block);
    const large = patches.map((p, i) => ({ ...p, width: 266.7, length: 298.45, along: wide[i % 3]! }));
    const flow = new Flow(paper, inches(3 / 8));
    drawPatches(
      ...([flow, { ...shopping, patches: large }, block.name] as const),
      ...([(f: string) => f, block.sections.map((s) => s.id), 'inch'] as const),
    );
    const pages = flow.drawings(block.name);
    expect(
      [...walkItems(pages[0]!.items)].filter((i) => i.kind === 'text' && i.text.includes('11 3/4 in')).length,
    ).toBeGreaterThan(20);
    expect(pages.flatMap((page) => unreadable(page, 0.35))).toEqual([]);
  },
);
