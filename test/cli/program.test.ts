// The program as it is built: its version, its schemas, and the stack of a fault.
import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { blockJsonSchema } from '../../src/block.ts';
import { defaultSettings, settingsJsonSchema } from '../../src/settings/settings.ts';
import { callHere, root, runProgram } from './run-program.ts';

const readJson = async (...path: string[]) => JSON.parse(await readFile(join(root, ...path), 'utf8'));

test('the version is that of the package', async () => {
  const { version } = await readJson('package.json');
  expect(await runProgram(['--version'], root)).toEqual({ code: 0, out: `${version}\n`, err: '' });
  expect((await callHere(['--help'], root)).out).toContain('--version');
});

describe('seamwright schema', () => {
  test('prints the schema of block files, of settings or of a series; the package holds the same as files', async () => {
    for (const of of ['block', 'settings', 'series'] as const) {
      const { code, out } = await callHere(['schema', of], root);
      expect(code).toBe(0);
      expect(await readFile(join(root, 'dist', `${of}.schema.json`), 'utf8')).toBe(out);
    }
    const block = await callHere(['schema'], root);
    expect(JSON.parse(block.out)).toEqual(JSON.parse(JSON.stringify(blockJsonSchema())));
    const settings = JSON.parse((await callHere(['schema', 'settings'], root)).out);
    expect(settings).toEqual(JSON.parse(JSON.stringify(settingsJsonSchema())));
    expect(Object.keys(settings.properties).sort()).toEqual(Object.keys(defaultSettings()).sort());
  });

  test('refuses what there is no schema of', async () => {
    const said = await callHere(['schema', 'quilt'], root);
    expect(said.code).toBe(2);
    expect(said.err).toContain('block, settings, series');
  });
});

describe('a fault of the program', () => {
  const breakDown = (env: NodeJS.ProcessEnv): Promise<string> =>
    new Promise((done) => {
      const broken = 'data:text/javascript,process.stdout.write = () => { throw new Error("broken") }';
      const words = ['--import', broken, join(root, 'dist', 'seamwright.js'), 'schema'];
      execFile(process.execPath, words, { env: { ...process.env, ...env } }, (_e, _out, err) => done(err));
    });

  test('is said in a line, and with SEAMWRIGHT_TRACE its stack names the lines of the sources', async () => {
    expect(await breakDown({ SEAMWRIGHT_TRACE: '' })).toBe(
      'seamwright: This is a fault of the program, not yours: broken\n',
    );
    const [, file, line] = /at .*\(.*(src[/\\]cli[/\\]schema-command\.ts):(\d+):\d+\)/.exec(
      await breakDown({ SEAMWRIGHT_TRACE: '1' }),
    )!;
    expect((await readFile(join(root, file!), 'utf8')).split('\n')[Number(line) - 1]).toContain('printOut');
  });
});
