// Gives every cell one of the shades: near to its own colour, in regions as calm as can be (iterated conditional modes on
// a Potts model, Besag 1986), then without parts that are too thin or too small to sew.
import type { Lab } from '../colour/oklab.ts';
import { findRegions } from '../geometry/label-regions.ts';
import type { Cells } from './cells.ts';
import { coveredByDisc } from './regions.ts';

/** n x k: how wrong shade l would be in cell i. */
export function costsOf(cells: Cells, colours: readonly Lab[], weights?: Float32Array): Float32Array {
  const n = cells.width * cells.height;
  const k = colours.length;
  const { lab } = cells;
  const costs = new Float32Array(n * k);
  for (let l = 0; l < k; l++) {
    const [L, a, b] = colours[l]!;
    for (let i = 0; i < n; i++) {
      const dL = lab[3 * i]! - L;
      const da = lab[3 * i + 1]! - a;
      const db = lab[3 * i + 2]! - b;
      costs[i * k + l] = (weights ? weights[i]! : 1) * Math.sqrt(dL * dL + da * da + db * db);
    }
  }
  return costs;
}

export function cheapestLabels(costs: Float32Array, k: number): Uint8Array {
  const labels = new Uint8Array(costs.length / k);
  for (let i = 0; i < labels.length; i++) {
    let best = 0;
    for (let l = 1; l < k; l++) if (costs[i * k + l]! < costs[i * k + best]!) best = l;
    labels[i] = best;
  }
  return labels;
}

/** How much of each label lies round a cell, at the frame too: half for each of the four sides, 0.35 for each corner. */
function countNear(labels: Uint8Array, x: number, y: number, w: number, h: number, near: Float32Array): void {
  near.fill(0);
  for (let Y = Math.max(0, y - 1); Y <= Math.min(h - 1, y + 1); Y++)
    for (let X = Math.max(0, x - 1); X <= Math.min(w - 1, x + 1); X++)
      if (X !== x || Y !== y) near[labels[Y * w + X]!]! += X !== x && Y !== y ? 0.35 : 0.5;
}

/** Lowers the sum of costs + `calm` x length of border, sweep by sweep, in place. A sweep never raises it. */
export function calmLabels(
  labels: Uint8Array,
  costs: Float32Array,
  w: number,
  h: number,
  k: number,
  calm: number,
): void {
  const near = new Float32Array(k);
  for (let sweep = 0; sweep < 12; sweep++) {
    let changed = 0;
    for (let pass = 0; pass < 2; pass++)
      for (let q = 0; q < w * h; q++) {
        const i = sweep % 2 ? w * h - 1 - q : q;
        const x = i % w;
        const y = (i - x) / w;
        if (((x + y) & 1) !== pass) continue;
        let best = labels[i]!;
        if (x > 0 && y > 0 && x < w - 1 && y < h - 1) {
          const a = i - w;
          const b = i + w;
          near.fill(0);
          near[labels[a - 1]!]! += 0.35;
          near[labels[a]!]! += 0.5;
          near[labels[a + 1]!]! += 0.35;
          near[labels[i - 1]!]! += 0.5;
          near[labels[i + 1]!]! += 0.5;
          near[labels[b - 1]!]! += 0.35;
          near[labels[b]!]! += 0.5;
          near[labels[b + 1]!]! += 0.35;
        } else countNear(labels, x, y, w, h, near);
        let least = costs[i * k + best]! - calm * near[best]!;
        for (let l = 0; l < k; l++) {
          const e = costs[i * k + l]! - calm * near[l]!;
          if (e < least - 1e-9) {
            least = e;
            best = l;
          }
        }
        if (best !== labels[i]) {
          labels[i] = best;
          changed++;
        }
      }
    if (changed < 4) break;
  }
}

/** Gives the cells marked `loose` the cheapest shade that a neighbour which is not loose has, from the edges inward. */
export function fillLoose(
  labels: Uint8Array,
  loose: Uint8Array,
  costs: Float32Array,
  w: number,
  h: number,
  k: number,
): void {
  let front: number[] = [];
  for (let i = 0; i < w * h; i++) if (loose[i]) front.push(i);
  while (front.length) {
    const set: [number, number][] = [];
    const rest: number[] = [];
    for (const i of front) {
      const x = i % w;
      let best = -1;
      const look = (j: number): void => {
        const l = labels[j]!;
        if (!loose[j] && (best < 0 || costs[i * k + l]! < costs[i * k + best]!)) best = l;
      };
      if (x > 0) look(i - 1);
      if (x < w - 1) look(i + 1);
      if (i >= w) look(i - w);
      if (i < w * (h - 1)) look(i + w);
      if (best >= 0) set.push([i, best]);
      else rest.push(i);
    }
    if (!set.length) break;
    for (const [i, l] of set) {
      labels[i] = l;
      loose[i] = 0;
    }
    front = rest;
  }
}

