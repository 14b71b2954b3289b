// Shades a photo: edges kept, fur and noise calmed, colours clustered in OKLab with what stands out weighed more.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import type { Picture } from '../data.ts';
import { averageCells, averagePixels, blurChannels, type Cells } from './cells.ts';
import type { Blob } from './find-landmarks.ts';
import { fitColours, VIEW_BLUR } from './fit-colours.ts';
import { calmLabels, cheapestLabels, costsOf, dropThin, mergeSpecks } from './label-cells.ts';
import { smoothKeepingEdges } from './opencv.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';
import { shiftBorders } from './shift-borders.ts';

/** OKLab cost of one cell's length of border. */
const CALM = 0.02;
/** Share of all weight in clustering that small striking things get together: enough for a shade near to theirs. */
const BLOB_SHARE = 0.05;

/** OKLab² price of one cell's length of border while borders are shifted. */
const SHIFT_PRICE = 0.004;

/** Cells of a photo with fur, grass and noise smoothed away and edges kept: bilateral filter at two pixels a cell. */
export async function calmCells(picture: Picture, w: number, h: number): Promise<Cells> {
  const [W, H] = [2 * w, 2 * h];
  const small = Uint8Array.from(averagePixels(picture.pixels, picture.width, picture.height, W, H), Math.round);
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

/** `plain` are the picture's cells as they are. */
export async function shadePhoto(
  picture: Picture,
  plain: Cells,
  blobs: readonly Blob[],
  { shades, seed, narrow }: ShadeSettings,
): Promise<Shaded> {
  const { width: w, height: h } = plain;
  const calm = await calmCells(picture, w, h);
  const seen: Cells = { ...plain, lab: blurChannels(plain.lab, w, h, 3, VIEW_BLUR) };
  let colours = clusterColours(gatherColours(seen.lab, weighBlobs(blobs, w, h)), shades, seed);
  const k = colours.length;
  const costs = costsOf(calm, colours);
  const labels = cheapestLabels(costs, k);
  calmLabels(labels, costs, w, h, k, CALM);
  const rule = { least: Math.max(4, 0.25 * narrow ** 2), wanted: Math.max(6, 0.375 * narrow ** 2) };
  const clean = (): void => {
    mergeSpecks(labels, costs, w, h, k, { least: rule.least / 2, wanted: rule.wanted / 2 });
    dropThin(labels, costs, w, h, k, Math.max(2, Math.round(0.375 * narrow)));
    mergeSpecks(labels, costs, w, h, k, rule);
  };
  clean();
  colours = fitColours(labels, seen, colours);
  shiftBorders(labels, colours, seen, SHIFT_PRICE);
  clean();
  return { labels, colours, costs, cells: seen, notes: [] };
}
