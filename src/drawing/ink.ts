// How much ink a drawing takes: the mean darkness of the whole sheet, white 0, all black 1.
import type { Drawing } from './drawing.ts';
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
