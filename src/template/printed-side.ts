// The only place that mirrors. The paper is sewn on its printed side with the fabric beneath, so what is printed is the
// finished face left-right reversed. Corners keep their positive order.
import type { Block } from '../block.ts';
import type { Point } from '../geometry/polygon.ts';

/** The block turned left-right as a whole: seen from the back, or another block for --turn. */
export function turnLeftRight(block: Block): Block {
  const flip = ([x, y]: readonly [number, number]): [number, number] => [
    Math.round((block.size[0] - x) * 1000) / 1000 + 0,
    y,
  ];
  const ring = (P: readonly Point[]): [number, number][] => P.map((q) => flip(q)).reverse();
  return {
    ...block,
    sections: block.sections.map((s) => ({
      ...s,
      outline: ring(s.outline),
      pieces: s.pieces.map((p) => ({
        ...p,
        outline: ring(p.outline),
        seam: p.seam && [flip(p.seam[0]), flip(p.seam[1])],
      })),
    })),
    joins: block.joins.map((j) => ({ ...j, seam: [flip(j.seam[0]), flip(j.seam[1])] })),
    ...(block.stitches && { stitches: block.stitches.map((line) => line.map((q) => flip(q))) }),
    ...(block.marks && {
      marks: block.marks.map((m) => ({ ...m, at: flip(m.at), ...(m.outline && { outline: ring(m.outline) }) })),
    }),
  };
}
