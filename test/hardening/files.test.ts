// The one way in and the one way out for files: outside the folder, over another's file, through a link, from a device.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import {
  LARGEST_TEXT,
  makeFolder,
  outputPath,
  readInput,
  readText,
  refuseToOverwrite,
  writeOutputs,
} from '../../src/files.ts';
import { randomBlock } from '../check/random-block.ts';
import { callHere, root, runProgram } from '../cli/run-program.ts';

let home = '';
let folder = '';
beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'seamwright-files-'));
});
afterAll(() => rm(home, { recursive: true, force: true }));
let n = 0;
beforeEach(async () => {
  folder = join(home, `t${n++}`);
  await mkdir(folder);
});

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const one = (name: string, text: string) => new Map([[outputPath(folder, name), bytes(text)]]);
const names = async (): Promise<string[]> => (await readdir(folder)).sort();

describe('nothing is written outside its folder', () => {
  test.each([
    '../a',
    'a/b',
    'a\\b',
    '..',
    '.',
    '',
    ' ',
    'a\0b',
    'a\nb',
    'a\u202eb',
    'CON',
    'nul.txt',
    'com1.block.json',
    'x/../../y',
  ])('%j names no file', (name) => {
    expect(() => outputPath(folder, name)).toThrow(/cannot name a file/);
  });

  test('ids and codes of a block file are letters of the trade', async () => {
    const good = randomBlock(3);
    const ids = ['x/../../../../PWNED', '../A', 'a', 'AAAA', 'A1', 'A\n', '', 'Ä'];
    for (const id of ids) {
      const file = join(folder, 'b.block.json');
      const sections = good.sections.map((s, i) => (i ? s : { ...s, id }));
      await writeFile(file, JSON.stringify({ ...good, sections }));
      for (const words of [
        ['check', file],
        ['sheets', file, '--format', 'svg', '--each', 'section', '--out', join(folder, 'o')],
      ]) {
        const said = await callHere(words, folder);
        expect(said.code, id).toBe(1);
        expect(said.err).toMatch(/is not a block file of this program: sections\[0\].id/);
      }
    }
    for (const code of ['A1', 'A', 'ABC', 'AB12', 'a b', 'a/b', '1234567', '']) {
      const fabrics = good.fabrics.map((f, i) => (i ? f : { ...f, code }));
      await writeFile(join(folder, 'b.block.json'), JSON.stringify({ ...good, fabrics }));
      expect((await callHere(['check', 'b.block.json'], folder)).err, code).toMatch(/fabrics\[0\].code/);
    }
    expect(await names()).toEqual(['b.block.json']);
    expect(existsSync(join(home, 'PWNED'))).toBe(false);
  });

  test.each(['a\nb', 'a\tb', 'a\u001b[31mb', 'a\u202eb', 'a\u009bb', 'a\u2028b', 'x'.repeat(121)])(
    'the name %j is refused, and nothing of it steers the terminal',
    async (name) => {
      await writeFile(join(folder, 'b.block.json'), JSON.stringify({ ...randomBlock(3), name }));
      const said = await callHere(['check', 'b.block.json'], folder);
      expect(said.code).toBe(1);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there
      expect(said.out + said.err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2028]/);
    },
  );

  test('a file whose name would steer a terminal is spoken of with its characters written out', async () => {
    const said = await callHere(['check', 'a\u001b]0;owned\u0007\u202eb.svg'], folder);
    expect(said.err).toBe(
      'seamwright: There is no file a\\u001b]0;owned\\u0007\\u202eb.svg; check its name and folder.\n',
    );
  });
});

describe('nothing is replaced without --force', () => {
  test('what came meanwhile stays', async () => {
    refuseToOverwrite([outputPath(folder, 'a')], false);
    await writeFile(join(folder, 'b'), 'theirs');
    const both = new Map([...one('a', 'ours'), ...one('b', 'ours'), ...one('c', 'ours')]);
    await expect(writeOutputs(both, false)).rejects.toThrow(/b was written by another program meanwhile/);
    expect(await names()).toEqual(['b']);
    expect(await readFile(join(folder, 'b'), 'utf8')).toBe('theirs');
  });

  test('of many that write at once one wins, whole', async () => {
    const set = (k: number) =>
      new Map(['a', 'b', 'c'].map((f) => [outputPath(folder, f), bytes(`${k}`.repeat(10_000))]));
    const done = await Promise.allSettled(Array.from({ length: 9 }, (_, k) => writeOutputs(set(k), false)));
    expect(done.filter((d) => d.status === 'fulfilled').length).toBeLessThanOrEqual(1);
    const there = await names();
    expect([0, 3]).toContain(there.length);
    expect(new Set(await Promise.all(there.map((f) => readFile(join(folder, f), 'utf8')))).size).toBeLessThanOrEqual(1);
  });

  test('a link in the place of a file is something, and is never followed', async () => {
    const target = join(home, `target-${n}`);
    await writeFile(target, 'precious');
    await symlink(target, join(folder, 'a'));
    await symlink(join(folder, 'nowhere'), join(folder, 'b'));
    for (const f of ['a', 'b']) {
      expect(() => refuseToOverwrite([outputPath(folder, f)], false)).toThrow(/is there already/);
      await expect(writeOutputs(one(f, 'x'), false)).rejects.toThrow(/meanwhile/);
      await writeOutputs(one(f, 'x'), true);
      expect(await readFile(join(folder, f), 'utf8')).toBe('x');
    }
    expect(await readFile(target, 'utf8')).toBe('precious');
    expect(await names()).toEqual(['a', 'b']);
  });

  test('names of what is under way cannot be foretold', async () => {
    const target = join(home, `planted-${n}`);
    await writeFile(target, 'precious');
    for (const planted of ['.a.part', 'a.part', '.a.tmp']) await symlink(target, join(folder, planted));
    await writeOutputs(one('a', 'x'), false);
    expect(await readFile(target, 'utf8')).toBe('precious');
  });
});

