// Shades a photo: edges kept, fur and noise calmed, colours clustered in OKLab with what stands out weighed more.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { type Lab, labDistance } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { calmGround, plainGround } from './calm-ground.ts';
import { averageCells, blurChannels, type Cells, shrinkPixels } from './cells.ts';
import { type Face, inFaces } from './find-faces.ts';
import type { Blob } from './find-landmarks.ts';
import { unlikeFrame } from './find-subject.ts';
import { fitColours, VIEW_BLUR } from './fit-colours.ts';
import { calmLabels, cheapestLabels, costsOf, dropThin, mergeSpecks } from './label-cells.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';
import { shiftBorders } from './shift-borders.ts';
import { smoothEdges } from './smooth-edges.ts';
import { MOST_SUGGESTED, suggestShades } from './suggest-shades.ts';

/** OKLab cost of one cell's length of border. */
const CALM = 0.02;
/** Share of all weight in clustering that small striking things get together: enough for a shade near to theirs. */
const BLOB_SHARE = 0.015;

/** Share of what a small thing stands out by, over which a shade is too far from it to show it. */
const MISSED = 0.6;
/** OKLab cost of showing the ground's fabric inside the subject. */
const NOT_GROUND = 0.15;
/** The same where the ground keeps shades of its own. */
const MAYBE_GROUND = 0.05;
/** OKLab² price of one cell's length of border while borders are shifted. */
const SHIFT_PRICE = 0.004;

/** How much larger and wider a region must be where borders are dearer: by each time that they are. */
const MASSES = { area: 0.625, width: 0.7, most: 3 } as const;

/** How much more a cell counts in choosing shades that is wholly unlike the picture's frame, and that lies in its middle. */
const LEAN = 8;
const LEAN_MIDDLE = 8;
/** What the network's glimpse says of that, where there is one, as a share: more of it costs the whole picture its colours. */
const GLIMPSED = 0.25;
/** How much longer a border may be for as much likeness where the subject is likely: detail goes to the animal. */
const DETAIL = 3;

/** Share of all weight in choosing shades that faces get together at least, for eyes, nose and muzzle are to contrast; and how
 *  much longer a border in them may be for as much likeness. Less where the ground is kept: it needs its shades too. */
const FACE = { cut: { share: 0.35, detail: 2 }, kept: { share: 0.15, detail: 1 } } as const;

/** What is known of the photo beyond its pixels. */
export interface KnownOfPhoto {
  /** 1 where the subject is, where the background is not kept */
  readonly mask?: Uint8Array;
  /** how likely each cell is the subject's, 0..1, where the background is kept */
  readonly likely?: Float32Array;
  readonly faces?: readonly Face[];
  /** how much each cell matters */
  readonly focus?: Float32Array;
  /** what calmCells gives */
  readonly smoothed?: Cells;
}

/** Cells of a photo with fur, grass and noise smoothed away and edges kept, at two pixels a cell. */
export function calmCells(picture: Picture, w: number, h: number): Cells {
  const [W, H] = [2 * w, 2 * h];
  const small = shrinkPixels(picture.pixels, picture.width, picture.height, W, H);
  const smooth = smoothEdges(small, W, H, 2, 20);
  const cells = averageCells(smooth, W, H, w, h);
  return { ...cells, lab: blurChannels(cells.lab, w, h, 3, 0.6) };
}

/** How much each cell counts in choosing shades where nobody has said what the subject is. */
function leanTo(unlike: Float32Array, w: number, h: number): Float32Array {
  return unlike.map((v, i) => {
    const u = (i % w) / w - 0.5;
    const y = Math.floor(i / w) / h - 0.52;
    return 1 + LEAN * v + LEAN_MIDDLE * Math.exp(-(u * u + y * y) / 0.06);
  });
}

/** How much likeness counts against calm borders in each cell, 1 in the mean. */
function detailOf(likely: Float32Array): Float32Array {
  const mean = 1 + (DETAIL * likely.reduce((t, v) => t + v, 0)) / likely.length;
  return likely.map((v) => (1 + DETAIL * v) / mean);
}

/** `base` with likeness in faces worth more, 1 in the mean of all cells. */
function detailInFaces(face: Float32Array, detail: number, base?: Float32Array): Float32Array {
  const more = face.map((f, i) => (base?.[i] ?? 1) * (1 + detail * f));
  const mean = more.reduce((t, v) => t + v, 0) / more.length;
  return more.map((v) => v / mean);
}

/** Raises weights in faces until they have `share` of the whole. */
function raiseFaces(weights: Float32Array, face: Float32Array, share: number): void {
  let [all, own] = [0, 0];
  for (let i = 0; i < weights.length; i++) {
    all += weights[i]!;
    own += weights[i]! * face[i]!;
  }
  const more = own > 0 ? Math.max(0, (share * all - own) / ((1 - share) * own)) : 0;
  for (let i = 0; i < weights.length; i++) weights[i]! *= 1 + more * face[i]!;
}

/** Weights for clustering under which small striking things get a shade near to their own. */
function weighBlobs(blobs: readonly Blob[], w: number, h: number): Float32Array {
  const weights = new Float32Array(w * h).fill(1);
  const boost = blobs.length ? (BLOB_SHARE * w * h) / blobs.reduce((t, b) => t + Math.PI * b.radius ** 2, 0) : 0;
  for (const b of blobs)
    for (let y = Math.max(0, Math.floor(b.y - b.radius)); y < Math.min(h, b.y + b.radius); y++)
      for (let x = Math.max(0, Math.floor(b.x - b.radius)); x < Math.min(w, b.x + b.radius); x++)
        if (Math.hypot(x + 0.5 - b.x, y + 0.5 - b.y) <= b.radius) weights[y * w + x]! += boost;
  return weights;
}