/** Takes off what no disc of `diameter` fits into, and gives it to its neighbours. Cells with `keep` stay. */
export function dropThin(
  labels: Uint8Array,
  costs: Float32Array,
  w: number,
  h: number,
  k: number,
  diameter: number,
  keep?: Uint8Array,
): void {
  const covered = coveredByDisc(labels, w, h, diameter);
  const loose = new Uint8Array(w * h);
  let firm = false;
  for (let i = 0; i < w * h; i++) {
    loose[i] = covered[i] || keep?.[i] ? 0 : 1;
    if (!loose[i]) firm = true;
  }
  if (firm) fillLoose(labels, loose, costs, w, h, k);
}

/** What a region must have to stay. */
export interface SpeckRule {
  /** cells under which a region goes whatever it shows */
  readonly least: number;
  /** cells that a region must have where it stands out by 0.12 in OKLab; one that stands out less must have more */
  readonly wanted: number;
}

const STANDS_OUT = 0.12;

interface Node {
  label: number;
  size: number;
  held: boolean;
  /** what all its cells would cost in each shade */
  readonly cost: Float64Array;
  /** length of border with each neighbour */
  readonly border: Map<number, number>;
  readonly parts: number[];
}

/** What the cells would cost in each of `k` shades. */
function costInAll(cells: Int32Array, costs: Float32Array, k: number): Float64Array {
  const cost = new Float64Array(k);
  for (let c = 0; c < cells.length; c++) {
    const from = cells[c]! * k;
    for (let l = 0; l < k; l++) cost[l]! += costs[from + l]!;
  }
  return cost;
}

function holdsAny(cells: Int32Array, keep: Uint8Array): boolean {
  for (let c = 0; c < cells.length; c++) if (keep[cells[c]!]) return true;
  return false;
}

/** The regions as a graph: sums of cost per shade, lengths of shared border. */
function buildGraph(
  region: Int32Array,
  list: readonly { label: number; cells: Int32Array }[],
  costs: Float32Array,
  w: number,
  k: number,
  keep?: Uint8Array,
): Node[] {
  const nodes = list.map(
    ({ label, cells }, id): Node => ({
      label,
      size: cells.length,
      held: keep !== undefined && holdsAny(cells, keep),
      cost: costInAll(cells, costs, k),
      border: new Map(),
      parts: [id],
    }),
  );
  const touch = (a: number, b: number): void => {
    if (a === b) return;
    nodes[a]!.border.set(b, (nodes[a]!.border.get(b) ?? 0) + 1);
    nodes[b]!.border.set(a, (nodes[b]!.border.get(a) ?? 0) + 1);
  };
  for (let i = 0; i < region.length; i++) {
    if (i % w < w - 1) touch(region[i]!, region[i + 1]!);
    if (i + w < region.length) touch(region[i]!, region[i + w]!);
  }
  return nodes;
}

/** Merges regions that are too small for what they show into the neighbour that suits them best, the least missed first. */
export function mergeSpecks(
  labels: Uint8Array,
  costs: Float32Array,
  w: number,
  h: number,
  k: number,
  rule: SpeckRule,
  keep?: Uint8Array,
): void {
  const { region, list } = findRegions(labels, w, h);
  const nodes: (Node | undefined)[] = buildGraph(region, list, costs, w, k, keep);
  const plan = (node: Node): { to: number; loss: number } | undefined => {
    if (node.held || node.size >= Math.max(rule.least, 4 * rule.wanted)) return undefined;
    const border = new Float64Array(k);
    for (const [id, length] of node.border) border[nodes[id]!.label]! += length;
    let to = -1;
    let cheapest = Infinity;
    for (let l = 0; l < k; l++) {
      if (!border[l]) continue;
      // a longer shared border makes the calmer picture: worth a little of a nearer colour
      const worth = node.cost[l]! - 0.01 * border[l]!;
      if (worth < cheapest) {
        cheapest = worth;
        to = l;
      }
    }
    if (to < 0) return undefined;
    const loss = node.cost[to]! - node.cost[node.label]!;
    return node.size < rule.least || loss < STANDS_OUT * rule.wanted ? { to, loss } : undefined;
  };
  const plans = nodes.map((node) => plan(node!));
  for (;;) {
    let id = -1;
    for (let i = 0; i < plans.length; i++) if (plans[i] && (id < 0 || plans[i]!.loss < plans[id]!.loss)) id = i;
    if (id < 0) break;
    const node = nodes[id]!;
    node.label = plans[id]!.to;
    // it becomes one with every neighbour of its new shade
    for (const other of [...node.border.keys()]) {
      const joined = nodes[other]!;
      if (joined.label !== node.label) continue;
      node.size += joined.size;
      node.held ||= joined.held;
      for (let l = 0; l < k; l++) node.cost[l]! += joined.cost[l]!;
      for (const part of joined.parts) node.parts.push(part);
      node.border.delete(other);
      for (const [next, length] of joined.border) {
        if (next === id) continue;
        const far = nodes[next]!;
        far.border.delete(other);
        far.border.set(id, (far.border.get(id) ?? 0) + length);
        node.border.set(next, (node.border.get(next) ?? 0) + length);
      }
      nodes[other] = undefined;
      plans[other] = undefined;
    }
    plans[id] = plan(node);
    for (const next of node.border.keys()) plans[next] = plan(nodes[next]!);
  }
  for (const node of nodes)
    if (node) for (const part of node.parts) for (const i of list[part]!.cells) labels[i] = node.label;
}
