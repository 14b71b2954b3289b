// The examples of programs that use the package, run as they are against the built package.
import { execFile } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readBlock } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { fontPath } from '../../src/drawing/font-files.ts';
import { writeSvg } from '../../src/drawing/svg.ts';
import { defaultSettings } from '../../src/settings/settings.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { fixture, root, type Said } from '../cli/run-program.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-examples-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const run = (example: string, ...words: string[]): Promise<Said> =>
  new Promise((done) =>
    execFile(
      process.execPath,
      ['--import', 'tsx', join(import.meta.dirname, example), ...words],
      { cwd: root },
      (e, out, err) => done({ code: e ? Number(e.code) : 0, out, err }),
    ),
  );

const blockIn = async (file: string) => readBlock(await readFile(join(folder, file), 'utf8'), file);

test('one block', async () => {
  const said = await run('one-block.ts', fixture('flat/noto-fox.svg'), folder);
  expect(said).toMatchObject({ code: 0, err: '' });
  const block = await blockIn('noto-fox.block.json');
  expect(checkBlock(block).faults).toEqual([]);
  expect(block.size).toEqual([254, 254]);
  const pieces = block.sections.flatMap((s) => s.pieces).length;
  expect(said.out).toContain(`noto-fox: ${pieces} pieces in ${block.sections.length} sections on `);
  expect((await readFile(join(folder, 'noto-fox.packet.pdf'))).subarray(0, 5).toString()).toBe('%PDF-');

  // a picture that cannot be used is said in one sentence, without a stack
  const refused = await run('one-block.ts', fixture('hostile/truncated.png'), folder);
  expect(refused.code).toBe(1);
  expect(refused.err).toMatch(/^truncated\.png cannot be read: [^\n]*\n$/);
});

test('a folder of drawings', async () => {
  const drawings = join(folder, 'drawings');
  await mkdir(drawings);
  for (const file of ['lines/oc-dove.svg', 'lines/lucide-cat.png', 'hostile/truncated.png'])
    await copyFile(fixture(file), join(drawings, file.split('/')[1]!));
  const said = await run('folder-of-drawings.ts', drawings, join(folder, 'out'));
  expect(said.code).toBe(0);
  expect(said.err).toMatch(/^truncated\.png cannot be read/);
  const [head, ...rows] = (await readFile(join(folder, 'out', 'work.csv'), 'utf8')).trimEnd().split('\n');
  expect(head).toBe('drawing,pieces,sections,hours,fabric');
  expect(rows.map((r) => r.split(',')[0])).toEqual(['lucide-cat.png', 'oc-dove.svg']);
  for (const row of rows) {
    const [file, pieces, sections, hours, fabric] = row.split(',');
    const block = await blockIn(join('out', `${file!.replace(/\..*/, '')}.block.json`));
    expect(Number(sections)).toBe(block.sections.length);
    expect(Number(pieces)).toBe(block.sections.flatMap((s) => s.pieces).length);
    expect(Number(hours)).toBeGreaterThan(0);
    expect(fabric).toMatch(/fat quarter|fat eighth|scrap/);
  }
  expect((await readdir(join(folder, 'out'))).filter((f) => f.endsWith('.packet.pdf'))).toHaveLength(2);
});

test('the part for browsers says which fonts it wants, and without files comes to the same sheets as with them', async () => {
  // another copy of the program, in which no font is found
  const address = pathToFileURL(join(root, 'dist', 'browser', 'block.js')).href;
  const pure = (await import(/* @vite-ignore */ address)) as typeof import('../../src/block-entry.ts');
  const text = await readFile(join(root, 'test', 'page', 'fox.block.json'), 'utf8');
  const { paper, margin, allowance, units: system } = defaultSettings();
  const sheetsBy = (program: Pick<typeof pure, 'layOutTemplates' | 'readBlock' | 'writeSvg'>): string[] =>
    program
      .layOutTemplates(program.readBlock(text, 'fox.block.json'), { paper, margin, allowance, system })
      .sheets.map(program.writeSvg);
  expect(() => sheetsBy(pure)).toThrow('useFonts');
  const [regular, bold] = await Promise.all((['regular', 'bold'] as const).map((face) => readFile(fontPath(face))));
  pure.useFonts({ regular: regular!, bold: bold! });
  expect(sheetsBy(pure)).toEqual(sheetsBy({ layOutTemplates, readBlock, writeSvg }));
});
