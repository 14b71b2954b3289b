// `sheets` as a person calls it: the built program on block files, and what it wrote read back by other programs.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as dxfParser from 'dxf-parser';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readBlock, writeBlock } from '../../src/block.ts';
import { checkBlock } from '../../src/index.ts';
import { randomBlock } from '../packet/blocks.ts';
import { readPdf } from '../packet/read-back.ts';
import { callHere, runProgram, type Said } from './run-program.ts';

/** dxf-parser's types do not say how it is really exported. */
interface Dxf {
  header: Record<string, unknown>;
  entities: { layer: string }[];
}
const Parser = dxfParser.default as unknown as new () => { parseSync(t: string): Dxf };
const parseDxf = (t: string): Dxf => new Parser().parseSync(t);

const block = randomBlock(3, 24, { size: [228.6, 228.6], smallest: 12.7 });
let folder = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-'));
  await writeFile(join(folder, 'hen.block.json'), writeBlock({ ...block, name: 'hen' }));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const call = (args: readonly string[]): string[] => ['sheets', 'hen.block.json', '--units', 'inch', ...args];
/** In this process: what it writes is the point. */
const sheets = (...args: string[]): Promise<Said> => callHere(call(args), folder);
const wordsOf = async (file: string): Promise<string> =>
  (await readPdf(await readFile(join(folder, file)))).pages.flatMap((p) => p.words).join(' ');

describe('seamwright sheets', () => {
  test('prints the templates again, says the room filled and the ink, and never overwrites', async () => {
    const args = ['--paper', 'letter', '--out', 'a', '--json'];
    const said = JSON.parse((await runProgram(call(args), folder)).out);
    expect(said.files).toEqual([join('a', 'hen.sheets.pdf')]);
    const { pages } = await readPdf(await readFile(join(folder, 'a', 'hen.sheets.pdf')));
    expect(pages).toHaveLength(said.sheets);
    expect(said.filled).toBeGreaterThan(0.3);
    const { ink } = said;
    expect(ink.none).toBeGreaterThan(0.005);
    expect(ink.hatch).toBeGreaterThan(ink.none);
    expect(ink.tint).toBeGreaterThan(ink.none);
    expect(ink.colour).toBeGreaterThan(ink.tint);
    const again = await sheets(...args);
    expect(again.code).toBe(2);
    expect(again.err).toMatch(/is there already/);
  });

  test('another size is a block of its own: rescaled, sewable, with a packet', async () => {
    const said = await sheets('--size', '12in', '--turn', '--paper', 'letter', '--out', 'b');
    expect(said.code).toBe(0);
    const names = ['block.json', 'packet.pdf', 'preview.png'].map((e) => `hen-12in-turned.${e}`);
    expect((await readdir(join(folder, 'b'))).sort()).toEqual(names);
    const large = readBlock(await readFile(join(folder, 'b', names[0]!), 'utf8'), 'hen');
    expect(large.size.map((v) => Math.round(v * 10) / 10)).toEqual([304.8, 304.8]);
    expect(checkBlock(large).faults).toEqual([]);
    // turned left to right and 4/3 as large: each corner is where the arithmetic says
    const [x, y] = block.sections[0]!.pieces[0]!.outline[0]!;
    const want = [304.8 - (x * 4) / 3, (y * 4) / 3];
    const near = large.sections[0]!.pieces[0]!.outline.some(
      (q) => Math.hypot(q[0] - want[0]!, q[1] - want[1]!) < 0.002,
    );
    expect(near).toBe(true);
    expect(await wordsOf(join('b', 'hen-12in-turned.packet.pdf'))).toMatch(/12 x 12 in/);
  });

  test('only some sections; copies; a reference that says it is none to sew', async () => {
    const some = JSON.parse((await sheets('--sections', 'b,A', '--copies', '2', '--out', 'c', '--json')).out);
    expect(some.sections).toEqual(['A', 'B']);
    expect(await wordsOf(join('c', 'hen.sheets.pdf'))).toMatch(/copy 2 of 2: A, B/);
    await sheets('--unmirrored', '--out', 'c');
    expect(await wordsOf(join('c', 'hen.reference.pdf'))).toMatch(/Reference, not for sewing/);
  });

  test('a roll is one page as long as it must be', async () => {
    const said = JSON.parse((await sheets('--paper', 'roll 24in', '--out', 'd', '--json')).out);
    expect(said.sheets).toBe(1);
    const { pages } = await readPdf(await readFile(join(folder, 'd', 'hen.sheets.pdf')));
    expect(pages[0]!.view[2]).toBeCloseTo(24 * 72, 3);
    expect(pages[0]!.view[3]).toBeLessThan(36 * 72);
  });

  // check values: DXF $INSUNITS 4 is millimetres; SVG with width and height in mm and a viewBox in the same numbers
  test('one section for a cutter as DXF and SVG, a sheet as PNG at its resolution', async () => {
    await sheets('--format', 'dxf', '--each', 'section', '--sections', 'A', '--out', 'e');
    await sheets('--format', 'svg', '--each', 'section', '--sections', 'A', '--out', 'e');
    await sheets('--format', 'png', '--dpi', '72', '--paper', 'letter', '--sections', 'A', '--out', 'e');
    const dxf = parseDxf(await readFile(join(folder, 'e', 'hen.section-A.dxf'), 'utf8'));
    expect(dxf.header.$INSUNITS).toBe(4);
    const layers = new Set(dxf.entities.map((e) => e.layer));
    for (const layer of ['cut-line', 'sewing-line', 'seam']) expect(layers).toContain(layer);
    const svg = await readFile(join(folder, 'e', 'hen.section-A.svg'), 'utf8');
    const [, width, w] = /width="([\d.]+)mm" height="[\d.]+mm" viewBox="0 0 ([\d.]+) /.exec(svg)!;
    expect(width).toBe(w);
    expect(svg).toMatch(/<g id="section-A"/);
    const png = await sharp(join(folder, 'e', 'hen.sheet-1.png')).metadata();
    expect([png.width, png.height]).toEqual([612, 792]);
  });

  test.each([
    [['--sections', 'O'], 2, /no section O .*; it has A, B/],
    [['--size', '2in'], 1, /piece [A-Z]\d+ would finish .* Choose .* or more/],
    [['--size', '9x14in'], 2, /another shape/],
    [['--paper', 'foolscap'], 2, /no paper/],
    [['--fill', 'paint'], 2, /paint/],
    [['--packet', '--sections', 'A'], 2, /--sections/],
    [['--margin', '3in'], 2, /--margin/],
  ])('%j is refused in one sentence', async (args, code, message) => {
    const said = await sheets(...(args as string[]), '--out', 'none');
    expect(said.code).toBe(code);
    expect(said.err).toMatch(message);
    expect(said.err).not.toMatch(/\n\s+at |fault of the program/);
  });
});
