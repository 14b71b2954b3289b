// Stage 2. Takes a Picture, gives the grid of fabric labels that the block is fitted to, and the fabrics.
import type { Lab } from '../colour/oklab.ts';
import type { Landmark, Picture, Report, Shading } from '../data.ts';
import { averageCells, blurChannels, gridSize } from './cells.ts';
import { findKind, type Kind, type KindFound } from './find-kind.ts';
import { findBlobs } from './find-landmarks.ts';
import { findSubject, type Subject } from './find-subject.ts';
import { fitColours, VIEW_BLUR } from './fit-colours.ts';
import { judgePicture } from './judge-picture.ts';
import { keepLandmarks } from './keep-landmarks.ts';
import { mergeSpecks } from './label-cells.ts';
import { fabricsOf, orderShades } from './make-fabrics.ts';
import { mergeRareShades } from './merge-shades.ts';
import { type Lines, shadeDrawing } from './shade-drawing.ts';
import { shadeFlat } from './shade-flat.ts';
import { shadePhoto } from './shade-photo.ts';

export interface ShadeOptions {
  /** finished width and height, mm */
  readonly size: readonly [number, number];
  /** narrowest finished width of a piece, mm */
  readonly smallest: number;
  /** most fabrics, background included */
  readonly shades: number;
  readonly background: 'keep' | 'plain';
  readonly seed: number;
  /** cells along the longer side, 192 */
  readonly grid?: number;
  /** what the picture is; found by itself where absent */
  readonly kind?: Kind;
  /** what becomes of a drawing's strokes; decided by their width where absent */
  readonly lines?: Lines;
}

export interface ShadingFound extends Shading {
  /** what the picture was taken for, and why */
  readonly kind: KindFound;
}

/** Most eyes, noses and the like that are looked for. */
const MOST_LANDMARKS = 8;

/** The same picture, options and seed give the same shading. Throws when `report` throws (the work was cancelled). */
export async function shadePicture(picture: Picture, options: ShadeOptions, report?: Report): Promise<ShadingFound> {
  const [w, h] = gridSize(options.size, options.grid ?? 192);
  const narrow = (options.smallest * w) / options.size[0];
  const settings = { shades: Math.max(2, options.shades), seed: options.seed, narrow };
  const found = findKind(picture);
  const kind: KindFound =
    options.kind && options.kind !== found.kind ? { ...found, kind: options.kind, reason: 'as asked for' } : found;
  report?.(0.1);
  const plain = averageCells(picture.pixels, picture.width, picture.height, w, h);
  const notes: string[] = [...judgePicture(picture, kind.kind).notes];
  let subject: Subject | undefined;
  if (options.background === 'plain' && kind.kind === 'photo') {
    subject = await findSubject(picture, w, h);
    if (!subject)
      notes.push('No subject could be told from its background, so the background was kept; crop nearer to it.');
    report?.(0.5);
  }
  // a drawing's dots are found among its strokes; what is not the subject's goes with the background
  const blobs = (kind.kind === 'drawing' ? [] : findBlobs(plain, Math.max(2, narrow / 2), MOST_LANDMARKS)).filter(
    (b) => !subject || subject.mask[Math.min(h - 1, Math.floor(b.y)) * w + Math.min(w - 1, Math.floor(b.x))],
  );
  const shaded =
    (kind.kind === 'flat' && shadeFlat(picture, w, h, settings)) ||
    (kind.kind === 'drawing' && (await shadeDrawing(picture, w, h, settings, options.lines))) ||
    (await shadePhoto(picture, plain, blobs, settings, subject?.mask));
  report?.(0.7);
  const labels = Uint8Array.from(shaded.labels);
  const k = shaded.colours.length;
  const kept = keepLandmarks(labels, shaded.colours, w, h, blobs, narrow);
  shaded.hold?.forEach((v, i) => {
    if (v) kept.hold[i] = 1;
  });
  mergeSpecks(labels, shaded.costs, w, h, k, { least: 0.25 * narrow ** 2, wanted: 0 }, kept.hold);
  const rare = mergeRareShades(labels, shaded.colours, shaded.costs, w, h, kept.hold);
  let colours: readonly Lab[] = shaded.colours;
  if (kind.kind === 'photo')
    colours = fitColours(
      labels,
      { ...shaded.cells, lab: blurChannels(shaded.cells.lab, w, h, 3, VIEW_BLUR) },
      colours,
      colours.map((_, l) => l === shaded.ground),
    );
  const ordered = orderShades(labels, colours);
  const landmark = (m: { blob: { x: number; y: number; radius: number }; label: number }): Landmark => ({
    at: [m.blob.x / w, m.blob.y / h],
    area: (Math.PI * m.blob.radius ** 2) / (w * h),
    fabric: Math.max(0, ordered.order[m.label] ?? 0),
  });
  notes.push(...shaded.notes);
  if (rare)
    notes.push(
      `${rare} ${rare === 1 ? 'shade' : 'shades'} of which there was too little to sew went to the nearest fabric.`,
    );
  if (kept.lost.length)
    notes.push(
      `${kept.lost.length} small ${kept.lost.length === 1 ? 'detail is' : 'details are'} lost: no fabric stands out there; try one more shade.`,
    );
  report?.(1);
  return {
    width: w,
    height: h,
    labels: ordered.labels,
    fabrics: fabricsOf(ordered.colours),
    grown: kept.grown.map(landmark),
    lost: kept.lost.map(landmark),
    notes,
    kind,
  };
}
