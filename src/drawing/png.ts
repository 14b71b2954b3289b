// A Drawing -> PNG pixels at a given resolution, by way of its SVG, with the bundled font.
import { Resvg } from '@resvg/resvg-js';
import type { Drawing, Item } from './drawing.ts';
import { fontPath } from './font-files.ts';
import { FACES, FONT_FAMILY } from './fonts.ts';
import { writeSvg } from './svg.ts';

export interface Pixels {
  readonly width: number;
  readonly height: number;
  /** width x height x 4, RGBA */
  readonly pixels: Uint8Array;
}

const hasWords = (items: readonly Item[]): boolean =>
  items.some((it) => it.kind === 'text' || ('items' in it && hasWords(it.items)));

function render(drawing: Drawing, dpi: number) {
  const width = Math.max(1, Math.round((drawing.width / 25.4) * dpi));
  return new Resvg(writeSvg(drawing), {
    background: '#ffffff',
    fitTo: { mode: 'width', value: width },
    font: {
      loadSystemFonts: false,
      // opening them takes longer than drawing a block's face, which has no words
      fontFiles: hasWords(drawing.items) ? FACES.map((f) => fontPath(f)) : [],
      defaultFontFamily: FONT_FAMILY,
    },
  }).render();
}

/** PNG file of the drawing on white. */
export const writePng = (drawing: Drawing, dpi: number): Uint8Array => new Uint8Array(render(drawing, dpi).asPng());

/** The drawing's pixels on white, for measuring. */
export function drawPixels(drawing: Drawing, dpi: number): Pixels {
  const image = render(drawing, dpi);
  return { width: image.width, height: image.height, pixels: new Uint8Array(image.pixels) };
}
