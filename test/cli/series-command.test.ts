// `seamwright series`: the same files however many work on it and however often it is stopped; a broken picture costs itself.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkBlock, readBlock } from '../../src/index.ts';
import { randomNumbers } from '../check/random-block.ts';
import { callHere, fixture, root, runProgram, type Said } from './run-program.ts';

let folder = '';
const settings =
  'paper: letter\nunits: inch\nblock: {pieces: 12, shades: 3, size: 6in, smallest: 3/8in, effort: quick}\n';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-series-'));
  await mkdir(join(folder, 'friends'));
  const flat = (await readdir(fixture('flat')))
    .filter((f) => f.endsWith('.svg'))
    .sort()
    .slice(0, 3);
  for (const f of flat) await cp(fixture(`flat/${f}`), join(folder, 'friends', f));
  for (const n of [1, 2, 3]) await writeFile(join(folder, 'friends', `broken ${n}.jpg`), 'no picture');
  await writeFile(join(folder, 'series.yaml'), settings);
});
afterAll(() => rm(folder, { recursive: true, force: true }));
const series = (out: string, ...more: string[]): Promise<Said> =>
  runProgram(['series', 'friends', '--settings', 'series.yaml', '--out', out, '--json', ...more], folder);

/** Every file below a folder with its contents' hash. */
async function contents(path: string): Promise<Record<string, string>> {
  const all = await readdir(path, { recursive: true, withFileTypes: true });
  const files = all.filter((f) => f.isFile()).map((f) => join(f.parentPath, f.name));
  const hash = async (f: string): Promise<string> =>
    createHash('sha256')
      .update(await readFile(f))
      .digest('hex');
  return Object.fromEntries(
    await Promise.all(files.sort().map(async (f) => [f.slice(path.length), await hash(f)] as const)),
  );
}

