// Slightly wrong blocks, continued: outlines that hold no area, names of another kind, whole pieces out of place, numbers.
import type { Block } from '../../src/block.ts';
import type { Mutant } from './mutants.ts';

type P = [number, number];
const pick = <T>(list: readonly T[], random: () => number): T | undefined => list[Math.floor(random() * list.length)];
const copy = (block: Block): Block => JSON.parse(JSON.stringify(block));
const all = (block: Block) => block.sections.flatMap((s) => s.pieces.map((p) => ({ s, p })));
const middle = (o: readonly P[]): P => [0, 1].map((k) => o.reduce((t, q) => t + q[k]!, 0) / o.length) as P;

/** Puts a way out and back into an outline, from the middle of its longest edge or from a corner. */
function spike(outline: P[], random: () => number): void {
  const at = Math.floor(random() * outline.length);
  const [a, b] = [outline[at]!, outline[(at + 1) % outline.length]!];
  const from: P = random() < 0.5 ? [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] : a;
  const turn = random() * 2 * Math.PI;
  const far = 1 + 20 * random();
  const tip: P = [from[0] + far * Math.cos(turn), from[1] + far * Math.sin(turn)];
  outline.splice(at + 1, 0, [...from], tip, [...from]);
}

export const MORE_MUTANTS: Record<string, Mutant> = {
  'a piece runs out to a point and back': (good, random) => {
    const b = copy(good);
    spike(pick(all(b), random)!.p.outline, random);
    return b;
  },
  'a section runs out to a point and back': (good, random) => {
    const b = copy(good);
    spike(pick(b.sections, random)!.outline, random);
    return b;
  },
  'a code looks like a piece': (good, random) => {
    const b = copy(good);
    pick(b.fabrics, random)!.code = pick(['A1', 'B12', 'AA3'], random)!;
    return b;
  },
  'a code looks like a section': (good, random) => {
    const b = copy(good);
    pick(b.fabrics, random)!.code = pick(['A', 'AB', 'XYZ'], random)!;
    return b;
  },
  'a code has signs that do not show': (good, random) => {
    const b = copy(good);
    pick(b.fabrics, random)!.code = pick(['f\u202ea', 'f\na', 'f a', ''], random)!;
    return b;
  },
  'a section is called by a path': (good, random) => {
    const b = copy(good);
    const s = pick(b.sections, random)!;
    const to = pick(['../A', 'A/B', '..', 'a'], random)!;
    for (const j of b.joins)
      for (const side of [j.left, j.right])
        side.forEach((id, i) => {
          if (id === s.id) side[i] = to;
        });
    s.id = to;
    return b;
  },
  'two sections have one letter': (good) => {
    if (good.sections.length < 2) return undefined;
    const b = copy(good);
    b.sections[1]!.id = b.sections[0]!.id;
    return b;
  },
  'two fabrics have one id': (good) => {
    const b = copy(good);
    b.fabrics[1]!.id = b.fabrics[0]!.id;
    return b;
  },
  'two joins have one number': (good, random) => {
    if (good.joins.length < 2) return undefined;
    const b = copy(good);
    const at = Math.floor(random() * (b.joins.length - 1));
    b.joins[at + 1]!.number = b.joins[at]!.number;
    return b;
  },
  'a join is there twice': (good, random) => {
    const b = copy(good);
    const join = pick(b.joins, random);
    if (join) b.joins.push({ ...structuredClone(join), number: b.joins.length + 1 });
    return join && b;
  },
  'a join has one section on both sides': (good, random) => {
    const b = copy(good);
    const join = pick(b.joins, random);
    if (join) join.right = [...join.left];
    return join && b;
  },
  'the block is 1 mm narrower than its pieces': (good) => ({ ...copy(good), size: [good.size[0] - 1, good.size[1]] }),
  'a piece is moved by 1 mm': (good, random) => {
    const b = copy(good);
    const turn = random() * 2 * Math.PI;
    for (const q of pick(all(b), random)!.p.outline) {
      q[0] += Math.cos(turn);
      q[1] += Math.sin(turn);
    }
    return b;
  },
  'a section is moved by 1 mm with its pieces': (good, random) => {
    if (good.sections.length < 2) return undefined;
    const b = copy(good);
    const s = pick(b.sections, random)!;
    for (const q of [s.outline, ...s.pieces.flatMap((p) => [p.outline, p.seam ?? []])].flat()) q[0] += 1;
    return b;
  },
  'a piece is 2 % larger about its middle': (good, random) => {
    const b = copy(good);
    const { outline } = pick(all(b), random)!.p;
    const [x, y] = middle(outline);
    for (const q of outline) [q[0], q[1]] = [x + 1.02 * (q[0] - x), y + 1.02 * (q[1] - y)];
    return b;
  },
  'a piece is 2 % smaller about its middle': (good, random) => {
    const b = copy(good);
    const { outline } = pick(all(b), random)!.p;
    const [x, y] = middle(outline);
    for (const q of outline) [q[0], q[1]] = [x + 0.98 * (q[0] - x), y + 0.98 * (q[1] - y)];
    return b;
  },
  'a piece has no area': (good, random) => {
    const b = copy(good);
    const { p } = pick(all(b), random)!;
    p.outline = [p.outline[0]!, p.outline[1]!, [...p.outline[0]!]];
    return b;
  },
  'a corner lies metres outside': (good, random) => {
    const b = copy(good);
    pick(pick(all(b), random)!.p.outline, random)![0] = 1e5;
    return b;
  },
  'a seam is turned about its middle': (good, random) => {
    const b = copy(good);
    const p = pick(
      all(b).filter(({ p: q }) => q.seam),
      random,
    )?.p;
    if (!p) return undefined;
    const [x, y] = middle(p.seam!);
    p.seam = p.seam!.map(([u, v]): P => [x - (v - y), y + (u - x)]) as [P, P];
    return b;
  },
  'the numbers of a section run backwards': (good, random) => {
    const b = copy(good);
    const s = pick(
      b.sections.filter((t) => t.pieces.length > 1),
      random,
    );
    const most = s?.pieces.length ?? 0;
    for (const p of s?.pieces ?? []) p.number = most + 1 - p.number;
    return s && b;
  },
};
