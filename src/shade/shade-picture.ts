// Stage 2. Takes a Picture, gives the grid of fabric labels that the block is fitted to, and the fabrics.
import type { Lab } from '../colour/oklab.ts';
import type { Feature, Landmark, Picture, Report, Shading } from '../data.ts';
import { groundRegion } from '../geometry/silhouette.ts';
import { UserError } from '../problems/problem.ts';
import { type Background, coloursAlong } from './calm-ground.ts';
import { blurChannels, gridSize } from './cells.ts';
import { chooseGround } from './choose-ground.ts';
import type { RoleColours } from './drawing/choose-tones.ts';
import { eachCellIn } from './drawing/paint.ts';
import type { Tone, ToneDrawn } from './even-tone.ts';
import type { Face } from './find-faces.ts';
import type { Kind, KindFound } from './find-kind.ts';
import { fitColours, VIEW_BLUR } from './fit-colours.ts';
import { type Focus, focusOn, weighFocus, weighSubject } from './focus.ts';
import type { Frame, Guess } from './guess-subject.ts';
import { keepLandmarks } from './keep-landmarks.ts';
import { mergeSpecks } from './label-cells.ts';
import { fabricsOf, orderShades } from './make-fabrics.ts';
import { type ClothsMatched, matchCloths } from './match-cloths.ts';
import { mergeRareShades } from './merge-shades.ts';
import { measureOutline, type OutlineGap } from './outline-gap.ts';
import type { Cloth } from './read-cloths.ts';
import { type SeenPicture, seePicture } from './see-picture.ts';
import { type Lines, shadeDrawing } from './shade-drawing.ts';
import { shadeFlat } from './shade-flat.ts';
import { shadePhoto } from './shade-photo.ts';
import type { Shaded } from './shaded.ts';
import { MOST_SUGGESTED } from './suggest-shades.ts';

export interface ShadeOptions {
  /** finished width and height, mm */
  readonly size: readonly [number, number];
  /** narrowest finished width of a piece, mm */
  readonly smallest: number;
  /** most fabrics, background included; `auto` as many as the picture asks for */
  readonly shades: number | 'auto';
  readonly background: Background;
  readonly seed: number;
  /** how much dearer borders are than usual, 1 */
  readonly calmer?: number;
  /** cells along the longer side, 192 */
  readonly grid?: number;
  /** what the picture is; found by itself where absent */
  readonly kind?: Kind;
  /** what becomes of a drawing's strokes; decided by how they are drawn where absent */
  readonly lines?: Lines;
  /** fabrics of a drawing's parts, where the person named them */
  readonly colours?: RoleColours;
  /** whether black or white fur's tones are drawn apart; where the subject is cut from its ground if absent */
  readonly tone?: Tone;
  /** where the network saw the subject; asked here where it is needed and absent */
  readonly guess?: Guess;
  /** what the person drew about the subject, in pixels of the upright picture */
  readonly frame?: Frame;
  /** where more pieces are to be spent; found by itself where absent, nowhere where empty */
  readonly focus?: readonly Focus[];
  /** whether the one ground is chosen afterwards: nothing is said of it here */
  readonly groundLater?: boolean;
  /** the fabrics that someone has, one of which each shade is to be */
  readonly cloths?: readonly Cloth[];
  /** whether one of them may serve for several shades */
  readonly again?: boolean;
}

/** What was chosen by itself, and what an option would say to choose otherwise. */
export interface Choices {
  readonly shades: { readonly used: number; readonly suggested?: number };
  readonly focus: readonly Focus[];
  /** faces that were found, which shades and detail go to first */
  readonly faces?: readonly Face[];
  /** what was drawn apart in black or white fur, where its tones were too near to each other */
  readonly tone?: readonly ToneDrawn[];
  /** corners of the sheet of which the picture is a photo, as shares of it, where one was squared up */
  readonly sheet?: readonly number[];
  /** share of the block that is the subject, where it was looked for */
  readonly subject?: number;
  /** how the outline shows on its ground: share of it that hardly does, mean L* gap */
  readonly outline?: OutlineGap;
  /** which of the person's own fabrics each shade became, and how far it is from that (CIEDE2000) */
  readonly cloths?: ClothsMatched['matches'];
  readonly measures: Readonly<Record<string, number>>;
}

