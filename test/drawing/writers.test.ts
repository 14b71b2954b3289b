import * as dxfParser from 'dxf-parser';
import { XMLParser } from 'fast-xml-parser';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { type Drawing, polygon, polyline, rectanglePoints, text } from '../../src/drawing/drawing.ts';
import { writeDxf } from '../../src/drawing/dxf.ts';
import { lineRuns, measureText, missingCharacters, wrapText } from '../../src/drawing/fonts.ts';
import { inkCoverage } from '../../src/drawing/ink.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { drawPixels, writePng } from '../../src/drawing/png.ts';
import { writeSvg } from '../../src/drawing/svg.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { inches } from '../../src/units.ts';
import { randomBlock } from '../packet/blocks.ts';
import { readPdf } from '../packet/read-back.ts';

interface ReadDxf {
  header: Record<string, unknown>;
  tables: { layer: { layers: Record<string, unknown> } };
  entities: { type: string; layer: string; shape: boolean; vertices: { x: number; y: number }[] }[];
}
/** dxf-parser's types do not say how it is really exported. */
const Parser = dxfParser.default as unknown as new () => { parseSync(s: string): ReadDxf };
const readDxf = (s: string): ReadDxf => new Parser().parseSync(s);

const plain: Drawing = {
  width: 127,
  height: 50.8,
  title: 'a & b',
  items: [
    polygon('sewing-line', rectanglePoints(10, 10, 25.4, 25.4), { stroke: { width: 0.6 } }),
    polyline(
      'seam',
      [
        [10, 20],
        [35.4, 20],
      ],
      { width: 0.4 },
    ),
    text('piece-number', [60, 30], 'A<3>', 14, { font: 'bold', align: 'middle', turn: 30 }),
  ],
};

describe('SVG', () => {
  // 96 px = 1 in = 25.4 mm; sizes in mm with a viewBox (check values, paper, print and files)
  test('has its size in millimetres and a viewBox in the same numbers', () => {
    const svg = new XMLParser({ ignoreAttributes: false }).parse(writeSvg(plain)).svg;
    expect(svg['@_width']).toBe('127mm');
    expect(svg['@_height']).toBe('50.8mm');
    expect(svg['@_viewBox']).toBe('0 0 127 50.8');
    expect(svg.title).toBe('a & b');
    expect(svg.g.map((g: Record<string, string>) => g['@_id'])).toEqual(['sewing-line', 'seam', 'piece-number']);
    expect(svg.g[2].text['#text']).toBe('A<3>');
  });

  test('names the sections of a sheet', () => {
    const { sheets } = layOutTemplates(randomBlock(1, 80), {
      paper: 'a4',
      margin: inches(3 / 8),
      allowance: inches(1 / 4),
      system: 'metric',
    });
    const svg = sheets.map(writeSvg).join('');
    for (const id of ['section-A', 'section-B', 'section-C']) expect(svg.split(`id="${id}"`)).toHaveLength(2);
  });
});

describe('PNG', () => {
  test('has the size that the resolution asks for, and the words come out', () => {
    const words: Drawing = { ...plain, items: [text('text', [10, 30], 'HHHH', 40)] };
    const { width, height, pixels } = drawPixels(words, 100);
    expect([width, height]).toEqual([500, 200]);
    let dark = 0;
    for (let i = 0; i < pixels.length; i += 4) if (pixels[i]! < 128) dark++;
    expect(dark).toBeGreaterThan(1000);
  });

  test('measured words are as wide as they are drawn', () => {
    for (const words of ['WAVE 1234', 'join 3 to B, 4 3/8 in', 'Ülő žluťoučký']) {
      const one: Drawing = { width: 100, height: 20, title: '', items: [text('text', [5, 12], words, 20)] };
      const { width, height, pixels } = drawPixels(one, 254);
      let [left, right] = [width, 0];
      for (let y = 0; y < height; y++)
        for (let x = 0; x < width; x++)
          if (pixels[4 * (y * width + x)]! < 128) [left, right] = [Math.min(left, x), Math.max(right, x)];
      // the pen's width is that of the ink and a little air at both ends
      const ink = (right - left + 1) / 10;
      const measured = measureText(words, 20).width;
      expect(measured - ink).toBeGreaterThan(-0.2);
      expect(measured - ink).toBeLessThan(1.3);
    }
  });
});

