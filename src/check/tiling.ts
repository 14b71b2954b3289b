// Whether pieces cover a shape once and only once. Takes loops over one corner table, gives the places where they do not.
// The proof is a sum: where the borders of all pieces, each run round once in positive order, add up to the border of the
// shape, every point of the shape lies in exactly one piece (winding numbers add).
import { Border, type CornerTable, type Loop } from './corners.ts';
import { between, holds, type Micro, OFF_LINE } from './exact.ts';

export interface Misfit {
  readonly kind: 'gap' | 'overlap' | 'outside';
  readonly at: Micro;
  /** numbers of the parts that have a border there */
  readonly parts: readonly number[];
}

/** The parts' borders less the border of the whole: empty where the parts make it up exactly. */
export function leftOver(parts: readonly Loop[], whole: Loop): Border {
  const left = new Border().take(whole);
  for (const p of parts) left.add(p);
  return left;
}

/** Places where `parts` do not make up `whole` exactly; one a connected place and kind, none where they do. */
export function findMisfits(table: CornerTable, parts: readonly Loop[], whole: Loop): Misfit[] {
  const edges = leftOver(parts, whole).edges();
  if (!edges.length) return [];
  const corners = (loop: Loop): Micro[] => loop.map((c) => table.at(c));
  const shapes = parts.map(corners);
  const frame = corners(whole);
  const found = new Map<string, { misfit: Misfit; parts: Set<number>; longest: number }>();
  const place = components(edges);
  for (const [a, b] of edges) {
    const [p, q] = [table.at(a), table.at(b)];
    const length = between(p, q);
    const step = Math.min(length / 4, 10 * OFF_LINE);
    const middle: Micro = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    const owners = parts.flatMap((loop, i) => (borders(loop, a, b) ? [i] : []));
    for (const side of [1, -1]) {
      const probe: Micro = [
        middle[0] - (side * step * (q[1] - p[1])) / length,
        middle[1] + (side * step * (q[0] - p[0])) / length,
      ];
      const cover = shapes.flatMap((s, i) => (holds(s, probe) ? [i] : []));
      const inside = holds(frame, probe);
      const kind = inside
        ? cover.length > 1
          ? 'overlap'
          : cover.length
            ? undefined
            : 'gap'
        : cover.length
          ? 'outside'
          : undefined;
      if (!kind) continue;
      const key = `${place.get(a)} ${kind}`;
      const known = found.get(key);
      const names = new Set([...(known?.parts ?? []), ...owners, ...cover]);
      const best = !known || length > known.longest;
      found.set(key, {
        misfit: best ? { kind, at: probe, parts: [] } : known.misfit,
        parts: names,
        longest: Math.max(length, known?.longest ?? 0),
      });
    }
  }
  if (!found.size) {
    const [a, b] = edges[0]!;
    const owners = parts.flatMap((loop, i) => (borders(loop, a, b) ? [i] : []));
    return [{ kind: 'gap', at: table.at(a), parts: owners }];
  }
  return [...found.values()].map((f) => ({ ...f.misfit, parts: [...f.parts].sort((x, y) => x - y) }));
}

const borders = (loop: Loop, a: number, b: number): boolean =>
  loop.some((c, i) => {
    const d = loop[(i + 1) % loop.length]!;
    return (c === a && d === b) || (c === b && d === a);
  });

/** Which connected set of edges each corner belongs to. */
function components(edges: readonly (readonly [number, number])[]): Map<number, number> {
  const parent = new Map<number, number>();
  const root = (c: number): number => {
    let r = c;
    while (parent.get(r) !== undefined && parent.get(r) !== r) r = parent.get(r)!;
    return r;
  };
  for (const [a, b] of edges) {
    if (!parent.has(a)) parent.set(a, a);
    if (!parent.has(b)) parent.set(b, b);
    parent.set(root(a), root(b));
  }
  return new Map([...parent.keys()].map((c) => [c, root(c)]));
}