describe('refused before any work', () => {
  test('a folder in a file place, also with --force', async () => {
    await mkdir(join(folder, 'c'));
    const paths = ['a', 'b', 'c', 'd'].map((f) => outputPath(folder, f));
    expect(() => refuseToOverwrite(paths, true)).toThrow(/c is a folder, and a file of that name/);
    await writeFile(join(folder, 'a'), 'old');
    await expect(writeOutputs(new Map(paths.map((p) => [p, bytes('new')])), true)).rejects.toThrow(/is a folder/);
    expect(await readFile(join(folder, 'a'), 'utf8')).toBe('old');
    expect(await names()).toEqual(['a', 'c']);
  });

  test('--out that is a file, or lies below one', async () => {
    await writeFile(join(folder, 'f'), '');
    for (const out of ['f', 'f/g', 'f/g/h']) {
      expect(() => refuseToOverwrite([outputPath(join(folder, out), 'a')], false)).toThrow(/is a file, not a folder/);
      await expect(makeFolder(join(folder, out))).rejects.toThrow(/is a file, not a folder/);
    }
  });

  test.runIf(process.platform === 'linux')('--out in a folder that the system makes up', async () => {
    await expect(makeFolder('/proc/self/x/y')).rejects.toThrow(/cannot be written/);
  });
});

describe('only ordinary files are read', () => {
  test('folders, devices, pipes and what is too large', async () => {
    await expect(readInput(folder)).rejects.toThrow(/is a folder/);
    await expect(readInput(join(folder, 'none'))).rejects.toThrow(/There is no file/);
    await writeFile(join(folder, 'long'), Buffer.alloc(LARGEST_TEXT + 1));
    await expect(readText(join(folder, 'long'), 'block file')).rejects.toThrow(/larger than 8 MB/);
    if (process.platform === 'win32') return;
    for (const device of ['/dev/zero', '/dev/urandom', '/dev/null', '/dev/tty'])
      await expect(readInput(device), device).rejects.toThrow(/no ordinary file|cannot be opened/);
    execFileSync('mkfifo', [join(folder, 'pipe')]);
    await expect(readInput(join(folder, 'pipe'))).rejects.toThrow(/no ordinary file/);
  });

  test.runIf(process.platform === 'linux')('a file whose size is said wrongly is read to its end', async () => {
    const text = new TextDecoder().decode(await readInput('/proc/self/status'));
    expect(text).toMatch(/^Name:/);
  });

  test('every command refuses a device at once', async () => {
    if (process.platform === 'win32') return;
    await writeFile(join(folder, 'a.txt'), '');
    for (const words of [
      ['block', '/dev/zero'],
      ['check', '/dev/zero'],
      ['sheets', '/dev/zero'],
      ['change', '/dev/zero', '--rename', 'fa=x'],
      ['yardage', '/dev/zero'],
      ['compare', '/dev/zero'],
      ['series', folder, '--settings', '/dev/zero'],
      ['block', join(root, 'fixtures/flat/noto-fox.svg'), '--fabrics', '/dev/zero'],
    ]) {
      const said = await callHere(words, folder);
      expect(said.err, words.join(' ')).toMatch(/^seamwright: \/dev\/zero is no ordinary file but a device/);
      expect(said.code).toBe(2);
    }
  });
});

test('a reader that goes away, and a full device, end in no stack', async () => {
  if (process.platform === 'win32') return;
  const program = join(root, 'dist', 'seamwright.js');
  const said = (command: string): Promise<string> =>
    new Promise((done) => {
      const child = spawn('/bin/sh', ['-c', command], { cwd: folder });
      let err = '';
      child.stderr.on('data', (c: Buffer) => (err += c));
      child.on('close', () => done(err));
    });
  expect(await said(`"${process.execPath}" "${program}" schema | true`)).toBe('');
  if (existsSync('/dev/full'))
    expect(await said(`"${process.execPath}" "${program}" schema > /dev/full`)).toBe(
      'seamwright: What was to be printed cannot be written: the disk is full.\n',
    );
  expect((await runProgram(['schema'], folder)).code).toBe(0);
});
