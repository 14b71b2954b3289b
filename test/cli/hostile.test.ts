// Every hostile file through the whole command: a clear refusal or a sound block, never a crash, never half-written files.
import { execFile } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { checkBlock, readBlock } from '../../src/index.ts';
import { callHere, root, type Said } from './run-program.ts';

const hostile = join(root, 'fixtures', 'hostile');
const MOST_KILOBYTES = 1024 * 1024;
/** what could take all the memory there is, or hang: each in a process of its own */
const APART = /bomb|laughs|huge|nesting|bitflips|html-named/;
/** prints the process's greatest memory when it ends */
const watch = `data:text/javascript,process.on('exit',()=>process.stderr.write('\\npeak='+process.resourceUsage().maxRSS))`;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-hostile-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const callOf = (file: string, out: string): string[] => [
  ...['block', join(hostile, file), '--out', out, '--name', 'block', '--effort', 'quick', '--pieces', '12'],
  ...['--paper', 'letter'],
];

function judge(said: Said, out: string, text: string): void {
  expect([0, 1], said.err).toContain(said.code);
  expect(said.err).not.toMatch(/\n\s+at |fault of the program/);
  if (said.code === 0) {
    expect(checkBlock(readBlock(text, out)).faults).toEqual([]);
    expect(readdirSync(out)).toHaveLength(5);
  } else {
    expect(said.err.match(/seamwright: /g)).toHaveLength(1);
    expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);
  }
}
const textIn = (out: string): Promise<string> => readFile(join(out, 'block.block.json'), 'utf8').catch(() => '');

const all = readdirSync(hostile).sort();

test.each(all.filter((f) => !APART.test(f)))('%s', async (file) => {
  const out = join(folder, file.replace(/\W/g, '-'));
  const said = await callHere(callOf(file, out), folder);
  judge(said, out, await textIn(out));
  expect(process.resourceUsage().maxRSS).toBeLessThan(MOST_KILOBYTES);
});

test.concurrent.each(all.filter((f) => APART.test(f)))('%s, apart', async (file) => {
  const out = join(folder, file.replace(/\W/g, '-'));
  const said = await new Promise<Said>((done) =>
    execFile(
      process.execPath,
      ['--import', watch, join(root, 'dist', 'seamwright.js'), ...callOf(file, out)],
      (e, stdout, err) => done({ code: e ? Number(e.code) : 0, out: stdout, err }),
    ),
  );
  judge(said, out, await textIn(out));
  const peak = Number(/peak=(\d+)/.exec(said.err)?.[1]);
  expect(peak).toBeGreaterThan(0);
  expect(peak).toBeLessThan(MOST_KILOBYTES);
});
