// What parses a stranger's bytes runs in a process whose limits are of processor time and memory, and which opens no file.
import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { ApartError, runApart } from '../../src/apart/run-apart.ts';

const module = createRequire(import.meta.url).resolve('heic-decode');
const posix = process.platform !== 'win32';
const fate = (script: string, seconds: number, native = false): Promise<string> =>
  runApart(`console.error('loaded');${script}`, [], new Uint8Array(3), { seconds, module, native }).then(
    (bytes) => `gave ${bytes}`,
    (e: ApartError) => (e instanceof ApartError ? e.reason : String(e)),
  );

test('what waits longer than its seconds by the clock is no slow file', async () => {
  expect(await fate("await new Promise((r) => setTimeout(r, 2500)); process.stdout.write('this')", 1)).toBe(
    'gave this',
  );
});

test.runIf(posix)('what takes more of the processor is stopped, and called slow', async () => {
  expect(await fate('for (;;);', 1)).toBe('slow');
});

test.runIf(posix)('what grows is stopped, and called large', async () => {
  expect(await fate('const a = []; for (;;) a.push(Buffer.alloc(5e7, 1));', 15)).toBe('large');
});

test.runIf(process.allowedNodeEnvironmentFlags.has('--allow-fs-read'))(
  'no file is read or written, no program started',
  async () => {
    for (const script of [
      "(await import('node:fs')).readFileSync('/etc/hostname')",
      "(await import('node:fs')).writeFileSync('/tmp/apart', '')",
      "(await import('node:child_process')).execFileSync('true')",
    ])
      expect(
        await fate(`try { ${script}; console.log('done') } catch (e) { process.stdout.write(e.code) }`, 15),
        script,
      ).toBe('gave ERR_ACCESS_DENIED');
  },
);

test('nothing of the environment is seen', async () => {
  const seen = await fate(
    'process.stdout.write(Object.keys(process.env).filter((k) => !/^(PWD|SHLVL|_|OLDPWD)$/.test(k)).join())',
    15,
  );
  expect(seen).toBe('gave ');
});
