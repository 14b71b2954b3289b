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

/** PNG file of the drawing on white. It says its resolution, so that programs print it at its size. */
export const writePng = (drawing: Drawing, dpi: number): Uint8Array =>
  withResolution(new Uint8Array(render(drawing, dpi).asPng()), dpi);

/** bytes of the signature and the header chunk, which comes first (PNG, 3rd edition, 5.6) */
const AFTER_HEADER = 8 + 25;
const METRE = 1;

/** The file with a pHYs chunk after its header: pixels per metre, both ways (PNG, 3rd edition, 11.3.4.3). */
function withResolution(png: Uint8Array, dpi: number): Uint8Array {
  const perMetre = Math.round(dpi / 0.0254);
  const chunk = new Uint8Array(21);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, 9);
  chunk.set(new TextEncoder().encode('pHYs'), 4);
  view.setUint32(8, perMetre);
  view.setUint32(12, perMetre);
  chunk[16] = METRE;
  view.setUint32(17, checksum(chunk.subarray(4, 17)));
  const out = new Uint8Array(png.length + chunk.length);
  out.set(png.subarray(0, AFTER_HEADER));
  out.set(chunk, AFTER_HEADER);
  out.set(png.subarray(AFTER_HEADER), AFTER_HEADER + chunk.length);
  return out;
}

/** CRC-32 as PNG has it (annex D), bit by bit: for a few bytes. */
function checksum(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const b of bytes) {
    crc ^= b;
    for (let k = 0; k < 8; k++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}

/** The drawing's pixels on white, for measuring. */
export function drawPixels(drawing: Drawing, dpi: number): Pixels {
  const image = render(drawing, dpi);
  return { width: image.width, height: image.height, pixels: new Uint8Array(image.pixels) };
}
