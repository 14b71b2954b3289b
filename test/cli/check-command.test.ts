// `seamwright check` on drawings and block files: verdict, place, repair, exit codes.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Block, checkBlock, readBlock, writeBlock } from '../../src/index.ts';
import { judgeFile } from '../../src/pipeline/judge.ts';
import { piecesOf } from '../../src/section/bare-pieces.ts';
import { randomBlock } from '../check/random-block.ts';
import { callHere, runProgram, type Said } from './run-program.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-check-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));
const seamwright = (...args: string[]): Promise<Said> => runProgram(args, folder);

const drawing = (...lines: readonly (readonly [number, number, number, number])[]): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="120mm" viewBox="0 0 120 120"><g stroke="#000">` +
  `<path d="M0 0H120V120H0Z" fill="none"/>${lines
    .map(([a, b, c, d]) => `<line x1="${a}" y1="${b}" x2="${c}" y2="${d}"/>`)
    .join('')}</g></svg>`;
const pinwheel = drawing([0, 40, 80, 40], [80, 0, 80, 80], [40, 80, 120, 80], [40, 40, 40, 120]);
const options = {
  name: 'mare',
  repair: false,
  limits: { mostPieces: 10, paper: [190, 254], allowance: 6.35 },
} as const;

describe('seamwright check', () => {
  test('a pinwheel: exit 1, the place, a marked picture, nothing else', async () => {
    await writeFile(join(folder, 'pinwheel.svg'), pinwheel);
    const said = await seamwright('check', 'pinwheel.svg', '--json', '--out', 'marked');
    expect(said.code).toBe(1);
    const { sewable, pieces, faults, files } = JSON.parse(said.out);
    expect({ sewable, pieces }).toEqual({ sewable: false, pieces: 5 });
    expect(faults).toMatchObject([{ kind: 'pinwheel', at: [60, 60] }]);
    expect(await readdir(join(folder, 'marked'))).toEqual(['pinwheel.marked.png']);
    expect(files).toEqual({ marked: join('marked', 'pinwheel.marked.png') });
    const again = await seamwright('check', 'pinwheel.svg', '--out', 'marked');
    expect(again.code).toBe(2);
    expect(again.err).toMatch(/is there already/);
  });

  test('--repair carries one seam on and writes everything that blocks have', async () => {
    await writeFile(join(folder, 'turning.svg'), pinwheel);
    const said = await seamwright('check', 'turning.svg', '--repair', '--out', 'mended', '--paper', 'letter');
    expect(said.code).toBe(0);
    expect(said.out).toMatch(/a seam is carried on through 1 piece/);
    expect((await readdir(join(folder, 'mended'))).sort()).toEqual([
      'turning.block.json',
      'turning.marked.png',
      'turning.packet.pdf',
      'turning.preview.png',
    ]);
    const block = readBlock(await readFile(join(folder, 'mended', 'turning.block.json'), 'utf8'), 'turning');
    expect(checkBlock(block).faults).toEqual([]);
    expect(piecesOf(block).pieces).toHaveLength(6);
  });

  test('a block file passes; with two numbers changed it does not, and is numbered anew', async () => {
    const block = randomBlock(11);
    await writeFile(join(folder, 'good.block.json'), writeBlock(block));
    const good = await seamwright('check', 'good.block.json', '--json');
    expect(good.code).toBe(0);
    expect(JSON.parse(good.out)).toMatchObject({ sewable: true, sections: block.sections.length, faults: [] });

    const wrong = structuredClone(block) as Block;
    const pieces = wrong.sections.find((s) => s.pieces.length > 3)!.pieces;
    [pieces[0]!.number, pieces[3]!.number] = [pieces[3]!.number, pieces[0]!.number];
    await writeFile(join(folder, 'wrong.block.json'), writeBlock(wrong));
    const bad = await seamwright('check', 'wrong.block.json');
    expect(bad.code).toBe(1);
    expect(bad.out).toMatch(/cannot be sewn/);
    const mended = await seamwright('check', 'wrong.block.json', '--repair', '--json');
    expect(mended.code).toBe(0);
    expect(JSON.parse(mended.out).repairs).toHaveLength(1);
  });

  test.each([
    [['check', 'nowhere.svg'], 2],
    [['check', join(import.meta.dirname, 'run-program.ts')], 1],
    [['check', 'good.block.json', '--size', '12in'], 2],
    [['check', 'pinwheel.svg', '--near', '0'], 2],
  ] as const)('%j is refused in one sentence', async (args, code) => {
    const said = await callHere(args, folder);
    expect(said.code).toBe(code);
    expect(said.out).toBe('');
    expect(said.err).toMatch(/^seamwright: .+\.\n$/);
  });
});

describe('what a drawing becomes', () => {
  test('all that is wrong is said at once: a line that stops short and a piece that turns inward', async () => {
    const both = drawing([0, 60, 60, 60], [60, 60, 60, 0], [0, 100, 50, 100]);
    const kinds = (await judgeFile(both, 'd.svg', options)).faults.map((f) => f.kind);
    expect(kinds).toEqual(['stops short', 'not convex']);
  });

  test('in the units asked for: places and lengths in inches', async () => {
    await writeFile(join(folder, 'short.svg'), drawing([60, 0, 60, 120], [0, 50.8, 30, 50.8]));
    const inch = await callHere(['check', 'short.svg', '--units', 'inch'], folder);
    // 30 mm = 1 3/16 in, 50.8 mm = 2 in exactly; from 30 to 60 mm again 1 3/16 in
    expect(inch.out).toContain(
      '1. 1 3/16 in from the left, 2 in from the top: A line stops short here, 1 3/16 in before',
    );
    expect(inch.out).not.toMatch(/\d mm/);
    const metric = await callHere(['check', 'short.svg', '--units', 'metric'], folder);
    expect(metric.out).toContain('at 30, 50.8 mm: A line stops short here, 30 mm before');
  });

  test('a line is not carried on where that would cut off a sliver: it is left out', async () => {
    const stub = drawing([60, 0, 60, 120], [0, 3, 40, 3]);
    const mended = await judgeFile(stub, 'd.svg', { ...options, repair: true });
    expect(mended.faults).toEqual([]);
    expect(mended.partition.pieces).toHaveLength(2);
    expect(mended.repairs.map((r) => r.text)).toEqual([
      'a line that ends in nothing is left out: carried on it would cut off a sliver',
    ]);
    // and is carried on where it makes a piece worth sewing
    const line = await judgeFile(drawing([60, 0, 60, 120], [0, 30, 40, 30]), 'd.svg', { ...options, repair: true });
    expect(line.partition.pieces).toHaveLength(3);
  });

  test('a piece that turns inward is divided, and the seams are whole', async () => {
    const dented = drawing([0, 60, 60, 60], [60, 60, 60, 0]);
    expect((await judgeFile(dented, 'd.svg', options)).faults).toMatchObject([{ kind: 'not convex', at: [60, 60] }]);
    const mended = await judgeFile(dented, 'd.svg', { ...options, repair: true });
    expect(mended.faults).toEqual([]);
    expect(mended.partition.pieces).toHaveLength(3);
  });

  test('a line that runs a hair over the drawn edge does not make the block larger', async () => {
    const judged = await judgeFile(drawing([60, 0, 60, 120], [60, 50, 120.3, 70]), 'd.svg', options);
    expect(judged.partition.size).toEqual([120, 120]);
    expect(judged.partition.pieces).toHaveLength(3);
    expect(judged.faults).toEqual([]);
  });

  test('500 pieces by straight cuts can be sewn', async () => {
    const boxes: [number, number, number, number][] = [[0, 0, 120, 120]];
    const cuts: [number, number, number, number][] = [];
    // always the largest piece, across its longer side, a little off the middle
    for (let n = 1; n < 500; n++) {
      boxes.sort((a, b) => (b[2] - b[0]) * (b[3] - b[1]) - (a[2] - a[0]) * (a[3] - a[1]));
      const [x, y, r, b] = boxes.shift()!;
      const share = 0.42 + 0.16 * ((n * 0.618) % 1);
      if (r - x > b - y) {
        const m = x + (r - x) * share;
        cuts.push([m, y, m, b]);
        boxes.push([x, y, m, b], [m, y, r, b]);
      } else {
        const m = y + (b - y) * share;
        cuts.push([x, m, r, m]);
        boxes.push([x, y, r, m], [x, m, r, b]);
      }
    }
    const judged = await judgeFile(drawing(...cuts), 'd.svg', { ...options, size: [600, 600] as never });
    expect(judged.faults).toEqual([]);
    expect(judged.partition.pieces).toHaveLength(500);
    expect(judged.block!.sections.length).toBeLessThan(250);
    expect(typeof judged.fewest).toBe('boolean');
    expect((await judgeFile(drawing([60, 0, 60, 120]), 'd.svg', options)).fewest).toBe(true);
  });
});
