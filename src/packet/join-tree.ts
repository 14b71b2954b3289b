// The joins as a tree: sections are its leaves, every join the place where two branches meet. Trees too large for a page are
// parted: a branch that fits becomes a figure of its own and a leaf of the rest.
import type { Block, Join } from '../block.ts';

export interface JoinNode {
  /** every section below */
  readonly ids: readonly string[];
  /** absent in a leaf */
  readonly join?: Join;
  readonly children: readonly JoinNode[];
  /** number of the figure that shows how this leaf came about */
  readonly figure?: number;
}

const key = (ids: readonly string[]): string => [...ids].sort().join(' ');

/** One node a join; throws where the joins do not end in one whole. */
export function buildJoinTree(block: Block): JoinNode {
  const open = new Map<string, JoinNode>(block.sections.map((s) => [s.id, { ids: [s.id], children: [] }]));
  for (const j of [...block.joins].sort((a, b) => a.number - b.number)) {
    const sides = [j.left, j.right].map((ids) => {
      const node = open.get(key(ids));
      if (!node) throw new Error(`join ${j.number} joins what is not sewn yet`);
      open.delete(key(ids));
      return node;
    });
    const ids = [...j.left, ...j.right];
    open.set(key(ids), { ids, join: j, children: sides });
  }
  const [root, ...rest] = open.values();
  if (!root || rest.length) throw new Error('the joins do not end in one whole');
  return root;
}

export const countLeaves = (n: JoinNode): number =>
  n.children.length ? n.children.reduce((sum, c) => sum + countLeaves(c), 0) : 1;
export const levelOf = (n: JoinNode): number =>
  n.children.length ? 1 + Math.max(...n.children.map((c) => levelOf(c))) : 0;

/** Figures of at most so many leaves and levels, in sewing order; the last one holds the root. */
export function partTree(root: JoinNode, mostLeaves: number, mostLevels: number): JoinNode[] {
  const figures: JoinNode[] = [];
  const fits = (n: JoinNode): boolean => countLeaves(n) <= mostLeaves && levelOf(n) <= mostLevels;
  const largest = (n: JoinNode): JoinNode => {
    if (fits(n)) return n;
    return n.children.map((c) => largest(c)).reduce((a, b) => (countLeaves(b) > countLeaves(a) ? b : a));
  };
  const replace = (n: JoinNode, from: JoinNode, by: JoinNode): JoinNode =>
    n === from ? by : n.children.length ? { ...n, children: n.children.map((c) => replace(c, from, by)) } : n;
  let rest = root;
  while (!fits(rest)) {
    const branch = largest(rest);
    figures.push(branch);
    rest = replace(rest, branch, { ids: branch.ids, children: [], figure: figures.length });
  }
  return [...figures, rest];
}
