// True size, measured on the rendered page: 600 dots an inch, so a dot is 0.042 mm.
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { beforeAll, describe, expect, test } from 'vitest';
import { writePdf } from '../../src/drawing/pdf.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { inches } from '../../src/units.ts';
import { letterF } from './blocks.ts';

const DPI = 600;
const MM = 25.4 / DPI;

interface Line {
  /** mm across the page, middle of the line */
  readonly at: number;
  /** mm */
  readonly width: number;
  /** mm of unbroken dark along it */
  readonly length: number;
}

/** Straight lines along one axis: rows or columns with an unbroken dark run of at least `least` mm. */
function longLines(dark: Uint8Array, w: number, h: number, axis: 'x' | 'y', least: number): Line[] {
  const [n, m] = axis === 'x' ? [w, h] : [h, w];
  const runs = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let run = 0;
    for (let k = 0; k < m; k++) {
      run = dark[axis === 'x' ? k * w + i : i * w + k] ? run + 1 : 0;
      if (run > runs[i]!) runs[i] = run;
    }
  }
  const out: Line[] = [];
  for (let i = 0; i < n; i++) {
    if (runs[i]! * MM < least) continue;
    let end = i;
    while (end + 1 < n && runs[end + 1]! * MM >= least) end++;
    const length = Math.max(...runs.slice(i, end + 1)) * MM;
    out.push({ at: ((i + end + 1) / 2) * MM, width: (end - i + 1) * MM, length });
    i = end;
  }
  return out;
}

describe('a template sheet at 600 dpi', () => {
  let across: Line[] = [];
  let down: Line[] = [];
  let square: Line[] = [];

  beforeAll(async () => {
    const { sheets } = layOutTemplates(letterF(), {
      paper: 'letter',
      margin: inches(3 / 8),
      allowance: inches(1 / 4),
      system: 'inch',
      fill: 'none',
    });
    const pdf = await writePdf(sheets, { title: 'F' });
    const library = await PDFiumLibrary.init();
    const document = await library.loadDocument(Buffer.from(pdf));
    const page = await document.getPage(0).render({ scale: DPI / 72, render: 'bitmap' });
    const dark = new Uint8Array(page.width * page.height);
    for (let i = 0; i < dark.length; i++) dark[i] = page.data[4 * i]! < 128 ? 1 : 0;
    expect(page.width).toBe(8.5 * DPI);
    across = longLines(dark, page.width, page.height, 'x', 140);
    down = longLines(dark, page.width, page.height, 'y', 140);
    square = longLines(dark, page.width, page.height, 'x', 25).filter((l) => l.length < 27);
    document.destroy();
    library.destroy();
  });

  // trade rule: the section's sewing line is 0.6 mm, seams 0.4 mm; the F is 152.4 mm with seams 30, 62 and 122 mm from its left
  test('sewing lines and seams lie within 0.1 mm of where they belong', () => {
    const one = across.filter((l) => l.width > 0.5);
    const other = down.filter((l) => l.width > 0.5);
    for (const pair of [one, other]) {
      expect(pair).toHaveLength(2);
      expect(Math.abs(pair[1]!.at - pair[0]!.at - 152.4)).toBeLessThan(0.1);
    }
    const seams = (across.length > down.length ? across : down).filter((l) => l.width > 0.36 && l.width < 0.5);
    const sewing = across.length > down.length ? one : other;
    const fromOneSide = seams.map((l) => l.at - sewing[0]!.at);
    const fromTheOther = seams.map((l) => sewing[1]!.at - l.at).reverse();
    const near = (found: number[]): boolean =>
      found.length === 3 && [30, 62, 122].every((want, i) => Math.abs(found[i]! - want) < 0.1);
    expect(near(fromOneSide) || near(fromTheOther)).toBe(true);
  });

  test('the square measures 1 in within 0.1 mm', () => {
    expect(square.length).toBeGreaterThanOrEqual(2);
    const gaps = square.flatMap((a) => square.map((b) => b.at - a.at));
    expect(gaps.some((g) => Math.abs(g - 25.4) < 0.1)).toBe(true);
    for (const l of square) expect(Math.abs(l.length - 25.4)).toBeLessThan(0.3);
  });
});
