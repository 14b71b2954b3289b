// What parses a stranger's bytes runs in a process whose limits are of processor time and memory, and which opens no file.
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { ApartError, runApart } from '../../src/apart/run-apart.ts';
import { decodeRaster } from '../../src/picture/decode-raster.ts';
import { RASTER_SCRIPT } from '../../src/picture/raster-script.ts';

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

describe('the bytes of a picture', () => {
  const require = createRequire(import.meta.url);
  const task = {
    ...{ heic: false, sharp: pathToFileURL(require.resolve('sharp')).href, heicDecode: '', concurrency: 1 },
    ...{ most: 3e8, mostOfFormat: 3e8, leastSide: 32, workingShort: 1024, workingLong: 4096 },
    ...{ seconds: 15, secondsAMillion: 0.75 },
  };
  const decode = (bytes: Uint8Array, more: object, megabytes = 1000): Promise<string> =>
    runApart(RASTER_SCRIPT, [JSON.stringify({ ...task, ...more })], bytes, {
      ...{ seconds: 30, megabytes, module: require.resolve('sharp'), native: true },
    }).then(
      (said) => said.subarray(0, said.indexOf(10)).toString(),
      (e: ApartError) => e.reason,
    );
  // it has no lines to skip and must be held whole: interlaced
  const large = (): Promise<Buffer> =>
    sharp({
      create: { width: 6000, height: 6000, channels: 3, background: '#123', noise: { type: 'gaussian', mean: 99 } },
    })
      .png({ progressive: true, compressionLevel: 0 })
      .toBuffer();

  test('are decoded under limits of processor time and memory', async () => {
    const bytes = await large();
    expect(JSON.parse(await decode(bytes, {}))).toMatchObject({ fate: 'read', pixels: [6000, 6000], width: 1024 });
    expect(JSON.parse(await decode(bytes, { seconds: 0.01, secondsAMillion: 0 }))).toEqual({ fate: 'slow' });
    if (process.platform === 'linux') expect(await decode(bytes, {}, 300)).toMatch(/large|crashed|damaged/);
  });

  test('that no decoder takes are a sentence', async () => {
    const whole = await large();
    for (const size of [20, 200, 5000]) {
      const cut = whole.subarray(0, size);
      await expect(decodeRaster(cut, 'cut.png', 'png')).rejects.toThrow(
        /^cut\.png cannot be read: the PNG file is damaged/,
      );
    }
  });
});
