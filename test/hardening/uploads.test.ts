// No upload ends the page's server: cut off, too many, on a full disk. Nothing of it stays.
import { type FileHandle, open, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { fixture } from '../cli/run-program.ts';
import { newFolder, remove, type Visit, visit } from '../page/visit.ts';
import { cutOff } from './requests.ts';

let folder: string;
let v: Visit;
const ROOM = 3_000_000;

beforeAll(async () => {
  folder = await newFolder();
  v = await visit(folder, { room: ROOM });
});
afterAll(async () => {
  await v.close();
  await remove(folder);
});

const parts = async (): Promise<string[]> =>
  (await readdir(folder, { recursive: true }).catch(() => ['in between.part'])).filter((f) => f.endsWith('.part'));
const lives = async (): Promise<void> => {
  expect((await v.get('works')).status).toBe(200);
  // what is being taken away is gone in a moment
  for (let i = 0; i < 100 && (await parts()).length; i++) await new Promise((r) => setTimeout(r, 20));
  expect(await parts()).toEqual([]);
};

test('60 uploads that are cut off leave the page alive and nothing behind', async () => {
  for (let i = 0; i < 60; i++) await cutOff(v.page.address, i % 2 ? 200_000 : 10);
  await Promise.all(Array.from({ length: 10 }, () => cutOff(v.page.address, 100_000)));
  await lives();
});

test('a full disk is said in one sentence, and the page lives on', async () => {
  const any = await open(join(folder, 'any'), 'w');
  const proto = Object.getPrototypeOf(any) as FileHandle;
  await any.close();
  const { writeFile: write } = proto;
  proto.writeFile = async () => {
    throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' });
  };
  try {
    const { status, body } = await v.upload(fixture('flat/noto-fox.svg'));
    expect(status).toBe(507);
    expect(body.says).toBe('That could not be kept: the disk is full.');
  } finally {
    proto.writeFile = write;
  }
  await lives();
});

test('all works together have a limit', async () => {
  await writeFile(join(folder, 'works', 'old.bin'), Buffer.alloc(ROOM - 1000));
  const { status, body } = await v.upload(fixture('flat/noto-fox.svg'));
  expect(status).toBe(422);
  expect(body.says).toMatch(/^The works take 0 GB|^The works take/);
  await remove(join(folder, 'works', 'old.bin'));
  expect((await v.upload(fixture('flat/noto-fox.svg'))).status).toBe(200);
  await lives();
});