describe('seamwright series', () => {
  test('three blocks in common fabrics; three broken files cost only themselves', async () => {
    const said = await series('two', '--workers', '2');
    expect(said.code, said.err).toBe(1);
    const { blocks, failed, fabrics, files } = JSON.parse(said.out);
    expect(failed.map((f: { file: string }) => f.file)).toEqual(['broken 1.jpg', 'broken 2.jpg', 'broken 3.jpg']);
    expect(said.err.match(/seamwright: broken \d\.jpg: .+\./g)).toHaveLength(3);
    expect(blocks).toHaveLength(3);
    const codes = new Map<string, string>();
    for (const b of blocks) {
      const block = readBlock(await readFile(join(folder, b.folder, `${b.name}.block.json`), 'utf8'), b.name);
      expect(checkBlock(block).faults).toEqual([]);
      for (const f of block.fabrics) {
        const known = fabrics.find((g: { code: string }) => g.code === f.code);
        expect(f).toEqual(known);
        codes.set(f.code, f.colour);
      }
    }
    expect(codes.size).toBeGreaterThan(3);
    expect((await readFile(join(folder, files.sheets))).subarray(0, 5).toString()).toBe('%PDF-');
    const again = await callHere(['series', 'friends', '--settings', 'series.yaml', '--out', 'two'], folder);
    expect(again.code).toBe(2);
    expect(again.err).toMatch(/is there already/);
  });

  test('one worker makes the same bytes as two', async () => {
    expect((await series('one', '--workers', '1')).code).toBe(1);
    expect(await contents(join(folder, 'one'))).toEqual(await contents(join(folder, 'two')));
  });

  test('one’s own fabrics are those of all blocks, coded light to dark', async () => {
    await mkdir(join(folder, 'few'));
    for (const f of ['noto-fox.svg', 'noto-cat.svg']) await cp(fixture(`flat/${f}`), join(folder, 'few', f));
    await writeFile(join(folder, 'shelf.csv'), 'name,colour\nink,#202028\ncream,#f4ecd8\nrust,#b4502a\nleaf,#3a5a30\n');
    const said = await runProgram(
      ['series', 'few', '--settings', 'series.yaml', '--fabrics', 'shelf.csv', '--out', 'own', '--json'],
      folder,
    );
    expect(said.code, said.err).toBe(0);
    const { fabrics, blocks } = JSON.parse(said.out);
    expect(fabrics.map((f: { name: string }) => f.name)).toEqual(['cream', 'rust', 'leaf', 'ink']);
    expect(blocks).toHaveLength(2);
  });

  test('stopped at ten moments and resumed, the same bytes', async () => {
    const random = randomNumbers(7);
    const command = ['series', 'friends', '--settings', 'series.yaml', '--out', 'cut', '--resume'];
    // so many lines after the one that begins the stage, and a moment later, so that it is not always the same file that is cut off
    const moments: [stage: RegExp, lines: number][] = [
      [/^reading/, 0],
      [/^choosing/, 0],
      [/^choosing/, 3],
      [/^making/, 0],
      [/^making/, 1],
      [/^making/, 0],
      [/^making/, 1],
      [/^making/, 0],
      [/^drawing/, 0],
      [/^drawing/, 0],
    ];
    let stopped = 0;
    for (const [stage, lines] of moments) {
      const child = spawn(process.execPath, [join(root, 'dist', 'seamwright.js'), ...command], { cwd: folder });
      child.stdout.resume();
      const ended = new Promise<NodeJS.Signals | null>((done) => child.on('exit', (_, signal) => done(signal)));
      let since = -1;
      createInterface({ input: child.stderr }).on('line', (line) => {
        if (since >= 0 || stage.test(line)) since++;
        if (since === lines) setTimeout(() => child.kill('SIGKILL'), 100 * random());
      });
      if ((await ended) === 'SIGKILL') stopped++;
    }
    expect(stopped).toBeGreaterThanOrEqual(4);
    expect((await series('cut', '--resume')).code).toBe(1);
    expect(await contents(join(folder, 'cut'))).toEqual(await contents(join(folder, 'two')));
  });

  test('Ctrl-C ends it with one sentence and a way on', async () => {
    const child = spawn(
      process.execPath,
      [join(root, 'dist', 'seamwright.js'), 'series', 'friends', '--settings', 'series.yaml', '--out', 'hand'],
      { cwd: folder },
    );
    let err = '';
    const ended = new Promise<number | null>((done) => child.on('exit', done));
    child.stderr.on('data', (chunk) => {
      err += chunk;
      if (/choosing shades/.test(String(chunk))) child.kill('SIGINT');
    });
    expect(await ended).toBe(130);
    expect(err).toMatch(/seamwright: Stopped\. .+ --resume goes on from there\.\n$/);
  });

  test('a picture more leaves the others as they are; an exception makes one block a new edition', async () => {
    const before = await contents(join(folder, 'two'));
    const more = (await readdir(fixture('flat'))).filter((f) => f.endsWith('.svg')).sort()[3]!;
    await cp(fixture(`flat/${more}`), join(folder, 'friends', `aa ${more}`));
    const grown = JSON.parse((await series('two', '--resume')).out);
    expect(grown.blocks.filter((b: { fresh: boolean }) => b.fresh).map((b: { number: number }) => b.number)).toEqual([
      7,
    ]);
    const after = await contents(join(folder, 'two'));
    for (const [file, hash] of Object.entries(before)) {
      if (/^.\d\d /.test(file)) expect(after[file], file).toBe(hash);
    }
    const { file, name } = grown.blocks[0];
    await writeFile(join(folder, 'series.yaml'), `${settings}pictures:\n  ${file}: {turn: true}\n`);
    const changed = JSON.parse((await series('two', '--resume')).out);
    const fresh = changed.blocks.filter((b: { fresh: boolean }) => b.fresh);
    expect(fresh).toMatchObject([{ name, edition: 'B' }]);
    expect(fresh[0].print.length).toBeGreaterThan(0);
  });

  test.each([
    [['series'], 2],
    [['series', 'nowhere'], 2],
    [['series', 'friends', '--settings', 'none.yaml'], 2],
    [['series', 'friends', '--workers', '0'], 2],
  ] as const)('%j is refused in one sentence', async (args, code) => {
    const said = await callHere(args, folder);
    expect(said.code).toBe(code);
    expect(said.err).toMatch(/^seamwright: .+\.\n$/);
  });
});
