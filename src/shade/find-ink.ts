// Tells ink from paper under uneven light. Takes a Picture, gives for each pixel how dark it is against the paper around it.
import { oklabLightness } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { blurChannels } from './cells.ts';

/** Tiles (of 48 along the longer side) within which paper does not fall to less than this share of its lightness. */
const REACH = 10;
const FALL = 0.6;

/** How dark each pixel is against the paper around it: 0 paper, 1 black. Light that falls off and shadows go with the paper. */
export function inkOf(picture: Pick<Picture, 'width' | 'height' | 'pixels'>): Float32Array {
  const { width, height, pixels } = picture;
  const n = width * height;
  const grey = new Float32Array(n);
  for (let i = 0; i < n; i++) grey[i] = oklabLightness(pixels[3 * i]!, pixels[3 * i + 1]!, pixels[3 * i + 2]!);
  const tile = Math.max(8, Math.round(Math.max(width, height) / 48));
  const [tw, th] = [Math.ceil(width / tile), Math.ceil(height / tile)];
  const paper = new Float32Array(tw * th);
  const values = new Float32Array(Math.max(81, tile * tile));
  for (let ty = 0; ty < th; ty++)
    for (let tx = 0; tx < tw; tx++) {
      let m = 0;
      for (let y = ty * tile; y < Math.min(height, (ty + 1) * tile); y += 2)
        for (let x = tx * tile; x < Math.min(width, (tx + 1) * tile); x += 2) values[m++] = grey[y * width + x]!;
      paper[ty * tw + tx] = values.subarray(0, m).sort()[Math.floor(m * 0.8)]!;
    }
  // ink fills whole tiles: paper is the light that most tiles around agree on
  const level = new Float32Array(tw * th);
  for (let ty = 0; ty < th; ty++)
    for (let tx = 0; tx < tw; tx++) {
      let m = 0;
      for (let y = Math.max(0, ty - 4); y <= Math.min(th - 1, ty + 4); y++)
        for (let x = Math.max(0, tx - 4); x <= Math.min(tw - 1, tx + 4); x++) values[m++] = paper[y * tw + x]!;
      level[ty * tw + tx] = Math.max(paper[ty * tw + tx]!, values.subarray(0, m).sort()[Math.floor(m * 0.7)]!);
    }
  // inside a mass of ink no tile knows the paper: light does not fall off so fast, so the lightest not far off says what it is
  const lightest = (from: Float32Array, along: number, tiles: number): Float32Array =>
    from.map((_, i) => {
      const at = Math.floor(i / along) % tiles;
      let most = 0;
      for (let d = -Math.min(REACH, at); d <= Math.min(REACH, tiles - 1 - at); d++)
        most = Math.max(most, from[i + d * along]!);
      return most;
    });
  const near = lightest(lightest(level, 1, tw), tw, th);
  for (let i = 0; i < level.length; i++) if (level[i]! < FALL * near[i]!) level[i] = near[i]!;
  const smooth = blurChannels(level, tw, th, 1, 1);
  const ink = new Float32Array(n);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const u = Math.max(0, Math.min(tw - 1, x / tile - 0.5));
      const v = Math.max(0, Math.min(th - 1, y / tile - 0.5));
      const u0 = Math.floor(u);
      const v0 = Math.floor(v);
      const u1 = Math.min(tw - 1, u0 + 1);
      const v1 = Math.min(th - 1, v0 + 1);
      const fu = u - u0;
      const fv = v - v0;
      const p =
        (1 - fv) * ((1 - fu) * smooth[v0 * tw + u0]! + fu * smooth[v0 * tw + u1]!) +
        fv * ((1 - fu) * smooth[v1 * tw + u0]! + fu * smooth[v1 * tw + u1]!);
      ink[y * width + x] = Math.max(0, Math.min(1, 1 - grey[y * width + x]! / Math.max(0.05, p)));
    }
  return ink;
}

/** The level that parts a list of values 0..1 in two most evenly (Otsu 1979). */
export function otsuLevel(values: Float32Array): number {
  const counts = new Float64Array(256);
  for (const v of values) counts[Math.min(255, Math.floor(v * 256))]!++;
  let sum = 0;
  for (let t = 0; t < 256; t++) sum += t * counts[t]!;
  let [below, weight, best, at] = [0, 0, -1, 0];
  for (let t = 0; t < 255; t++) {
    weight += counts[t]!;
    below += t * counts[t]!;
    if (!weight || weight === values.length) continue;
    const apart = below / weight - (sum - below) / (values.length - weight);
    const between = weight * (values.length - weight) * apart * apart;
    if (between > best) {
      best = between;
      at = t;
    }
  }
  return (at + 1) / 256;
}
