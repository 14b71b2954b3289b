// Every block file and drawing is answered in 15 s of processor time and 1 GB, opens no other file, and ends in a sentence.
import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkSvg } from '../../src/apart/svg-limits.ts';
import { root, type Said } from '../cli/run-program.ts';
import { HOSTILE, wordsFor } from './hostile-inputs.ts';

const SECONDS = 15;
const MOST_KILOBYTES = 1024 * 1024;
const watch = `data:text/javascript,process.on('exit',()=>{const u=process.resourceUsage();process.stderr.write('\\npeak='+u.maxRSS+' cpu='+(u.userCPUTime+u.systemCPUTime)/1e6)})`;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-inputs-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('block files and drawings', () => {
  test.each(HOSTILE.filter((h) => !h.slow))('$name', async (hostile) => {
    const { name, ending, text } = hostile;
    const file = join(folder, `${name.replace(/\W+/g, '-')}.${ending}`);
    await writeFile(file, text());
    const said = await new Promise<Said>((done) =>
      execFile(
        process.execPath,
        ['--import', watch, join(root, 'dist', 'seamwright.js'), ...wordsFor(hostile, file)],
        { maxBuffer: 1e8 },
        (e, out, err) => done({ code: e ? Number(e.code) : 0, out, err }),
      ),
    );
    const [, peak, cpu] = /peak=(\d+) cpu=([\d.]+)/.exec(said.err)!;
    expect([0, 1], said.err).toContain(said.code);
    expect(said.err).not.toMatch(/\n\s+at |fault of the program/);
    if (said.code && !said.out) expect(said.err.match(/seamwright: [^\n]+\.\n/g), said.err).toHaveLength(1);
    expect(Number(cpu), 'seconds of processor time').toBeLessThan(SECONDS);
    expect(Number(peak), 'kB').toBeLessThan(MOST_KILOBYTES);
  });
});

test('what is drawn names nothing outside its file', () => {
  for (const { ending, text, name } of HOSTILE.filter((h) => h.ending === 'svg' && /picture|data:/.test(h.name))) {
    expect(ending).toBe('svg');
    expect(checkSvg(text(), name, false).text, name).not.toMatch(/hostname|file:|data:/);
  }
});
