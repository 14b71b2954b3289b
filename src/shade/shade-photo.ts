// Shades a photo: edges kept, fur and noise calmed, colours clustered in OKLab with what stands out weighed more.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { type Lab, labDistance } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { averageCells, blurChannels, type Cells, shrinkPixels } from './cells.ts';
import { chooseGround, type GroundColour } from './choose-ground.ts';
import type { Blob } from './find-landmarks.ts';
import { fitColours, VIEW_BLUR } from './fit-colours.ts';
import { calmLabels, cheapestLabels, costsOf, dropThin, mergeSpecks } from './label-cells.ts';
import { smoothKeepingEdges } from './opencv.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';
import { shiftBorders } from './shift-borders.ts';

/** OKLab cost of one cell's length of border. */
const CALM = 0.02;
/** Share of all weight in clustering that small striking things get together: enough for a shade near to theirs. */
const BLOB_SHARE = 0.015;

/** Share of what a small thing stands out by, over which a shade is too far from it to show it. */
const MISSED = 0.6;
/** OKLab cost of showing the ground's fabric inside the subject. */
const NOT_GROUND = 0.15;
/** OKLab² price of one cell's length of border while borders are shifted. */
const SHIFT_PRICE = 0.004;

/** Cells of a photo with fur, grass and noise smoothed away and edges kept: bilateral filter at two pixels a cell. */
export async function calmCells(picture: Picture, w: number, h: number): Promise<Cells> {
  const [W, H] = [2 * w, 2 * h];
  const small = shrinkPixels(picture.pixels, picture.width, picture.height, W, H);
  const smooth = await smoothKeepingEdges(small, W, H, { reach: 2, colours: 20 });
  const cells = averageCells(smooth, W, H, w, h);
  return { ...cells, lab: blurChannels(cells.lab, w, h, 3, 0.6) };
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

/** What the background becomes where it is to be one fabric. */
interface PlainGround extends GroundColour {
  readonly mask: Uint8Array;
}

/** The ground's colour, from the fabrics that the subject shows along its outline. */
function groundFor(mask: Uint8Array, cells: Cells, shades: number, seed: number): PlainGround {
  const { width: w, height: h, lab } = cells;
  const inside = Float32Array.from(mask);
  const outside = Float32Array.from(mask, (v) => 1 - v);
  const own = clusterColours(gatherColours(lab, outside), 1, seed)[0] ?? [0.9, 0, 0];
  const colours = clusterColours(gatherColours(lab, inside), Math.max(1, shades - 1), seed);
  const shares = colours.map(() => 0);
  let total = 0;
  for (let i = 0; i < w * h; i++) {
    const x = i % w;
    const rim =
      mask[i] &&
      ((x > 1 && !mask[i - 2]) ||
        (x < w - 2 && !mask[i + 2]) ||
        (i >= 2 * w && !mask[i - 2 * w]) ||
        (i < w * (h - 2) && !mask[i + 2 * w]));
    if (!rim) continue;
    const of = (c: Lab): number => Math.hypot(lab[3 * i]! - c[0], lab[3 * i + 1]! - c[1], lab[3 * i + 2]! - c[2]);
    const l = colours.reduce((b, c, j) => (of(c) < of(colours[b]!) ? j : b), 0);
    shares[l]!++;
    total++;
  }
  const along = colours.map((colour, l) => ({ colour, share: shares[l]! / Math.max(1, total) }));
  return { mask, ...chooseGround(own, along) };
}

/** `plain` are the picture's cells as they are; `subject` is 1 where the background is not, when that is to be one fabric. */
export async function shadePhoto(
  picture: Picture,
  plain: Cells,
  blobs: readonly Blob[],
  { shades, seed, narrow }: ShadeSettings,
  subject?: Uint8Array,
): Promise<Shaded> {
  const { width: w, height: h } = plain;
  const notes: string[] = [];
  let calm = await calmCells(picture, w, h);
  let bare = plain;
  let fixed: Lab[] = [];
  const ground = subject && groundFor(subject, calm, shades, seed);
  if (ground) {
    const lay = (cells: Cells): Cells => {
      const lab = Float32Array.from(cells.lab);
      for (let i = 0; i < w * h; i++) if (!ground.mask[i]) lab.set(ground.colour, 3 * i);
      return { ...cells, lab };
    };
    calm = lay(calm);
    bare = lay(plain);
    fixed = [ground.colour];
    if (ground.moved)
      notes.push("The ground's fabric is not the picture's own background: the outline would not have shown on that.");
    if (ground.gap < 20)
      notes.push('Parts of the outline hardly show on any one ground; a narrow border or another ground may help.');
  }
  const seen: Cells = { ...bare, lab: blurChannels(bare.lab, w, h, 3, VIEW_BLUR) };
  const weights = weighBlobs(blobs, w, h);
  if (ground) for (let i = 0; i < w * h; i++) if (!ground.mask[i]) weights[i] = 0;
  const cloud = gatherColours(seen.lab, weights);
  let colours = clusterColours(cloud, shades, seed, fixed);
  const reserved = colourMissed(blobs, colours);
  if (reserved && shades > fixed.length + 1) colours = clusterColours(cloud, shades, seed, [...fixed, reserved]);
  const k = colours.length;
  const costs = costsOf(calm, colours);
  if (ground) for (let i = 0; i < w * h; i++) if (ground.mask[i]) costs[i * k]! += NOT_GROUND;
  const labels = cheapestLabels(costs, k);
  calmLabels(labels, costs, w, h, k, CALM);
  const rule = { least: Math.max(4, 0.25 * narrow ** 2), wanted: Math.max(6, 0.375 * narrow ** 2) };
  const clean = (): void => {
    mergeSpecks(labels, costs, w, h, k, { least: rule.least / 2, wanted: rule.wanted / 2 });
    dropThin(labels, costs, w, h, k, Math.max(2, Math.round(0.375 * narrow)));
    mergeSpecks(labels, costs, w, h, k, rule);
  };
  clean();
  for (let round = 0; round < 2; round++) {
    colours = fitColours(labels, seen, colours, [Boolean(ground)]);
    shiftBorders(labels, colours, seen, SHIFT_PRICE);
    clean();
  }
  return { labels, colours, costs, cells: bare, notes, ...(ground && { ground: 0 }) };
}
