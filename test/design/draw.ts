// Draws a block as a person would: one line a seam, on a ground of filled shapes or none, with unsteady ends.
import type { Block } from '../../src/block.ts';

export interface Hand {
  /** how far each end may be off, mm */
  readonly off?: number;
  readonly random?: () => number;
  /** pieces as filled polygons too */
  readonly fills?: boolean;
  /** written in this unit, with this many user units a mm */
  readonly unit?: 'mm' | 'in' | 'px';
}

/** SVG text of the block's frame, seams and joins. */
export function drawBlock(
  block: Block,
  { off = 0, random = Math.random, fills = false, unit = 'mm' }: Hand = {},
): string {
  const k = unit === 'mm' ? 1 : unit === 'in' ? 1 / 25.4 : 96 / 25.4;
  const [w, h] = block.size.map((v) => v * k) as [number, number];
  const wobble = (): number => (random() * 2 - 1) * off * k * Math.SQRT1_2;
  const seams = [
    ...block.sections.flatMap((s) => s.pieces.flatMap((p) => (p.seam ? [p.seam] : []))),
    ...block.joins.map((j) => j.seam),
  ];
  const colour = new Map(block.fabrics.map((f) => [f.id, f.colour]));
  const shapes = fills
    ? block.sections.flatMap((s) =>
        s.pieces.map(
          (p) =>
            `<polygon points="${p.outline.map((q) => q.map((v) => v * k).join(',')).join(' ')}" fill="${colour.get(p.fabric)}"/>`,
        ),
      )
    : [];
  const lines = seams.map(
    ([a, b]) =>
      `<line x1="${a[0] * k + wobble()}" y1="${a[1] * k + wobble()}" x2="${b[0] * k + wobble()}" y2="${b[1] * k + wobble()}"/>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w}${unit}" height="${h}${unit}" viewBox="0 0 ${w} ${h}">
${shapes.join('\n')}<g fill="none" stroke="#000" stroke-width="${k}"><rect width="${w}" height="${h}"/>
${lines.join('\n')}</g></svg>`;
}
