// Slightly wrong blocks made from good ones. Each function takes a good block and random numbers and gives a block that is
// wrong for certain, or undefined where this block offers no place for the mistake.
import type { Block, Piece, Section } from '../../src/block.ts';
import { MORE_MUTANTS } from './more-mutants.ts';

type P = [number, number];
export type Mutant = (block: Block, random: () => number) => Block | undefined;

const pick = <T>(list: readonly T[], random: () => number): T | undefined => list[Math.floor(random() * list.length)];
// Through text, so that no two outlines share a corner in memory.
const copy = (block: Block): Block => JSON.parse(JSON.stringify(block));
const pieces = (block: Block): { s: Section; p: Piece }[] =>
  block.sections.flatMap((s) => s.pieces.map((p) => ({ s, p })));
const onEdges = (outline: readonly P[], q: P, far = 0.5): [P, P] | undefined =>
  outline
    .map((a, i): [P, P] => [a, outline[(i + 1) % outline.length]!])
    .find(([a, b]) => {
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const along = ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length;
      const off = ((b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0])) / length;
      return Math.abs(off) < 0.01 && along > far && along < length - far;
    });
/** Whether the two share a stretch of border: the middle of a seam of one lies on the other, looked at finely. */
function touch(a: Piece, b: Piece): boolean {
  const spots = (o: readonly P[]): P[] =>
    o.flatMap((p, i) => {
      const q = o[(i + 1) % o.length]!;
      return Array.from({ length: 40 }, (_, k): P => {
        const t = (k + 0.5) / 40;
        return [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
      });
    });
  return spots(a.outline).some((q) => onEdges(b.outline, q)) || spots(b.outline).some((q) => onEdges(a.outline, q));
}
const shift = (seam: [P, P], by: number): [P, P] => {
  const [[x0, y0], [x1, y1]] = seam;
  const length = Math.hypot(x1 - x0, y1 - y0);
  const [dx, dy] = [(-by * (y1 - y0)) / length, (by * (x1 - x0)) / length];
  return [
    [x0 + dx, y0 + dy],
    [x1 + dx, y1 + dy],
  ];
};

const FIRST_MUTANTS: Record<string, Mutant> = {
  'two neighbours in a section change numbers': (good, random) => {
    const b = copy(good);
    // Piece 1 and 2 may be sewn either way round, but then the seam goes with the other one; others that touch may not.
    const pairs = b.sections.flatMap((s) =>
      s.pieces.flatMap((p, i) => (i > 0 && touch(s.pieces[i - 1]!, p) ? [[s.pieces[i - 1]!, p] as const] : [])),
    );
    const pair = pick(pairs, random);
    if (!pair) return undefined;
    [pair[0].number, pair[1].number] = [pair[1].number, pair[0].number];
    return b;
  },
  'a number is left out': (good, random) => {
    const b = copy(good);
    for (const p of pick(b.sections, random)!.pieces) p.number++;
    return b;
  },
  'a corner of one piece is off by 1 mm': (good, random) => {
    const b = copy(good);
    const { p } = pick(pieces(b), random)!;
    const corner = pick(p.outline, random)!;
    const turn = random() * 2 * Math.PI;
    corner[0] += Math.cos(turn);
    corner[1] += Math.sin(turn);
    return b;
  },
  'a seam end on a straight edge is off by 1 mm in all pieces': (good, random) => {
    const b = copy(good);
    const all = pieces(b);
    const spots = all.flatMap(({ p }) =>
      p.outline.flatMap((c) => {
        const edge = all.map((o) => onEdges(o.p.outline, c)).find((e) => e);
        return edge ? [{ c: [...c] as P, edge: structuredClone(edge) }] : [];
      }),
    );
    const spot = pick(spots, random);
    if (!spot) return undefined;
    const [moved] = shift(
      [spot.c, [spot.c[0] + spot.edge[1][0] - spot.edge[0][0], spot.c[1] + spot.edge[1][1] - spot.edge[0][1]]],
      1,
    );
    const lists = [...b.sections.map((s) => s.outline), ...all.flatMap(({ p }) => [p.outline, p.seam ?? []])];
    for (const q of [...lists, ...b.joins.map((j) => j.seam)].flat())
      if (q[0] === spot.c[0] && q[1] === spot.c[1]) [q[0], q[1]] = moved;
    return b;
  },
  'a corner of a section is off by 1 mm': (good, random) => {
    const b = copy(good);
    pick(pick(b.sections, random)!.outline, random)![0] += 1;
    return b;
  },
  'a join is dropped': (good, random) => {
    if (!good.joins.length) return undefined;
    const b = copy(good);
    b.joins.splice(Math.floor(random() * b.joins.length), 1);
    b.joins.forEach((j, i) => {
      j.number = i + 1;
    });
    return b;
  },
  'a join comes before what it joins': (good, random) => {
    const b = copy(good);
    const late = pick(
      b.joins.filter((j) => j.left.length + j.right.length > 2),
      random,
    );
    const early =
      late && b.joins.find((j) => j.left.every((id) => [...late.left, ...late.right].includes(id)) && j !== late);
    if (!late || !early) return undefined;
    [late.number, early.number] = [early.number, late.number];
    return b;
  },
  'a join forgets a section': (good, random) => {
    const b = copy(good);
    const join = pick(
      b.joins.filter((j) => j.left.length > 1),
      random,
    );
    join?.left.splice(Math.floor(random() * join.left.length), 1);
    return join && b;
  },
  'a section stands on the wrong side of a join': (good, random) => {
    const b = copy(good);
    const join = pick(
      b.joins.filter((j) => j.left.length > 1),
      random,
    );
    join?.right.push(join.left.pop()!);
    return join && b;
  },
  'a join names an unknown section': (good, random) => {
    const b = copy(good);
    const join = pick(b.joins, random);
    join?.right.splice(0, 1, 'ZZZ');
    return join && b;
  },
  'the seam of a join is shifted by 1 mm': (good, random) => {
    const b = copy(good);
    const join = pick(b.joins, random);
    if (join) join.seam = shift(join.seam, random() < 0.5 ? 1 : -1);
    return join && b;
  },
  'the seam of a piece is shifted by 1 mm': (good, random) => {
    const b = copy(good);
    const p = pick(
      pieces(b).filter(({ p }) => p.seam),
      random,
    )?.p;
    if (p) p.seam = shift(p.seam!, random() < 0.5 ? 1 : -1);
    return p && b;
  },
  'the seam of a piece stops short': (good, random) => {
    const b = copy(good);
    const p = pick(
      pieces(b).filter(({ p }) => p.seam),
      random,
    )?.p;
    if (p) p.seam = [p.seam![0], [(p.seam![0][0] + p.seam![1][0]) / 2, (p.seam![0][1] + p.seam![1][1]) / 2]];
    return p && b;
  },
  'a seam is missing': (good, random) => {
    const b = copy(good);
    const p = pick(
      pieces(b).filter(({ p }) => p.seam),
      random,
    )?.p;
    if (p) p.seam = null;
    return p && b;
  },
  'the first piece has a seam': (good, random) => {
    const b = copy(good);
    const p = pick(
      pieces(b).filter(({ p }) => !p.seam),
      random,
    )!.p;
    p.seam = [p.outline[0]!, p.outline[1]!];
    return b;
  },
  'a fabric is unknown': (good, random) => {
    const b = copy(good);
    pick(pieces(b), random)!.p.fabric = 'f99';
    return b;
  },
  'a piece is there twice': (good, random) => {
    const b = copy(good);
    const { s, p } = pick(pieces(b), random)!;
    s.pieces.push({ ...structuredClone(p), number: s.pieces.length + 1 });
    return b;
  },
  'the last piece of a section is missing': (good, random) => {
    const b = copy(good);
    pick(
      b.sections.filter((s) => s.pieces.length > 1),
      random,
    )?.pieces.pop();
    return b.sections.every((s, i) => s.pieces.length === good.sections[i]!.pieces.length) ? undefined : b;
  },
  'a piece lies in another section': (good, random) => {
    const b = copy(good);
    const from = pick(
      b.sections.filter((s) => s.pieces.length > 1),
      random,
    );
    const to = pick(
      b.sections.filter((s) => s !== from),
      random,
    );
    if (!from || !to) return undefined;
    to.pieces.push({ ...from.pieces.pop()!, number: to.pieces.length + 1 });
    return b;
  },
  'two pieces have changed places': (good, random) => {
    const b = copy(good);
    // Pieces 1 and 2 may be sewn either way round.
    const s = pick(
      b.sections.filter((t) => t.pieces.length > 2),
      random,
    );
    if (!s) return undefined;
    const [p, q] = [s.pieces.at(-1)!, s.pieces.at(-2)!];
    [p.outline, q.outline] = [q.outline, p.outline];
    return b;
  },
  'a section is there twice': (good, random) => {
    const b = copy(good);
    b.sections.push(structuredClone(pick(b.sections, random)!));
    return b;
  },
  'a section is missing': (good, random) => {
    if (good.sections.length < 2) return undefined;
    const b = copy(good);
    b.sections.splice(Math.floor(random() * b.sections.length), 1);
    return b;
  },
  'two corners of an outline are in the wrong order': (good, random) => {
    const b = copy(good);
    const p = pick(
      pieces(b).filter(({ p }) => p.outline.length > 3),
      random,
    )?.p;
    if (p) [p.outline[0], p.outline[1]] = [p.outline[1]!, p.outline[0]!];
    return p && b;
  },
  'an edge is dented by 1 mm on both of its sides': (good, random) => {
    const b = copy(good);
    const all = pieces(b);
    const same = (q: P, r: P): boolean => q[0] === r[0] && q[1] === r[1];
    const edges = all.flatMap(({ p }) =>
      p.outline.flatMap((a, i) => {
        const c = p.outline[(i + 1) % p.outline.length]!;
        const across = all.find((o) =>
          o.p.outline.some((q, k) => same(q, c) && same(o.p.outline[(k + 1) % o.p.outline.length]!, a)),
        );
        return across && Math.hypot(c[0] - a[0], c[1] - a[1]) > 8 ? [{ p, across: across.p, a, c }] : [];
      }),
    );
    const edge = pick(edges, random);
    if (!edge) return undefined;
    const { a, c } = edge;
    const [dent] = shift(
      [
        [(a[0] + c[0]) / 2, (a[1] + c[1]) / 2],
        [c[0] + (c[0] - a[0]) / 2, c[1] + (c[1] - a[1]) / 2],
      ],
      1,
    );
    edge.p.outline.splice(edge.p.outline.findIndex((q) => same(q, a)) + 1, 0, dent);
    edge.across.outline.splice(edge.across.outline.findIndex((q) => same(q, c)) + 1, 0, dent);
    return b;
  },
  'the block is 1 mm wider than its pieces': (good) => ({ ...copy(good), size: [good.size[0] + 1, good.size[1]] }),
  'two fabrics have one code': (good) => {
    const b = copy(good);
    b.fabrics[1]!.code = b.fabrics[0]!.code;
    return b;
  },
};

export const MUTANTS: Record<string, Mutant> = { ...FIRST_MUTANTS, ...MORE_MUTANTS };
