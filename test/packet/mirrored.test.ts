// What is sewn on the printed side must come out the right way round: looked at as pixels.
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { expect, test } from 'vitest';
import { writePdf } from '../../src/drawing/pdf.ts';
import { drawPixels } from '../../src/drawing/png.ts';
import { drawPreview } from '../../src/packet/block-picture.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { inches } from '../../src/units.ts';
import { greatest } from '../extremes.ts';
import { letterF } from './blocks.ts';
import { sewingLines } from './judge-packet.ts';
import { readPdf } from './read-back.ts';

/** Grey values of a picture, cut to a box and brought to n x n cells. */
type Grey = number[];
function greyCells(
  image: { width: number; height: number; pixels: Uint8Array },
  box: [number, number, number, number],
  n: number,
): Grey {
  const out: Grey = [];
  for (let r = 0; r < n; r++)
    for (let c = 0; c < n; c++) {
      const x = Math.floor(box[0] + ((c + 0.5) / n) * (box[2] - box[0]));
      const y = Math.floor(box[1] + ((r + 0.5) / n) * (box[3] - box[1]));
      const at = 4 * (y * image.width + x);
      out.push((image.pixels[at]! + image.pixels[at + 1]! + image.pixels[at + 2]!) / 3);
    }
  return out;
}
const turned = (g: Grey, n: number): Grey => g.map((_, i) => g[(n - 1 - (i % n)) * n + Math.floor(i / n)]!);
const mirrored = (g: Grey, n: number): Grey => g.map((_, i) => g[Math.floor(i / n) * n + (n - 1 - (i % n))]!);
const likeness = (a: Grey, b: Grey): number => {
  // dark fabrics are printed pale enough for black words: no darker than a grey of about 150
  const dark = (v: number): boolean => v < 200;
  return a.filter((v, i) => dark(v) === dark(b[i]!)).length / a.length;
};

test('a face that reads F is printed as its mirror image, and never the right way round', async () => {
  const block = letterF();
  const sheets = layOutTemplates(block, {
    paper: 'letter',
    margin: inches(3 / 8),
    allowance: inches(1 / 4),
    system: 'inch',
    fill: 'colour',
  });
  const pdf = await writePdf(sheets.sheets, { title: 'F' });
  const { pages } = await readPdf(pdf);
  const ring = sewingLines(pages[0]!)[0]!.rings[0]!;
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(Buffer.from(pdf));
  const rendered = await document.getPage(0).render({ scale: 1, render: 'bitmap' });
  const xs = ring.map((q) => q[0]);
  const ys = ring.map((q) => rendered.height - q[1]);
  const page = { width: rendered.width, height: rendered.height, pixels: rendered.data };
  const n = 40;
  const printed = greyCells(page, [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)], n);
  document.destroy();
  library.destroy();
  const face = drawPixels(drawPreview(block), 60);
  let right = greyCells(face, [0, 0, face.width, face.height], n);
  const straight: number[] = [];
  const reversed: number[] = [];
  for (let k = 0; k < 4; k++) {
    straight.push(likeness(printed, right));
    reversed.push(likeness(printed, mirrored(right, n)));
    right = turned(right, n);
  }
  expect(greatest(reversed)).toBeGreaterThan(0.93);
  expect(greatest(straight)).toBeLessThan(0.85);
});