export interface ShadingFound extends Shading {
  /** what the picture was taken for, and why */
  readonly kind: KindFound;
  readonly choices: Choices;
}

/** House rule: more of the outline than this may not run where ground and animal are alike. */
const WEAK_OUTLINE = { keep: 0.25, calm: 0.3, plain: 0.15 } as const;

/** The same picture, options and seed give the same shading. `seen` is what seePicture gives, if it has been asked already.
 *  Throws when `report` throws (the work was cancelled). */
export async function shadePicture(
  picture: Picture,
  options: ShadeOptions,
  report?: Report,
  seen?: SeenPicture,
): Promise<ShadingFound> {
  const [w, h] = gridSize(options.size, options.grid ?? 192);
  const narrow = (options.smallest * w) / options.size[0];
  const { background, seed } = options;
  const { cloths, again = false } = options;
  const most = cloths && !again ? cloths.length : MOST_SUGGESTED;
  const shades =
    options.shades === 'auto' ? 'auto' : Math.max(2, Math.min(options.shades, again ? 255 : (cloths?.length ?? 255)));
  const settings = {
    shades,
    seed,
    narrow,
    background,
    calmer: options.calmer ?? 1,
    most: Math.max(2, Math.min(MOST_SUGGESTED, most)),
  } as const;
  const {
    kind,
    plain,
    calm,
    judged,
    subject,
    hidden,
    share,
    faces,
    tone,
    blobs,
    likely,
    notes: seenNotes,
  } = seen ?? (await seePicture(picture, options, report));
  const notes = [...seenNotes];
  const weights = weighFocus(options.focus ?? [], w, h);
  const shaded =
    (kind.kind === 'flat' && shadeFlat(picture, w, h, settings)) ||
    (kind.kind === 'drawing' && (await shadeDrawing(picture, w, h, settings, options.lines, options.colours))) ||
    shadePhoto(picture, plain, blobs, settings, {
      faces,
      ...(subject && { mask: subject.mask }),
      ...(weights && { focus: weights }),
      ...(likely && { likely }),
      ...(calm && { smoothed: calm }),
    });
  report?.(0.7);
  const labels = Uint8Array.from(shaded.labels);
  const k = shaded.colours.length;
  const kept = keepLandmarks(
    labels,
    shaded.colours,
    w,
    h,
    // an eye that is a shape already has no glint to grow in it
    shaded.features ? blobs.filter((b) => !shaded.hold?.[Math.floor(b.y) * w + Math.floor(b.x)]) : blobs,
    narrow,
    kind.kind === 'flat' ? groundRegion(labels, w, h) : undefined,
  );
  shaded.hold?.forEach((v, i) => {
    if (v) kept.hold[i] = 1;
  });
  mergeSpecks(labels, shaded.costs, w, h, k, { least: 0.25 * narrow ** 2, wanted: 0 }, kept.hold);
  const rare = mergeRareShades(labels, shaded.colours, shaded.costs, w, h, kept.hold);
  let colours: readonly Lab[] = shaded.colours;
  if (kind.kind === 'photo') {
    const seen = { ...shaded.cells, lab: blurChannels(shaded.cells.lab, w, h, 3, VIEW_BLUR) };
    const given = colours.map((_, l) => shaded.ground?.includes(l) === true);
    colours = fitColours(labels, seen, colours, given, shaded.matters);
    if (subject && background === 'plain') colours = settleGround(labels, colours, shaded, subject.mask);
  }
  const ordered = orderShades(labels, colours);
  const landmark = (m: { blob: { x: number; y: number; radius: number }; label: number }): Landmark => ({
    at: [m.blob.x / w, m.blob.y / h],
    area: (Math.PI * m.blob.radius ** 2) / (w * h),
    fabric: Math.max(0, ordered.order[m.label] ?? 0),
  });
  let shading: Shading = {
    width: w,
    height: h,
    labels: ordered.labels,
    fabrics: fabricsOf(ordered.colours),
    grown: kept.grown.map(landmark),
    lost: kept.lost.map(landmark),
    notes: [],
  };
  let matches: ClothsMatched['matches'] | undefined;
  if (cloths) {
    if (cloths.length < 2) throw new UserError('one-fabric', {}, 2);
    ({ shading, matches } = matchCloths(shading, cloths, again));
  }
  shading = withFigure(shading, shaded);
  const told = subject ?? hidden;
  const outline =
    told &&
    measureOutline(
      shading.labels,
      shading.fabrics.map((f) => f.colour),
      told.mask,
      w,
      h,
    );
  if (outline && outline.weak > WEAK_OUTLINE[background] && !options.groundLater)
    notes.push(
      `Along ${Math.round(100 * outline.weak)} % of its outline the animal is nearly as light or dark as its ground and may not show: ` +
        (background === 'plain' ? 'take a ground of another lightness.' : 'try a plain background.'),
    );
  if (!options.groundLater) notes.push(...shaded.notes);
  if (rare)
    notes.push(
      `${rare} ${rare === 1 ? 'shade' : 'shades'} of which there was too little to sew went to the nearest fabric.`,
    );
  if (kept.lost.length)
    notes.push(
      `${kept.lost.length} small ${kept.lost.length === 1 ? 'detail is' : 'details are'} lost: no fabric stands out there; try one more shade.`,
    );
  report?.(1);
  const focused = focusOn({ ...shading, notes: [...notes, ...shading.notes] }, options.focus);
  return {
    ...(likely && options.focus?.length !== 0 ? weighSubject(focused.shading, likely, faces) : focused.shading),
    kind,
    choices: {
      shades: { used: shading.fabrics.length, ...(shaded.suggested && { suggested: shaded.suggested }) },
      focus: focused.focus,
      ...(picture.source.sheet && { sheet: picture.source.sheet }),
      ...(faces.length > 0 && { faces }),
      ...(tone?.length && { tone }),
      ...(share !== undefined && { subject: share }),
      ...(outline && { outline }),
      ...(matches && { cloths: matches }),
      measures: judged.measures,
    },
  };
}

