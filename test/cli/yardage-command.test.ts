// The yardage command as a person calls it, on real block files.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { writeBlock } from '../../src/block.ts';
import { COMMAND_LINE } from '../../src/cli/voice.ts';
import { optionsOf, type YardageCall } from '../../src/cli/yardage-options.ts';
import { planYardage } from '../../src/fabric/plan-yardage.ts';
import { UserError, wordProblem } from '../../src/problems/problem.ts';
import { randomBlock } from '../check/random-block.ts';
import { uncoveredPieces } from '../fabric/covers.ts';
import { readPdf } from '../packet/read-back.ts';
import { callHere, runProgram, type Said } from './run-program.ts';

const first = { ...randomBlock(3, { pieces: 24, most: 7, smallest: 14 }), name: 'Pepper' };
const second = { ...randomBlock(5, { pieces: 20, most: 7, smallest: 14 }), name: 'Mocha', size: first.size };
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-yardage-'));
  await writeFile(join(folder, 'a.block.json'), writeBlock(first));
  await writeFile(join(folder, 'b.block.json'), writeBlock(second));
  const other = second.fabrics.map((f) => ({ ...f, colour: '#123456' }));
  await writeFile(join(folder, 'other.block.json'), writeBlock({ ...second, fabrics: other }));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const call = (args: readonly string[]): string[] => ['yardage', ...args, '--units', 'inch', '--paper', 'letter'];
/** In this process: what it says and writes is the point. */
const yardage = (...args: string[]): Promise<Said> => callHere(call(args), folder);

