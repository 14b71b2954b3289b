// How much ink a drawing takes: the mean darkness of the whole sheet, white 0, all black 1.
import { areaOf, distance } from '../geometry/polygon.ts';
import { BLACK, type Drawing, type Item, walkItems } from './drawing.ts';
import { drawPixels } from './png.ts';

/** Mean coverage of several sheets together; measured on pixels, for overlaps and clips count once. */
export function inkCoverage(drawings: readonly Drawing[], dpi = 96): number {
  let [dark, area] = [0, 0];
  for (const d of drawings) {
    const { pixels } = drawPixels(d, dpi);
    let sum = 0;
    for (let i = 0; i < pixels.length; i += 4) sum += 765 - pixels[i]! - pixels[i + 1]! - pixels[i + 2]!;
    dark += (sum / 765 / (pixels.length / 4)) * d.width * d.height;
    area += d.width * d.height;
  }
  return area ? dark / area : 0;
}

/** 0 white, 1 black: the mean of the three channels, as for `inkCoverage`. */
const darkness = (colour = BLACK): number => {
  const n = Number.parseInt(colour.slice(1), 16);
  return 1 - ((n >> 16) + ((n >> 8) & 255) + (n & 255)) / 765;
};

/** Square millimetres of full black that hatches and fills come to, reckoned from the description; nothing may overlap. */
export function inkOfFills(items: readonly Item[]): number {
  let sum = 0;
  for (const it of walkItems(items)) {
    if (it.kind !== 'path' || (it.role !== 'hatch' && it.role !== 'fill')) continue;
    if (it.fill) sum += darkness(it.fill) * it.rings.reduce((t, r) => t + areaOf(r), 0);
    if (it.stroke && !it.closed)
      for (const line of it.rings)
        for (let i = 1; i < line.length; i++)
          sum += darkness(it.stroke.colour) * it.stroke.width * distance(line[i - 1]!, line[i]!);
  }
  return sum;
}
