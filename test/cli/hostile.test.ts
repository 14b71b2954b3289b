// Every hostile file through the whole command: a clear refusal or a sound block, never a crash, never half-written files.
import { execFile } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { checkBlock, readBlock } from '../../src/index.ts';

const root = join(import.meta.dirname, '..', '..');
const hostile = join(root, 'fixtures', 'hostile');
const MOST_KILOBYTES = 1024 * 1024;
/** prints the process's greatest memory when it ends */
const watch = `data:text/javascript,process.on('exit',()=>process.stderr.write('\\npeak='+process.resourceUsage().maxRSS))`;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-hostile-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const run = (file: string, out: string): Promise<{ code: number; out: string; err: string }> =>
  new Promise((done) =>
    execFile(
      process.execPath,
      [
        ...['--import', watch, join(root, 'dist', 'seamwright.js'), 'block', join(hostile, file)],
        ...['--out', out, '--name', 'block', '--effort', 'quick', '--pieces', '12', '--paper', 'letter'],
      ],
      (e, stdout, err) => done({ code: e ? Number(e.code) : 0, out: stdout, err }),
    ),
  );

test.concurrent.each(readdirSync(hostile).sort())('%s', { timeout: 300_000 }, async (file) => {
  const out = join(folder, file.replace(/\W/g, '-'));
  const said = await run(file, out);
  expect([0, 1], said.err).toContain(said.code);
  expect(said.err).not.toMatch(/\n\s+at |fault of the program/);
  const peak = Number(/peak=(\d+)/.exec(said.err)?.[1]);
  expect(peak).toBeGreaterThan(0);
  expect(peak).toBeLessThan(MOST_KILOBYTES);
  if (said.code === 0) {
    const block = readBlock(await readFile(join(out, 'block.block.json'), 'utf8'), file);
    expect(checkBlock(block).faults).toEqual([]);
    expect(readdirSync(out)).toHaveLength(4);
  } else {
    expect(said.err.match(/seamwright: /g)).toHaveLength(1);
    expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);
  }
});
