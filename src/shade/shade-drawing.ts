// Shades a line drawing: finds the figure that its strokes enclose, fills it, and keeps the strokes as fabric where they are wide
// enough to sew; a dense web of strokes is taken for tone. What each step does stands in drawing/.
import type { Lab } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import type { Cells } from './cells.ts';
import type { RoleColours } from './drawing/choose-tones.ts';
import { type Design, designFigure } from './drawing/design-figure.ts';
import { findFigure } from './drawing/find-figure.ts';
import { choosesKept } from './drawing/judge-strokes.ts';
import { type Drawn, halve, readDrawing, seenCells } from './drawing/read-drawing.ts';
import { shadeTones } from './drawing/shade-tones.ts';
import { fitColours } from './fit-colours.ts';
import { costsOf, mergeSpecks } from './label-cells.ts';
import { findComponents } from './opencv.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';

/** What is done with strokes; by how they are drawn where absent or `auto`. `dissolve` is another word for `fill`. */
export type Lines = 'fill' | 'keep' | 'auto' | 'dissolve';

/** Pieces of paper too small to sew, over which strokes are tone rather than outline. */
const MOST_CRUMBS = 50;

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
  if (lines === 'auto' && (await isWeb(drawn, narrow))) return shadeTones(drawn, w, h, settings);
  const figure = await findFigure(drawn.ink, drawn.w, drawn.h, 2 * drawn.stroke, 2 * narrow);
  if (!figure) return strokesAlone(drawn, w, h, narrow);
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

/** Whether strokes are so many and so close that they are a tone. */
async function isWeb(drawn: Drawn, narrow: number): Promise<boolean> {
  if (drawn.stroke >= 0.45 * narrow) return false;
  const { parts } = await findComponents(
    Uint8Array.from(drawn.ink, (v) => 1 - v),
    drawn.w,
    drawn.h,
    4,
  );
  const crumbs = parts.filter((p, id) => id > 0 && p.area < 4 * 0.5 * narrow ** 2).length;
  const { parts: strokes } = await findComponents(drawn.ink, drawn.w, drawn.h, 8);
  return crumbs + strokes.length / 2 > MOST_CRUMBS;
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
