// Shades a picture of which the figure is known: large masses, symmetric where the face is seen from the front, one calm ground that
// all of the outline shows on, eyes and nose as shapes. Takes a Picture and what is drawn of the face, gives a Shading.
import { type Lab, oklabOfHex, hexOfOklab } from '../colour/oklab.ts';
import type { FaceShape, Picture, Report } from '../data.ts';
import { alongOutline, groundFor } from './figure-ground.ts';
import { fabricsOf, orderShades } from './make-fabrics.ts';
import { markingsDiffer, mirrorLabels } from './mirror-labels.ts';
import type { SeenPicture } from './see-picture.ts';
import { type ShadeOptions, type ShadingFound, shadePicture } from './shade-picture.ts';
import { showFace } from './show-face.ts';

/** What is to be seen of a face on the block. */
export interface FaceOnBlock {
  readonly shapes: readonly FaceShape[];
  /** share of the block's width */
  readonly axis?: number;
  /** the head's box as shares of the block: left, top, width, height */
  readonly head?: readonly [number, number, number, number];
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

/** How much dearer borders are than in other photos. */
const CALMER = 6;

/** `groundColour` is what the person chose for the ground, "#rrggbb". */
export async function shadeFigure(
  picture: Picture,
  options: ShadeOptions,
  seen: SeenPicture,
  face: FaceOnBlock,
  groundColour?: string,
  report?: Report,
): Promise<FigureShading> {
  const known = face.head
    ? { faces: [{ x: face.head[0] + face.head[2] / 2, y: face.head[1] + face.head[3] / 2, r: face.head[2] / 2 }] }
    : {};
  const sight: SeenPicture = { ...seen, ...known, ...(face.shapes.length > 0 && { blobs: [] }) };
  const shaded = await shadePicture(picture, { calmer: CALMER, ...options, focus: [] }, report, sight);
  const { width: w, height: h } = shaded;
  const mask = seen.subject?.mask;
  let labels = Uint8Array.from(shaded.labels);
  let ground: number | undefined;
  if (mask && options.background === 'plain') {
    const counts = new Uint32Array(shaded.fabrics.length);
    for (let i = 0; i < w * h; i++) if (!mask[i]) counts[labels[i]!]!++;
    ground = counts.indexOf(Math.max(...counts));
  }
  let mirrored = false;
  if (face.axis !== undefined && mask) {
    const light = Float32Array.from({ length: w * h }, (_, i) => seen.plain.lab[3 * i]!);
    const [x, y, hw, hh] = face.head ?? [0, 0, 1, 1];
    const rows: [number, number, number] = [Math.max(0, Math.floor(y * h)), Math.min(h, Math.ceil((y + hh) * h)), Math.round((hw * w) / 2)];
    void x;
    if (!markingsDiffer(light, mask, w, face.axis, rows)) {
      labels = mirrorLabels(labels, w, h, face.axis, shaded.fabrics.length);
      mirrored = true;
    }
  }
  let colours: Lab[] = shaded.fabrics.map((f) => oklabOfHex(f.colour));
  let shows: number | undefined;
  if (ground !== undefined) {
    const animal = Uint8Array.from(labels, (l, i) => (l !== ground || (mirrored ? 0 : mask![i]!) ? 1 : 0));
    const shares = alongOutline(labels, animal, w, h, colours.length);
    const along = colours.map((colour, l) => ({ colour, share: l === ground ? 0 : shares[l]! })).filter((a) => a.share > 0.004);
    const chosen = groundFor(colours[ground]!, along);
    const colour = groundColour ? oklabOfHex(groundColour) : chosen.colour;
    shows = chosen.shows;
    colours = colours.map((c, l) => (l === ground ? colour : c));
  }
  const groundHex = ground === undefined ? undefined : hexOfOklab(colours[ground]!);
  const ordered = orderShades(labels, colours);
  const shading = { ...shaded, labels: ordered.labels, fabrics: fabricsOf(ordered.colours) };
  const groundNow = groundHex === undefined ? undefined : ordered.order[ground!]!;
  const shown = showFace(shading, face.shapes, groundNow);
  return {
    ...shaded,
    ...shown.shading,
    ...(mirrored && face.axis !== undefined && { axis: face.axis }),
    face: { scraps: shown.scraps, faint: shown.faint, mirrored },
    ...(shows !== undefined && { shows }),
  };
}
