// Shades a picture of which the figure is known: large masses, symmetric where the face is seen from the front, one calm ground that
// all of the outline shows on, eyes and nose as shapes. Takes a Picture and what is drawn of the face, gives a Shading.
import { hexOfOklab, type Lab, oklabOfHex } from '../colour/oklab.ts';
import type { FaceOnBlock, FaceShape, Picture, Report } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { blurChannels, type Cells } from './cells.ts';
import { alongOutline, groundFor } from './figure-ground.ts';
import { fabricsOf, orderShades } from './make-fabrics.ts';
import { matchCloths } from './match-cloths.ts';
import { mirrorCells, paintOver, smoothMask } from './mirror-cells.ts';
import { markingsDiffer, mirrorLabels } from './mirror-labels.ts';
import { pointEars, weighEars } from './point-ears.ts';
import type { SeenPicture } from './see-picture.ts';
import { type ShadeOptions, type ShadingFound, shadePicture } from './shade-picture.ts';
import { cellsNear, showFace } from './show-face.ts';

export interface FigureShadeOptions extends ShadeOptions {
  /** pieces that the block is to have at most: they set how calm the masses are */
  readonly pieces?: number;
}

export interface FigureShading extends ShadingFound {
  readonly face: {
    /** fabrics for eyes and nose alone, beside the others */
    readonly scraps: number;
    readonly faint: readonly FaceShape['kind'][];
    /** whether both halves were made alike */
    readonly mirrored: boolean;
  };
  /** share of the outline that shows on the ground: L* gap of 20 or more */
  readonly shows?: number;
}

/** How much dearer borders are than in other photos for 80 pieces; fewer pieces show larger masses. A head that fills the block has fewer and
 *  larger masses than a whole animal, of which a leg must not be lost. */
const CALMER = { head: 16, animal: 12 };
const USUAL_PIECES = 80;
const LEAST_CALM = 4;
/** A mass is at least this share of the block wide: .6 in of 12, and 1/2 in. */
const MASS_WIDTH = { head: 20, animal: 24 };
/** Cells of blur of the picture's colours and of the outline. */
const MASS_BLUR = 1.2;
const OUTLINE_BLUR = 2;
/** Share of the block from which a head is what the block shows. */
const HEAD_FILLS = 0.4;
/** Where no face is known, spots this dark (OKLab lightness) may be an eye and a nose; a light spot is a hole, and more than three are a coat. */
const DARK_SPOT = 0.45;
const MOST_SPOTS = 3;
/** Share of the block about an eye or a nose that is painted over with it: lashes, lids and shadows belong to it. */
const AROUND = 0.012;