// CI machines are slow
describe('seamwright yardage', () => {
  test('--json: every patch in mm, covering its piece; strips that hold them all; twice the same bytes', async () => {
    const said = await yardage('a.block.json', '--json');
    expect([said.code, said.err]).toEqual([0, expect.not.stringMatching(/fault/)]);
    const plan = JSON.parse(said.out);
    expect(plan.unit).toBe('mm');
    const pieces = first.sections.flatMap((s) => s.pieces.map((p) => `${s.id} ${p.number} ${p.fabric}`));
    expect(plan.patches.map((p: Record<string, string>) => `${p.section} ${p.piece} ${p.fabric}`)).toEqual(pieces);
    expect(uncoveredPieces(first, plan.patches, 6.35)).toEqual([]);
    const names = plan.fabrics.flatMap((f: { strips: { patches: string[] }[] }) => f.strips.flatMap((s) => s.patches));
    expect(names.sort()).toEqual(first.sections.flatMap((s) => s.pieces.map((p) => `${s.id}${p.number}`)).sort());
    for (const f of plan.fabrics) {
      expect(Object.keys(f)).toEqual(expect.arrayContaining(['id', 'strips', 'yards', 'metres', 'bound']));
      expect(f.bound).toBeGreaterThan(0);
    }
    expect(plan.blocks[0].work.pieces).toBe(pieces.length);
    expect((await runProgram(call(['a.block.json', '--json']), folder)).out).toBe(said.out);
  });

  test('kits for a class: pages and tables in a folder, never over a file that is there', async () => {
    const call = [
      'a.block.json',
      'b.block.json',
      '--people',
      '20',
      '--spare',
      '2',
      '--out',
      'class',
      '--name',
      'shelter',
    ];
    const said = await yardage(...call, '--json');
    expect(said.code).toBe(0);
    const plan = JSON.parse(said.out);
    expect(plan.class).toMatchObject({ people: 20, spare: 2, packets: 22, kit: 'patches' });
    const cut = plan.fabrics.flatMap((f: { strips: { patches: string[] }[] }) => f.strips.flatMap((s) => s.patches));
    expect(cut.length).toBe(22 * plan.patches.length);
    expect((await readdir(join(folder, 'class'))).sort()).toEqual(
      ['patches.csv', 'shopping.csv', 'strips.csv', 'yardage.pdf'].map((e) => `shelter.${e}`),
    );
    const { pages } = await readPdf(new Uint8Array(await readFile(join(folder, 'class', 'shelter.yardage.pdf'))));
    const words = pages.map((p) => p.words.join(' ')).join('\n');
    for (const heading of [
      'What to buy',
      'Cutting plan',
      'Cutting tickets',
      'Labels for bags',
      'Labels for patches',
      'Cards for participants',
      'Supply list',
    ])
      expect(words).toContain(heading);
    expect(words).toMatch(/Rotary cutters cut fingers/);
    const again = await yardage(...call);
    expect([again.code, again.err]).toEqual([2, expect.stringMatching(/is there already.*--force/)]);
  });

  test('a quilt with prices: its cloths, the total, and CSV for a spreadsheet', async () => {
    const call = [
      'a.block.json',
      'b.block.json',
      '--quilt',
      '3x2',
      '--sashing',
      '2in',
      '--borders',
      '1in,4in',
      '--price',
      '12',
    ];
    const said = await yardage(...call, '--json');
    const plan = JSON.parse(said.out);
    expect(plan.blocks.map((b: { copies: number }) => b.copies)).toEqual([3, 3]);
    expect(plan.quilt.cloths.map((c: { what: string }) => c.what)).toEqual([
      'sashing',
      'border 1',
      'border 2',
      'binding',
      'backing',
    ]);
    const costs = [...plan.fabrics, ...plan.quilt.cloths].map((c: { cost: number }) => c.cost);
    expect(plan.cost).toBeCloseTo(
      costs.reduce((t, c) => t + c, 0),
      2,
    );
    const csv = (await yardage(...call, '--csv', 'shopping')).out.trimEnd().split('\r\n');
    expect(csv[0]).toMatch(/^fabric,buy,yards,metres/);
    expect(csv.at(-1)).toBe(`total,,,,,${plan.cost}`);
    expect((await yardage(...call)).out).toMatch(/Quilt of 6 blocks/);
  });

  test.each([
    [[], 2, /block/],
    [['nowhere.block.json'], 2, /no file nowhere/],
    [['.'], 2, /is a folder; name one block file/],
    [['a.block.json', '--slack', '-1/4in'], 2, /--slack: a length cannot be less than zero/],
    [['a.block.json', '--directional', 'c99'], 2, /no fabric "c99"/],
    [['a.block.json', 'other.block.json'], 1, /Fabric c1 is #f4efe6 in Pepper and #123456 in Mocha/],
  ])('%j is refused in one sentence', async (args, code, message) => {
    const said = await yardage(...(args as string[]));
    expect(said.err).toMatch(message);
    expect(said.code).toBe(code);
    expect(said.err.trim().split('\n')).toHaveLength(1);
    expect(said.err).not.toMatch(/fault of the program/);
    expect(said.out).toBe('');
  });
});

describe('options of the plan', () => {
  const plan = (given: Partial<YardageCall>, blocks = [first]) =>
    planYardage(blocks, optionsOf({ level: 'intermediate', grain: 'edge', ...given }, 'inch'));
  test.each<[Partial<YardageCall>, RegExp]>([
    [{ slack: '1/4' }, /--slack: "1\/4" is not a length/],
    [{ strips: '2in,50in' }, /A strip of 50 in is wider than the cloth, which is 40 in/],
    [{ strips: 'wide' }, /--strips: "wide" is not a length/],
    [{ usable: '0in' }, /usable width/],
    [{ people: '0' }, /--people: "0" is not a whole number/],
    [{ people: '2000', copies: '1000' }, /patches, more than one plan can hold/],
    [{ spare: '2' }, /--people/],
    [{ kit: 'lengths' }, /--people/],
    [{ price: 'much' }, /--price: "much"/],
    [{ safety: '0.1' }, /--safety.*10%/],
    [{ layers: '20' }, /--layers/],
    [{ quilt: '12' }, /--quilt: "12" is not rows x columns/],
    [{ sashing: '2in' }, /--sashing goes with --quilt/],
    [{ quilt: '2x2', cornerstones: true }, /--sashing/],
    [{ quilt: '2x2', people: '4' }, /either/],
    [{ quilt: '2x2', copies: '4' }, /--copies/],
    [{ quilt: '2x2', borders: '45in' }, /wider than the cloth/],
    [{ quilt: '2x2', borders: '-1in' }, /--borders: a length cannot be less than zero/],
    [{ quilt: '2x2', onPoint: true }, /square blocks/],
  ])('%j is refused', (given, message) => {
    let refused: unknown;
    try {
      plan(given);
    } catch (e) {
      refused = e;
    }
    expect(refused).toBeInstanceOf(UserError);
    expect(wordProblem(refused as UserError, COMMAND_LINE)).toMatch(message);
  });
  test('one unit may stand for a list of strip widths; a print may be named by code or name', () => {
    const p = plan({ strips: '2, 3 1/2, 6in', directional: first.fabrics[1]!.name.toUpperCase() });
    const widths = new Set(p.shopping.fabrics.flatMap((f) => f.strips.map((s) => Math.round(s.width / 2.54) / 10)));
    expect([...widths].filter((w) => w <= 6).every((w) => [2, 3.5, 6].includes(w))).toBe(true);
    const upright = new Set(p.shopping.patches.filter((x) => x.along === 'upright').map((x) => x.fabric));
    expect([...upright]).toEqual([first.fabrics[1]!.id]);
  });
  test('a quilt deals its blocks out, and two blocks of one name are told apart', () => {
    const p = plan({ quilt: '3x3' }, [first, { ...second, name: first.name }]);
    expect(p.blocks.map((b) => [b.block.name, b.copies])).toEqual([
      ['Pepper', 5],
      ['Pepper (2)', 4],
    ]);
    expect(() => plan({ quilt: '1x1' }, [first, second])).toThrow(/room for 1 block and 2/);
    expect(() => plan({ quilt: '2x2' }, [first, { ...second, size: [90, 90] }])).toThrow(/not of one size/);
  });
});
