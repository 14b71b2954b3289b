// Shades a photo: edges kept, fur and noise calmed, colours clustered in OKLab with what stands out weighed more.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import type { Picture } from '../data.ts';
import { averageCells, averagePixels, blurChannels, type Cells } from './cells.ts';
import type { Blob } from './find-landmarks.ts';
import { calmLabels, cheapestLabels, costsOf, dropThin, mergeSpecks } from './label-cells.ts';
import { smoothKeepingEdges } from './opencv.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';

/** OKLab cost of one cell's length of border. */
const CALM = 0.02;
/** Share of all weight in clustering that small striking things get together: enough for a shade near to theirs. */
const BLOB_SHARE = 0.05;

/** Cells of a photo with fur, grass and noise smoothed away and edges kept: bilateral filter at two pixels a cell. */
export async function calmCells(picture: Picture, w: number, h: number): Promise<Cells> {
  const [W, H] = [2 * w, 2 * h];
  const small = Uint8Array.from(averagePixels(picture.pixels, picture.width, picture.height, W, H), Math.round);
  const smooth = await smoothKeepingEdges(small, W, H, { reach: 2, colours: 28 });
  return averageCells(smooth, W, H, w, h);
}

export async function shadePhoto(
  picture: Picture,
  w: number,
  h: number,
  blobs: readonly Blob[],
  { shades, seed, narrow }: ShadeSettings,
): Promise<Shaded> {
  const cells = await calmCells(picture, w, h);
  const seen: Cells = { ...cells, lab: blurChannels(cells.lab, w, h, 3, 1.2) };
  const weights = new Float32Array(w * h).fill(1);
  const boost = blobs.length ? (BLOB_SHARE * w * h) / blobs.reduce((t, b) => t + Math.PI * b.radius ** 2, 0) : 0;
  for (const b of blobs)
    for (let y = Math.floor(b.y - b.radius); y <= b.y + b.radius; y++)
      for (let x = Math.floor(b.x - b.radius); x <= b.x + b.radius; x++)
        if (x >= 0 && y >= 0 && x < w && y < h && Math.hypot(x + 0.5 - b.x, y + 0.5 - b.y) <= b.radius)
          weights[y * w + x]! += boost;
  const colours = clusterColours(gatherColours(seen.lab, weights), shades, seed);
  const k = colours.length;
  const costs = costsOf(cells, colours);
  const labels = cheapestLabels(costs, k);
  calmLabels(labels, costs, w, h, k, CALM);
  const rule = { least: Math.max(4, 0.25 * narrow ** 2), wanted: Math.max(6, 0.375 * narrow ** 2) };
  mergeSpecks(labels, costs, w, h, k, { least: rule.least / 2, wanted: rule.wanted / 2 });
  dropThin(labels, costs, w, h, k, Math.max(2, Math.round(0.375 * narrow)));
  mergeSpecks(labels, costs, w, h, k, rule);
  return { labels, colours, costs, cells: seen, notes: [] };
}
