// The part of a sheet that templates may lie on. Apart from sheet-frame.ts, which draws the rest: the fit asks for the area alone.
import { type Paper, type PaperFrame, printableFrame } from '../drawing/paper.ts';
import type { Mm } from '../units.ts';

/** mm at the foot of a sheet for scale, maps and words */
export const FOOT = 27;
/** mm at the left that the ruler down takes, and its length */
export const RULER = 9.5;
export const RULER_LENGTH = 101.6;

/** Where templates may lie: everything above the foot; the ruler down stands in the lower left of it. */
export function templateFrame(paper: Paper, margin: Mm): PaperFrame & { readonly ruler: PaperFrame } {
  const f = printableFrame(paper, margin);
  const height = f.height - FOOT - 2;
  return {
    x: f.x,
    y: f.y,
    width: f.width,
    height,
    ruler: { x: f.x, y: f.y + height - RULER_LENGTH - 3, width: RULER, height: RULER_LENGTH + 3 },
  };
}

/** Width and height in mm that a section with its allowance may take up, turned any way, on this paper. */
export function templateArea(paper: Paper, margin: Mm): readonly [number, number] {
  const f = templateFrame(paper, margin);
  return [f.width - RULER, f.height];
}
