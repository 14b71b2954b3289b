// Changes of a file that change nothing that is sewn: each must be accepted.
import type { Block } from '../../src/block.ts';

type P = [number, number];
type Change = (block: Block, random: () => number) => Block;
const copy = (block: Block): Block => JSON.parse(JSON.stringify(block));
const outlines = (b: Block): P[][] => b.sections.flatMap((s) => [s.outline, ...s.pieces.map((p) => p.outline)]);
const shuffle = <T>(list: T[], random: () => number): void => {
  for (let i = list.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [list[i], list[j]] = [list[j]!, list[i]!];
  }
};
const on = (b: Block, change: (b: Block) => void): Block => {
  const c = copy(b);
  change(c);
  return c;
};
const moved = (b: Block, to: (p: P) => P, size: P): Block => ({
  ...copy(b),
  size,
  sections: b.sections.map((s) => ({
    ...s,
    outline: s.outline.map(to),
    pieces: s.pieces.map((p) => ({ ...p, outline: p.outline.map(to), seam: p.seam && [to(p.seam[0]), to(p.seam[1])] })),
  })),
  joins: b.joins.map((j) => ({ ...j, seam: [to(j.seam[0]), to(j.seam[1])] })),
});

export const HARMLESS: Record<string, Change> = {
  'outlines begin at another corner': (b, random) =>
    on(b, (c) => {
      for (const o of outlines(c)) o.push(...o.splice(0, Math.floor(random() * o.length)));
    }),
  'outlines run the other way round': (b) =>
    on(b, (c) => {
      for (const o of outlines(c)) o.reverse();
    }),
  'a corner is named twice': (b, random) =>
    on(b, (c) => {
      for (const o of outlines(c)) {
        const at = Math.floor(random() * o.length);
        o.splice(at, 0, [...o[at]!]);
      }
    }),
  'seams run the other way': (b) =>
    on(b, (c) => {
      for (const p of c.sections.flatMap((s) => s.pieces)) p.seam?.reverse();
      for (const j of c.joins) j.seam.reverse();
    }),
  'fabrics in another order': (b, random) => on(b, (c) => shuffle(c.fabrics, random)),
  'sections in another order': (b, random) => on(b, (c) => shuffle(c.sections, random)),
  'pieces in another order in the file': (b, random) =>
    on(b, (c) => {
      for (const s of c.sections) shuffle(s.pieces, random);
    }),
  'joins in another order in the file': (b, random) => on(b, (c) => shuffle(c.joins, random)),
  "a join's sections in another order": (b, random) =>
    on(b, (c) => {
      for (const j of c.joins) for (const side of [j.left, j.right]) shuffle(side, random);
    }),
  'left and right of joins exchanged': (b) =>
    on(b, (c) => {
      for (const j of c.joins) [j.left, j.right] = [j.right, j.left];
    }),
  'seen in a mirror': (b) => moved(b, ([x, y]) => [b.size[0] - x, y], b.size),
  'turned by a quarter': (b) => moved(b, ([x, y]) => [y, b.size[0] - x], [b.size[1], b.size[0]]),
  'twice as large': (b) => moved(b, ([x, y]) => [2 * x, 2 * y], [2 * b.size[0], 2 * b.size[1]]),
  'other names and colours': (b) =>
    on(b, (c) => {
      c.name = 'Brämble & Söhne, no. 7';
      for (const f of c.fabrics) [f.name, f.colour] = [`cloth “${f.id}”`, '#123456'];
    }),
  'fields that nobody knows': (b) => on(b, (c) => Object.assign(c, { mine: { a: [1, 2, { b: null }] }, edition: 'C' })),
  'codes in other letters': (b) =>
    on(b, (c) => {
      c.fabrics.forEach((f, i) => {
        f.code = ['ä1', '1A', 'a', 'fa-1'][i % 4]!;
      });
    }),
};
