// Shades a line drawing: finds the figure that its strokes enclose, fills it, and keeps the strokes as fabric where they are wide
// enough to sew; a dense web of strokes is taken for tone. What each step does stands in drawing/.
import type { Lab } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import type { Cells } from './cells.ts';
import type { RoleColours } from './drawing/choose-tones.ts';
import { type Design, designFigure } from './drawing/design-figure.ts';
import { designTones } from './drawing/design-tones.ts';
import type { Figure } from './drawing/find-figure.ts';
import { partsOf } from './drawing/flood.ts';
import { choosesKept } from './drawing/judge-strokes.ts';
import { countIn } from './drawing/masks.ts';
import { type Drawn, halve, readDrawing, seenCells } from './drawing/read-drawing.ts';
import { seeFigure } from './drawing/see-figure.ts';
import { shadeTones } from './drawing/shade-tones.ts';
import { fitColours } from './fit-colours.ts';
import { costsOf, mergeSpecks } from './label-cells.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';

/** What is done with strokes; by how they are drawn where absent or `auto`. `dissolve` is another word for `fill`. */
export type Lines = 'fill' | 'keep' | 'auto' | 'dissolve';

/** Share of a figure that hangs together at least. */
const ONE = 0.8;

export async function shadeDrawing(
  picture: Picture,
  w: number,
  h: number,
  settings: ShadeSettings,
  lines: Lines = 'auto',
  colours?: RoleColours,
): Promise<Shaded> {
  const drawn = await readDrawing(picture, w, h);
  const shaded = await shadeStrokes(drawn, w, h, settings, lines, colours);
  return drawn.ruled ? { ...shaded, notes: [...shaded.notes, 'The ruling of the paper was left out.'] } : shaded;
}

async function shadeStrokes(
  drawn: Drawn,
  w: number,
  h: number,
  settings: ShadeSettings,
  lines: Lines,
  colours?: RoleColours,
): Promise<Shaded> {
  const { narrow } = settings;
  const seen = await seeFigure(drawn, narrow);
  if (!seen) return strokesAlone(drawn, w, h, narrow);
  const { figure, web, mask } = seen;
  if (lines === 'auto' && web)
    return isOneFigure(figure, drawn.w, drawn.h)
      ? designTones(drawn, mask, w, h, settings, colours)
      : shadeTones(drawn, w, h, settings, halve(figure.mask, w, h, 3));
  const design: Design =
    lines === 'auto' ? (choosesKept(drawn, figure, narrow) ? 'keep' : 'fill') : lines === 'keep' ? 'keep' : 'fill';
  const shaded = await designFigure(drawn, figure, w, h, settings, design, colours);
  return { ...shaded, notes: [...shaded.notes, ...notesOf(design, shaded.strokes?.length ?? 0)] };
}

const notesOf = (design: Design, strokes: number): string[] => [
  ...(design === 'fill' ? ['The drawing was filled in, and its lines became the edges of the pieces.'] : []),
  ...(strokes
    ? [
        `${strokes === 1 ? 'One line is' : `${strokes} lines are`} not pieced: stitch or ink ${strokes === 1 ? 'it' : 'them'} on the finished block.`,
      ]
    : []),
];

/** Whether nearly all of it hangs together and it stays off three sides of the picture: a scene reaches from side to side. */
function isOneFigure({ mask }: Figure, w: number, h: number): boolean {
  const largest = partsOf((i) => mask[i] === 1, w, h).list.reduce((t, c) => Math.max(t, c.length), 0);
  const sides = [0, 0, 0, 0];
  for (let x = 0; x < w; x++) {
    sides[0]! += mask[x]!;
    sides[1]! += mask[(h - 1) * w + x]!;
  }
  for (let y = 0; y < h; y++) {
    sides[2]! += mask[y * w]!;
    sides[3]! += mask[y * w + w - 1]!;
  }
  return largest > ONE * countIn(mask) && sides.filter((v) => v > 0).length < 2;
}

/** Ink and paper as they are, where there is no figure to be found. */
function strokesAlone(drawn: Drawn, w: number, h: number, narrow: number): Shaded {
  const labels = halve(drawn.ink, w, h, 2);
  const seen = seenCells(drawn.picture, w, h);
  const colours = fitColours(labels, seen, [drawn.paper, drawn.pen], [false, true]);
  const lab = new Float32Array(w * h * 3);
  for (let i = 0; i < w * h; i++) lab.set(colours[labels[i]!] as Lab, 3 * i);
  const cells: Cells = { width: w, height: h, lab };
  const costs = costsOf(cells, colours);
  mergeSpecks(labels, costs, w, h, 2, { least: 0.3 * narrow ** 2, wanted: 0.3 * narrow ** 2 });
  return { labels, colours, costs, cells, notes: [] };
}