/** `groundColour` is what the person chose for the ground, "#rrggbb". */
export async function shadeFigure(
  picture: Picture,
  options: FigureShadeOptions,
  seen: SeenPicture,
  face: FaceOnBlock,
  groundColour?: string,
  report?: Report,
): Promise<FigureShading> {
  const known = face.head
    ? { faces: [{ x: face.head[0] + face.head[2] / 2, y: face.head[1] + face.head[3] / 2, r: face.head[2] / 2 }] }
    : {};
  const { width: w, height: h } = seen.plain;
  const own = seen.subject?.mask;
  // a body behind a small head is not alike on both sides
  const part = Math.max(face.head?.[2] ?? 0, face.head?.[3] ?? 0) >= HEAD_FILLS ? 'head' : 'animal';
  let axis = own && part === 'head' ? face.axis : undefined;
  if (axis !== undefined) {
    const light = Float32Array.from({ length: w * h }, (_, i) => seen.plain.lab[3 * i]!);
    const [, y, hw, hh] = face.head ?? [0, 0, 1, 1];
    const rows = [
      Math.max(0, Math.floor(y * h)),
      Math.min(h, Math.ceil((y + hh) * h)),
      Math.round((hw * w) / 2),
    ] as const;
    if (markingsDiffer(light, own!, w, axis, rows)) axis = undefined;
  }
  const smooth = own && smoothMask(own, w, h, OUTLINE_BLUR, axis);
  const mask = smooth && face.ears ? pointEars(smooth, w, h, face.ears) : smooth;
  const holes = face.shapes.filter((s) => s.within === undefined).map((s) => cellsNear(s.outline, w, h, AROUND));
  const even = (cells: Cells): Cells => {
    const bare = paintOver(cells, holes);
    return axis === undefined ? bare : mirrorCells(bare, axis, own);
  };
  const masses = (cells: Cells): Cells => ({ ...cells, lab: blurChannels(cells.lab, w, h, 3, MASS_BLUR) });
  const sight: SeenPicture = {
    ...{ ...seen, ...known, plain: even(seen.plain) },
    ...(seen.calm && { calm: masses(even(seen.calm)) }),
    ...(mask && { subject: { mask, share: mask.reduce((t, v) => t + v, 0) / mask.length } }),
    blobs: face.shapes.length ? [] : seen.blobs.filter((b) => b.colour[0] < DARK_SPOT).slice(0, MOST_SPOTS),
  };
  const calmer = Math.max(LEAST_CALM, CALMER[part] * (USUAL_PIECES / (options.pieces ?? USUAL_PIECES)));
  // small pieces for eyes make the masses no smaller
  const smallest = Math.max(options.smallest, Math.min(...options.size) / MASS_WIDTH[part]);
  // own fabrics are matched when eyes and ground are there
  const { cloths, again = false, ...free } = options;
  if (cloths && cloths.length < 2) throw new UserError('one-fabric', {}, 2);
  const groundLater = options.background === 'plain';
  const shaded = await shadePicture(picture, { calmer, ...free, smallest, focus: [], groundLater }, report, sight);
  let labels: Uint8Array = Uint8Array.from(shaded.labels);
  if (axis !== undefined) labels = Uint8Array.from(mirrorLabels(labels, w, h, axis, shaded.fabrics.length));
  let ground: number | undefined;
  if (mask && options.background === 'plain') {
    const counts = new Uint32Array(shaded.fabrics.length);
    for (let i = 0; i < w * h; i++) if (!mask[i]) counts[labels[i]!]!++;
    ground = counts.indexOf(Math.max(...counts));
  }
  let colours: Lab[] = shaded.fabrics.map((f) => oklabOfHex(f.colour));
  let shows: number | undefined;
  if (ground !== undefined) {
    const shares = alongOutline(labels, mask!, w, h, colours.length);
    const along = colours
      .map((colour, l) => ({ colour, share: l === ground ? 0 : shares[l]! }))
      .filter((a) => a.share > 0.004);
    const chosen = groundFor(colours[ground]!, along);
    const colour = groundColour ? oklabOfHex(groundColour) : chosen.colour;
    shows = chosen.shows;
    colours = colours.map((c, l) => (l === ground ? colour : c));
  }
  const groundHex = ground === undefined ? undefined : hexOfOklab(colours[ground]!);
  const ordered = orderShades(labels, colours);
  const shading = { ...shaded, labels: ordered.labels, fabrics: fabricsOf(ordered.colours) };
  const weights = face.ears && weighEars(shading.weights, w, h, face.ears);
  const groundNow = groundHex === undefined ? undefined : ordered.order[ground!]!;
  const shown = showFace({ ...shading, ...(weights && { weights }) }, face.shapes, groundNow);
  const dressed = cloths
    ? matchCloths(shown.shading, cloths, again || cloths.length < shown.shading.fabrics.length)
    : undefined;
  return {
    ...shaded,
    ...(dressed?.shading ?? shown.shading),
    ...(dressed && { choices: { ...shaded.choices, cloths: dressed.matches } }),
    ...(axis !== undefined && { axis }),
    face: { scraps: shown.scraps, faint: shown.faint, mirrored: axis !== undefined },
    ...(shows !== undefined && { shows }),
  };
}
