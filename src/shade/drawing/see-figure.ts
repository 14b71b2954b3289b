// Takes a drawing; gives its figure, and whether strokes draw its form or are so many and so close that they are its tone.
import { distanceInside, findComponents } from '../opencv.ts';
import { type Figure, findFigure } from './find-figure.ts';
import { countIn, maskWhere, outsideOf } from './masks.ts';
import { openMask } from './open-mask.ts';
import type { Drawn } from './read-drawing.ts';

/** Strokes within a figure over which they are tone rather than form (see strokesWithin): drawings of the set lie under .6 and over .9. */
const WEB = 0.75;
/** Share of a figure that is ink, and number of crumbs of paper and half of pieces of ink, from which it is hatched. */
const HATCHED = 0.35;
const MOST_CRUMBS = 50;
/** Half cells beyond a stroke's width within which it belongs to the outline. */
const FROM_OUTLINE = 6;
/** Share of the narrowest piece from which strokes are too wide to be a tone. */
const WIDE = 0.45;
/** Share of the largest part of a web's figure that another has at least. */
const LEAST_PART = 0.05;

export interface SeenFigure {
  readonly figure: Figure;
  readonly web: boolean;
  /** the figure's mask; of a web closed between its strokes */
  readonly mask: Uint8Array;
}

/** `narrow`: the narrowest piece, in cells of the block. Undefined where there is no figure. */
export async function seeFigure(drawn: Drawn, narrow: number): Promise<SeenFigure | undefined> {
  const figure = await findFigure(drawn.ink, drawn.w, drawn.h, 2 * drawn.stroke, 2 * narrow);
  if (!figure) return undefined;
  const web =
    drawn.stroke < WIDE * narrow &&
    (strokesWithin(await deepIn(drawn, figure), figure, narrow) > WEB || (await isHatched(drawn, figure, narrow)));
  return { figure, web, mask: web ? await closedFigure(drawn, figure, 2 * narrow) : figure.mask };
}

const deepIn = ({ w, h }: Drawn, { mask }: Figure): Promise<Float32Array> => distanceInside(mask, w, h);

/** How many pieces' widths of stroke a piece of the figure holds on average, away from its outline: few where strokes draw its form, one
 *  and more where they are its tone. `deep`: distance to the ground. */
function strokesWithin(deep: Float32Array, figure: Figure, narrow: number): number {
  let length = 0;
  for (const { cells } of figure.strokes) for (const i of cells) if (deep[i]! > figure.fine + FROM_OUTLINE) length++;
  return (length * 2 * narrow) / Math.max(1, countIn(figure.mask));
}

/** Whether much of the figure is ink, in many pieces or with many holes: hatching so close that its strokes run together. */
async function isHatched({ ink, w, h }: Drawn, { mask }: Figure, narrow: number): Promise<boolean> {
  const inked = maskWhere(w * h, (i) => ink[i] === 1 && mask[i] === 1);
  if (countIn(inked) < HATCHED * countIn(mask)) return false;
  const bare = maskWhere(w * h, (i) => !ink[i] && mask[i] === 1);
  const crumbs = (await findComponents(bare, w, h, 4)).parts.filter((p, q) => q && p.area < 2 * narrow ** 2).length;
  return crumbs + (await findComponents(inked, w, h, 8)).parts.length / 2 > MOST_CRUMBS;
}

/** The figure with what lies between its strokes where they stand nearer together than a piece is wide, also at its edge. */
async function closedFigure({ ink, w, h }: Drawn, { mask }: Figure, narrow: number): Promise<Uint8Array> {
  const all = maskWhere(w * h, (i) => mask[i] === 1 || ink[i] === 1);
  const wide = await openMask(outsideOf(all), w, h, narrow);
  const closed = await openMask(outsideOf(wide), w, h, 0.7 * narrow);
  const { part, parts } = await findComponents(closed, w, h, 4);
  const largest = Math.max(0, ...parts.slice(1).map((p) => p.area));
  return maskWhere(w * h, (i) => part[i]! > 0 && parts[part[i]!]!.area > LEAST_PART * largest);
}
