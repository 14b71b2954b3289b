// `seamwright change`: the next edition beside the old one, and what of the printed and the cut is void.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkBlock, readBlock, writeBlock } from '../../src/index.ts';
import { randomBlock } from '../check/random-block.ts';
import { callHere, runProgram, type Said } from './run-program.ts';

const block = randomBlock(5, { pieces: 30, most: 8, smallest: 14 });
const section = block.sections.find((s) => s.pieces.length > 3)!;
const last = section.pieces.at(-1)!;
const other = block.fabrics.find((f) => f.id !== last.fabric)!;
const name = `${section.id}${last.number}`;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-change-'));
  await writeFile(join(folder, 'hen.block.json'), writeBlock(block));
});
afterAll(() => rm(folder, { recursive: true, force: true }));
const seamwright = (...args: string[]): Promise<Said> => runProgram(args, folder);

describe('seamwright change', () => {
  test('writes edition B, then C; the old files stay as they were', async () => {
    const first = await seamwright('change', 'hen.block.json', '--fabric', `${name}=${other.code}`, '--json');
    expect(first.err).not.toMatch(/fault of the program/);
    expect(first.code).toBe(0);
    const said = JSON.parse(first.out);
    expect(said).toMatchObject({ edition: 'B', void: { print: [section.id], cut: [name] } });
    expect(await readFile(join(folder, 'hen.block.json'), 'utf8')).toBe(writeBlock(block));
    const second = await seamwright(
      'change',
      'hen-B.block.json',
      '--rename',
      `${other.code}=hen house red`,
      '--move',
      `${name}=-2mm`,
    );
    expect(second.code).toBe(0);
    expect(second.out).toMatch(new RegExp(`to print again: section ${section.id}\\.`));
    expect((await readdir(folder)).sort()).toEqual(
      [
        'hen.block.json',
        ...['B', 'C'].flatMap((e) => ['block.json', 'packet.pdf', 'preview.png'].map((f) => `hen-${e}.${f}`)),
      ].sort(),
    );
    const after = readBlock(await readFile(join(folder, 'hen-C.block.json'), 'utf8'), 'hen');
    expect(checkBlock(after).faults).toEqual([]);
    expect(after.fabrics.find((f) => f.id === other.id)!.name).toBe('hen house red');
    const again = await seamwright('change', 'hen-B.block.json', '--move', `${name}=-2mm`);
    expect(again.code).toBe(2);
    expect(again.err).toMatch(/is there already/);
  });

  test.each([
    [[], 2],
    [['--fabric', 'A1'], 2],
    [['--fabric', 'ZZ9=c1'], 2],
    [['--merge', 'A1,A1'], 2],
    [['--divide', `${name}=1,2,3`], 2],
    [['--move', `${name}=far`], 2],
    [['--move', `${name}=-900mm`], 1],
    [['--part', '7'], 2],
    [['--colour', 'c1=red'], 2],
  ] as const)('%j is refused in one sentence', async (args, code) => {
    const said = await callHere(['change', 'hen.block.json', ...args], folder);
    expect(said.code).toBe(code);
    expect(said.out).toBe('');
    expect(said.err).toMatch(/^seamwright: .+[.)]\n$/);
  });
});