describe('DXF', () => {
  // $INSUNITS 4 = millimetre (check values, paper, print and files); read back with dxf-parser
  test('is in millimetres, y up, one layer a role', () => {
    const read = readDxf(writeDxf(plain));
    expect(read.header.$INSUNITS).toBe(4);
    expect(Object.keys(read.tables.layer.layers)).toEqual(
      expect.arrayContaining(['sewing-line', 'seam', 'piece-number']),
    );
    const lines = read.entities.filter((e) => e.type === 'LWPOLYLINE');
    const square = lines.find((l) => l.layer === 'sewing-line')!;
    expect(square.shape).toBe(true);
    expect(square.vertices.map((v) => [v.x, v.y])).toEqual([
      [10, 40.8],
      [35.4, 40.8],
      [35.4, 15.4],
      [10, 15.4],
    ]);
    expect(writeDxf(plain)).toBe(writeDxf(plain));
  });
});

test('long words wrap within their width, whatever they are', () => {
  const name = 'Donaudampfschifffahrtsgesellschaftskapitänsmütze von nebenan';
  const lines = wrapText(name, 12, 'regular', 40);
  expect(lines.length).toBeGreaterThan(2);
  for (const l of lines) expect(measureText(l, 12).width).toBeLessThanOrEqual(40);
  expect(lines.join('').replaceAll(' ', '')).toBe(name.replaceAll(' ', ''));
});

test('characters that the font lacks are named', () => {
  expect(missingCharacters('Žofie Ελένη Юля')).toEqual([]);
  expect(missingCharacters('猫 cat 猫')).toEqual(['猫']);
});

test('ink: none on white, a quarter where a quarter is black; fills cost more than hatches', () => {
  const empty: Drawing = { width: 40, height: 40, title: '', items: [] };
  expect(inkCoverage([empty])).toBe(0);
  const quarter = { ...empty, items: [polygon('fill', rectanglePoints(0, 0, 20, 20), { fill: '#000000' })] };
  expect(inkCoverage([quarter])).toBeCloseTo(0.25, 2);
  const cost = (['none', 'hatch', 'tint', 'colour'] as const).map((fill) =>
    inkCoverage(
      layOutTemplates(randomBlock(1, 12), {
        paper: 'letter',
        margin: inches(3 / 8),
        allowance: inches(1 / 4),
        system: 'inch',
        fill,
      }).sheets,
      60,
    ),
  );
  expect(cost).toEqual([...cost].sort((a, b) => a - b));
  expect(cost[1]! - cost[0]!).toBeLessThan(0.03);
});

test('a PNG says its resolution, both ways alike, and is still whole', async () => {
  const png = writePng(plain, 150);
  // PNG, 3rd edition, 11.3.4.3: pixels per metre; 150 dots an inch are 5906 a metre
  const view = new DataView(png.buffer, png.byteOffset);
  const at = Buffer.from(png).indexOf('pHYs') + 4;
  expect(at).toBeGreaterThan(4);
  expect([view.getUint32(at), view.getUint32(at + 4), png[at + 8]]).toEqual([5906, 5906, 1]);
  // libpng checks every chunk's sum
  const { width, density } = await sharp(png).metadata();
  expect(width).toBe(Math.round((plain.width / 25.4) * 150));
  expect(density).toBe(150);
  expect((await sharp(png).raw().toBuffer()).length).toBeGreaterThan(1000);
});

test('the same drawings give the same PDF', async () => {
  const [a, b] = await Promise.all([writePdf([plain], { title: 'x' }), writePdf([plain], { title: 'x' })]);
  expect(Buffer.compare(Buffer.from(a), Buffer.from(b))).toBe(0);
});

describe('letters of any script', () => {
  const words = (line: string): string =>
    lineRuns(line, 'bold')
      .map((r) => r.words)
      .join('');

  // Unicode bidirectional algorithm (UAX 9): runs from right to left keep their order among words from left to right
  test('words that run from right to left stand the other way round', () => {
    expect(words('fox שועל קטן red')).toBe('fox קטן שועל red');
    expect(words('שועל red fox קטן')).toBe('קטן red fox שועל');
    expect(words('plain words')).toBe('plain words');
  });

  test('a missing face is made up for, and what no face has is named', async () => {
    expect(lineRuns('Fox 𝔉', 'bold').map((r) => r.face)).toEqual(['bold', 'symbols']);
    expect(missingCharacters('Größe Лиса Ελλάδα 狐 狐')).toEqual(['狐']);
    const page: Drawing = { width: 100, height: 40, title: 'x', items: [text('text', [5, 20], 'Лиса שועל 𝔉', 12)] };
    const { pages } = await readPdf(await writePdf([page], { title: 'x' }));
    expect(pages[0]!.words.join('')).toContain('Лиса');
    const sum = lineRuns('Лиса שועל 𝔉', 'regular').reduce((t, r) => t + measureText(r.words, 12).width, 0);
    expect(sum).toBeCloseTo(measureText('Лиса שועל 𝔉', 12).width, 3);
  });
});
