// The page's worker threads where one of them breaks: what else they were asked for is not touched.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Crew } from '../../src/page/server/crew.ts';
import { blockSettings, firstSettings } from '../../src/page/server/settings.ts';
import { fixture } from '../cli/run-program.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-crew-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('a worker that runs out of memory', () => {
  test('fails its own job with a sentence; the next job is done', async () => {
    const path = join(folder, 'huge.block.json');
    await writeFile(path, `{"format":"seamwright-block","sections":[${'[[1],[2]],'.repeat(700_000)}[]]}`);
    const crew = new Crew(1, { maxOldGenerationSizeMb: 72 });
    const settings = blockSettings(firstSettings('huge'));
    const upright = join(folder, 'upright.jpg');
    const huge = crew.ask('openFile', { path, name: 'huge.block.json', upright, settings }, 'one');
    const middle = join(folder, 'middle.jpg');
    const snapshot = fixture('flat/raster-horse-jpeg-artefacts.jpg');
    const after = crew.ask('readSnapshot', { path: snapshot, name: 'straw.jpg', id: 'straw', middle }, 'two');
    await expect(huge.answer).rejects.toThrow(/broken off by a fault of the program/);
    expect(await after.answer).toMatchObject({ name: 'straw', colour: expect.stringMatching(/^#[0-9a-f]{6}$/) });
    await crew.close();
  });
});
