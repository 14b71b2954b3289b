// Block -> the tree of its joins, and back. Sections keep their letters; joins are numbered in the order in which they can be
// sewn: a side is whole before it is joined.
import type { Block, Join, Section } from '../block.ts';
import type { Polygon, Segment } from '../geometry/polygon.ts';
import { onGridSeam } from './number-pieces.ts';

export type JoinTree = { readonly section: Section } | JoinNode;
export interface JoinNode {
  readonly seam: Segment;
  readonly left: JoinTree;
  readonly right: JoinTree;
  /** the number it has in the block's file; absent for a new one */
  readonly number?: number;
}

/** Assumes a block that passed the check. */
export function treeOf(block: Block): JoinTree {
  const whole = new Map<string, JoinTree>(block.sections.map((section) => [section.id, { section }]));
  const key = (ids: readonly string[]): string => [...ids].sort().join(' ');
  for (const j of [...block.joins].sort((a, b) => a.number - b.number)) {
    const [left, right] = [whole.get(key(j.left)), whole.get(key(j.right))];
    if (!left || !right) throw new Error(`join ${j.number} joins what is not whole yet`);
    whole.set(key([...j.left, ...j.right]), { seam: j.seam, left, right, number: j.number });
  }
  const tree = whole.get(key(block.sections.map((s) => s.id)));
  if (!tree) throw new Error('the joins do not make one block');
  return tree;
}

export const sectionsIn = (node: JoinTree): Section[] =>
  'section' in node ? [node.section] : [...sectionsIn(node.left), ...sectionsIn(node.right)];

/** The same tree with some of its leaves replaced. */
export const mapLeaves = (node: JoinTree, change: (s: Section) => JoinTree): JoinTree =>
  'section' in node
    ? change(node.section)
    : { ...node, left: mapLeaves(node.left, change), right: mapLeaves(node.right, change) };

export function blockFromTree(block: Block, tree: JoinTree): Block {
  const joins: Join[] = [];
  const visit = (node: JoinTree): string[] => {
    if ('section' in node) return [node.section.id];
    const left = visit(node.left);
    const right = visit(node.right);
    joins.push({ number: joins.length + 1, left, right, seam: onGridSeam(node.seam) });
    return [...left, ...right];
  };
  visit(tree);
  return { ...block, sections: sectionsIn(tree), joins };
}

/** Every corner of what lies below a node. */
export const cornersIn = (node: JoinTree): Polygon => sectionsIn(node).flatMap((s) => s.outline);
