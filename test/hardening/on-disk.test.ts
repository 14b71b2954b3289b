// The order in which files reach the disk: a power cut at any moment leaves the old file or the new one, whole. Names are given only to
// what has been waited for, and what is said to be written has its name on the disk.
import type * as Fs from 'node:fs/promises';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterAll, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { outputPath, writeOutputs, writeWhole } from '../../src/files.ts';

const done: string[] = [];
const called = (path: unknown): string => (String(path).endsWith('.part') ? 'part' : basename(String(path)));

vi.mock('node:fs/promises', async (original) => {
  const fs = await original<typeof Fs>();
  return {
    ...fs,
    open: async (path: string, ...more: [never, never]) => {
      const file = await fs.open(path, ...more);
      const { writeFile, sync } = file;
      file.writeFile = (...args) => {
        done.push(`write ${called(path)}`);
        return writeFile.apply(file, args);
      };
      file.sync = () => {
        done.push(`sync ${called(path)}`);
        return sync.apply(file);
      };
      return file;
    },
    rename: (from: string, to: string) => {
      done.push(`name ${called(to)}`);
      return fs.rename(from, to);
    },
    link: (from: string, to: string) => {
      done.push(`name ${called(to)}`);
      return fs.link(from, to);
    },
  };
});

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-disk-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));
beforeEach(() => void done.splice(0));

test('a file of the program: written, waited for, named, and its name waited for', async () => {
  await writeWhole(join(folder, 'work.json'), 'x');
  expect(done).toEqual(['write part', 'sync part', 'name work.json', `sync ${basename(folder)}`]);
});

test.each([true, false])(
  'files of a command: none is named before all are on the disk (replacing: %s)',
  async (force) => {
    const files = new Map(['a', 'b', 'c'].map((f) => [outputPath(folder, `${f}-${force}`), new Uint8Array(9)]));
    await writeOutputs(files, force);
    const written = Array.from({ length: 3 }, () => ['write part', 'sync part']).flat();
    expect(done).toEqual([...written, ...['a', 'b', 'c'].map((f) => `name ${f}-${force}`), `sync ${basename(folder)}`]);
    expect((await readdir(folder)).filter((f) => f.endsWith('.part'))).toEqual([]);
  },
);
