// Every block file and drawing is answered in 15 s of processor time and 1 GB, opens no other file, and ends in a sentence.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkSvg } from '../../src/apart/svg-limits.ts';
import { HOSTILE } from './hostile-inputs.ts';
import { giveHostile } from './hostile-run.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-inputs-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('block files and drawings', () => {
  test.each(HOSTILE.filter((h) => !h.slow))('$name', async (hostile) => {
    const { fault, seconds } = await giveHostile(hostile, folder);
    expect(fault).toBeUndefined();
    expect(seconds).toBeGreaterThan(0);
  });
});

test('what is drawn names nothing outside its file', () => {
  for (const { ending, text, name } of HOSTILE.filter((h) => h.ending === 'svg' && /picture|data:/.test(h.name))) {
    expect(ending).toBe('svg');
    expect(checkSvg(text(), name, false).text, name).not.toMatch(/hostname|file:|data:/);
  }
});
