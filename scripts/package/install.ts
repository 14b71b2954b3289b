// The package as somebody gets it: packed from what is built, and installed in an empty folder.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';

export const root = join(import.meta.dirname, '..', '..');
const EXAMPLES = join(root, 'test', 'examples');

/** A folder of its own, which whoever asks for it removes. */
export const makeFolder = (): string => mkdtempSync(join(tmpdir(), 'seamwright-package-'));

/** Runs a program with this Node first on the path; gives what it prints. Throws with what it said where it fails. */
export function run(node: string, folder: string, program: string, ...words: string[]): string {
  const env = { ...process.env, PATH: `${dirname(node)}${delimiter}${process.env.PATH}` };
  return execFileSync(program, words, { cwd: folder, env, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

/** Packs what is in dist/; the path of the tarball in `folder`. */
export function pack(folder: string): string {
  run(process.execPath, root, 'npm', 'pack', '--ignore-scripts', '--silent', '--pack-destination', folder);
  return join(folder, readdirSync(folder).find((f) => f.endsWith('.tgz'))!);
}

/** A new project in `folder` that has the package and nothing else, and the examples as its own programs. */
export function install(node: string, folder: string, tarball: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'package.json'), '{ "private": true, "type": "module" }\n');
  run(node, folder, 'npm', 'install', '--prefer-offline', '--no-audit', '--no-fund', '--silent', tarball);
  for (const file of readdirSync(EXAMPLES).filter((f) => !f.includes('.test.')))
    cpSync(join(EXAMPLES, file), join(folder, file));
}

const STRICT = [
  '--ignoreConfig',
  '--strict',
  '--noEmit',
  '--module',
  'nodenext',
  '--target',
  'es2023',
  '--types',
  'node',
];
/** Lines that must not compile; where the types are lost, they would. */
const MISTAKES = `import { makeBlock, type Settings } from 'seamwright';
import { readBlock } from 'seamwright/block';
// @ts-expect-error a size is two lengths
export const set: Partial<Settings> = { size: 'twelve inches' };
// @ts-expect-error a name is a word
export const name: number = readBlock('', '').name;
// @ts-expect-error blocks have no such thing
export const cloth = (await makeBlock(new Uint8Array())).cloth;
`;

/** Compiles the project's programs, with all declarations checked, as strictly as can be. */
export function compile(folder: string): void {
  for (const types of ['@types/node', 'undici-types'])
    cpSync(join(root, 'node_modules', types), join(folder, 'node_modules', types), { recursive: true });
  writeFileSync(join(folder, 'mistakes.ts'), MISTAKES);
  const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
  try {
    run(process.execPath, folder, process.execPath, tsc, '-p', folder, '--noEmit', 'false');
    run(process.execPath, folder, process.execPath, tsc, ...STRICT, 'mistakes.ts');
  } catch (e) {
    throw new Error(`The examples do not compile:\n${(e as { stdout?: string }).stdout}`);
  }
}
