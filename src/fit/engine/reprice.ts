// Costs from scratch, after prices have changed.
import { sameCost, samePrice } from './calm';
import { joinPrice } from './joins';
import { accept, begin } from './log';
import { gather, priceLeaf, priceSection } from './price';
import { cost, isLeaf, joinCost, listNodes, nodeAt, Prices, region, Tree } from './state';

/** All costs from scratch, the slow and obvious way. False where a piece cannot be sewn. */
export function reprice(): bool {
  begin();
  Tree.pieceCost = 0;
  const n = listNodes();
  for (let i = 0; i < n; i++) {
    const v = nodeAt(i);
    if (!isLeaf(v)) continue;
    const b = region[v];
    if (!priceLeaf(b)) return false;
    Tree.pieceCost += cost[b];
    priceSection(v, 1, b);
  }
  for (let i = n - 1; i >= 0; i--) {
    const v = nodeAt(i);
    if (isLeaf(v)) continue;
    joinCost[v] = joinPrice(v);
    sameCost[v] = samePrice(v);
    gather(v);
  }
  accept();
  return true;
}

/** What the sections cost, from scratch, at another price. */
export function repriceSections(section: f64): void {
  begin();
  Prices.section = section;
  const n = listNodes();
  for (let i = n - 1; i >= 0; i--) {
    const v = nodeAt(i);
    if (isLeaf(v)) priceSection(v, 1, region[v]);
    else gather(v);
  }
  accept();
}