/** The mean colour of striking small things that no shade comes near to: it gets a shade of its own. */
export function colourMissed(blobs: readonly Blob[], colours: readonly Lab[]): Lab | undefined {
  const missed = blobs.filter((b) => colours.every((c) => labDistance(c, b.colour) > MISSED * b.stands));
  if (!missed.length) return undefined;
  const first = missed[0]!;
  const alike = missed.filter((b) => labDistance(b.colour, first.colour) < 0.15);
  return [0, 1, 2].map((c) => alike.reduce((t, b) => t + b.colour[c]!, 0) / alike.length) as unknown as Lab;
}

/** `plain` are the picture's cells as they are. */
export function shadePhoto(
  picture: Picture,
  plain: Cells,
  blobs: readonly Blob[],
  { shades: wanted, most: cap = MOST_SUGGESTED, seed, narrow, background, calmer = 1 }: ShadeSettings,
  { mask, likely, faces = [], focus, smoothed }: KnownOfPhoto = {},
): Shaded {
  const { width: w, height: h } = plain;
  const n = w * h;
  const notes: string[] = [];
  let calm = smoothed ?? calmCells(picture, w, h);
  let bare = plain;
  const most = wanted === 'auto' ? cap : wanted;
  const ground =
    mask && (background === 'calm' ? calmGround(mask, calm, most, seed, narrow) : plainGround(mask, calm, most, seed));
  const grounds = ground?.colours.length ?? 0;
  const fixed: Lab[] = [...(ground?.colours ?? [])];
  if (ground) {
    const lay = (cells: Cells): Cells => {
      const lab = Float32Array.from(cells.lab);
      for (let i = 0; i < n; i++) if (!ground.mask[i]) lab.set(fixed[ground.labels[i]!]!, 3 * i);
      return { ...cells, lab };
    };
    calm = lay(calm);
    bare = lay(plain);
    if (ground.moved)
      notes.push("The ground's fabric is not the picture's own background: the outline would not have shown on that.");
  }
  const seen: Cells = { ...bare, lab: blurChannels(bare.lab, w, h, 3, VIEW_BLUR) };
  const weights = weighBlobs(blobs, w, h);
  // where the subject is not known, what is unlike the frame is likely to be it: shades go where the eye needs them
  const unlike = ground ? undefined : unlikeFrame(plain.lab, w, h);
  const shown = likely ? unlike?.map((v, i) => v + GLIMPSED * (likely[i]! - v)) : unlike;
  const lean = shown && leanTo(shown, w, h);
  const face = inFaces(faces, w, h);
  const even = unlike && detailOf(likely ?? unlike);
  const faceRule = ground ? FACE.cut : FACE.kept;
  const detail = face ? detailInFaces(face, faceRule.detail, even) : even;
  const matters = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    matters[i] = (focus?.[i] ?? 1) * (lean?.[i] ?? 1);
    weights[i] = ground && !ground.mask[i] ? 0 : weights[i]! * matters[i]!;
  }
  if (face) {
    raiseFaces(weights, face, faceRule.share);
    raiseFaces(matters, face, faceRule.share);
  }
  const cloud = gatherColours(seen.lab, weights);
  const suggested = wanted === 'auto' ? Math.min(cap, suggestShades(cloud, seed, grounds)) : undefined;
  const shades = wanted === 'auto' ? suggested! : wanted;
  let colours = clusterColours(cloud, shades, seed, fixed);
  const reserved = colourMissed(blobs, colours);
  if (reserved && shades > grounds + 1) colours = clusterColours(cloud, shades, seed, [...fixed, reserved]);
  const k = colours.length;
  const costs = costsOf(calm, colours, detail);
  const hold = new Uint8Array(n);
  if (ground)
    for (let i = 0; i < n; i++) {
      hold[i] = ground.mask[i] ? 0 : 1;
      // the subject may show a ground's shade where that is much nearer; the ground keeps to its own
      for (let l = 0; l < k; l++)
        costs[i * k + l]! += ground.mask[i]
          ? l < grounds
            ? background === 'calm'
              ? MAYBE_GROUND
              : NOT_GROUND
            : 0
          : l === ground.labels[i]
            ? 0
            : NOT_GROUND;
    }
  const labels = cheapestLabels(costs, k);
  calmLabels(labels, costs, w, h, k, calmer * CALM);
  // in large masses nothing is kept that one or two pieces cannot show
  const [area, width] =
    calmer > 1 ? [MASSES.area * calmer, Math.min(MASSES.most, MASSES.width * Math.sqrt(calmer))] : [1, 1];
  const rule = { least: Math.max(4, 0.25 * area * narrow ** 2), wanted: Math.max(6, 0.375 * area * narrow ** 2) };
  const clean = (): void => {
    mergeSpecks(labels, costs, w, h, k, { least: rule.least / 2, wanted: rule.wanted / 2 });
    dropThin(labels, costs, w, h, k, Math.max(2, Math.round(0.375 * width * narrow)));
    mergeSpecks(labels, costs, w, h, k, rule);
  };
  clean();
  const given = colours.map((_, l) => l < grounds);
  for (let round = 0; round < 2; round++) {
    colours = fitColours(labels, seen, colours, given, matters);
    shiftBorders(
      labels,
      colours,
      seen,
      calmer * SHIFT_PRICE,
      ground && background === 'calm' ? hold : undefined,
      detail,
    );
    clean();
  }
  return {
    ...{ labels, colours, costs, cells: bare, notes, matters },
    ...(ground && { ground: fixed.map((_, l) => l) }),
    ...(suggested && { suggested }),
  };
}