/** With the parts of a face that the labels hold, the strokes that they do not show, and the figure's axis. */
function withFigure(shading: Shading, { features, strokes, axis }: Shaded): Shading {
  const { width: w, height: h, labels } = shading;
  const cellsOf = (f: { outline: Feature['outline'] }): number[] => {
    const cells: number[] = [];
    eachCellIn(
      f.outline.map(([x, y]) => [x * w, y * h] as const),
      w,
      h,
      (i) => cells.push(i),
    );
    return cells;
  };
  const fabricOf = (index: number): number => {
    const pupils = new Set(features!.flatMap((f) => (f.within === index ? cellsOf(f) : [])));
    const counts = new Uint32Array(shading.fabrics.length);
    for (const i of cellsOf(features![index]!)) if (!pupils.has(i)) counts[labels[i]!]!++;
    return counts.indexOf(Math.max(...counts));
  };
  return {
    ...shading,
    ...(features?.length && { features: features.map((f, i) => ({ ...f, fabric: fabricOf(i) })) }),
    ...(strokes?.length && { strokes }),
    ...(axis !== undefined && { axis }),
  };
}

/** The one ground's colour once more, now that it is known which fabrics lie along the outline. */
function settleGround(
  labels: Uint8Array,
  colours: readonly Lab[],
  { ground, cells }: Pick<Shaded, 'ground' | 'cells'>,
  mask: Uint8Array,
): readonly Lab[] {
  const of = ground?.[0];
  if (of === undefined) return colours;
  const shown = new Float32Array(3 * labels.length);
  for (let i = 0; i < labels.length; i++) shown.set(colours[labels[i]!]!, 3 * i);
  const along = coloursAlong(mask, { ...cells, lab: shown }, colours).filter((_, l) => l !== of);
  const { colour } = chooseGround(colours[of]!, along);
  return colours.map((c, l) => (l === of ? colour : c));
}
