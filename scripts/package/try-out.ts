// What an installed package must be able to do, with any Node: the command, the library, the page, and all that lies in files of its own.
import { spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { root, run } from './install.ts';

interface Manifest {
  readonly version: string;
  readonly dependencies: Readonly<Record<string, string>>;
  readonly tsdown: readonly { readonly deps: { readonly alwaysBundle: readonly string[] } }[];
}

function expect(holds: boolean, otherwise: string): void {
  if (!holds) throw new Error(otherwise);
}

/** What is in the package, read and not run. */
export function readThrough(folder: string): void {
  const home = join(folder, 'node_modules', 'seamwright');
  for (const file of [
    'LICENSE',
    'README.md',
    'dist/NOTICES.txt',
    'dist/block.schema.json',
    'dist/settings.schema.json',
    'dist/fit.wasm',
    'dist/page/index.html',
    'src/shade/subject-model/LICENSE.txt',
  ])
    expect(existsSync(join(home, file)), `The package lacks ${file}.`);
  for (const [, link] of readFileSync(join(home, 'README.md'), 'utf8').matchAll(/\]\(([^)#:]+)\)/g))
    expect(existsSync(join(home, link!)), `The README points to ${link}, which is not in the package.`);

  const { dependencies, tsdown } = JSON.parse(readFileSync(join(home, 'package.json'), 'utf8')) as Manifest;
  const notices = readFileSync(join(home, 'dist', 'NOTICES.txt'), 'utf8');
  for (const path of tsdown.flatMap((part) => part.deps.alwaysBundle)) {
    const name = /^(@[^/]+\/)?[^/]+/.exec(path)![0];
    expect(notices.includes(`\n${name} `), `dist/NOTICES.txt lacks ${name}.`);
  }
  const dist = join(home, 'dist');
  for (const file of readdirSync(dist).filter((f) => f.endsWith('.js')))
    for (const name of importsOf(join(dist, file)))
      expect(isBuiltin(name) || name in dependencies, `dist/${file} imports ${name}, which is no dependency.`);
  const foreign = importsOf(join(dist, 'browser', 'block.js'));
  expect(!foreign.length, `The part for browsers imports ${foreign.join(', ')}.`);
}

/** Packages that a built file imports, as the bundler writes it. */
const importsOf = (file: string): string[] =>
  [...readFileSync(file, 'utf8').matchAll(/(?:from"|import"|import\(`)((?:@[\w-]+\/)?[\w:-]+)[^"`]*["`]/g)].map(
    (m) => m[1]!,
  );

/** The command and the library; the examples are compiled. Throws where something does not work. */
export async function tryOut(node: string, folder: string): Promise<void> {
  const home = join(folder, 'node_modules', 'seamwright');
  const { version } = JSON.parse(readFileSync(join(home, 'package.json'), 'utf8')) as Manifest;
  const seamwright = (...words: string[]): string => run(node, folder, 'npx', '--no', '--', 'seamwright', ...words);
  expect(seamwright('--version') === `${version}\n`, `"seamwright --version" does not print ${version}.`);
  expect(
    seamwright('schema') === readFileSync(join(home, 'dist', 'block.schema.json'), 'utf8'),
    'dist/block.schema.json is not what "seamwright schema" prints.',
  );

  const quick = ['--pieces', '30', '--effort', 'quick'];
  for (const [picture, ...options] of [
    ['flat/noto-fox.svg'],
    ['photos/fmt-heic-duck.heic'],
    // finds the animal and the face: the models, their engines and OpenCV
    ['photos/cat-chelsea-face.jpg', '--background', 'plain'],
  ])
    seamwright(
      'block',
      join(root, 'fixtures', picture!),
      '--out',
      'out',
      '--name',
      picture!.replace(/\W/g, '-'),
      ...quick,
      ...options,
    );
  const made = readdirSync(join(folder, 'out')).filter((f) => f.endsWith('.block.json'));
  expect(made.length === 3, `The command made ${made.length} of 3 blocks.`);
  for (const file of made)
    expect(
      (JSON.parse(seamwright('check', join('out', file), '--json')) as { faults: unknown[] }).faults.length === 0,
      `${file} cannot be sewn.`,
    );

  mkdirSync(join(folder, 'drawings'));
  cpSync(join(root, 'fixtures', 'lines', 'oc-dove.svg'), join(folder, 'drawings', 'dove.svg'));
  run(node, folder, node, 'one-block.js', join(root, 'fixtures', 'flat', 'noto-owl.svg'), 'out');
  run(node, folder, node, 'folder-of-drawings.js', 'drawings', 'out');
  for (const file of ['noto-owl.packet.pdf', 'dove.packet.pdf', 'work.csv'])
    expect(existsSync(join(folder, 'out', file)), `An example did not write ${file}.`);
  await visitPage(node, folder);
  tryWithoutQueue(node, folder);
}

/** The queue's library is in the package, and a series without a queue never asks for it. */
function tryWithoutQueue(node: string, folder: string): void {
  const dist = join(folder, 'node_modules', 'seamwright', 'dist');
  const bin = join(dist, 'seamwright.js');
  let said = '';
  try {
    run(node, folder, node, bin, 'worker', '--queue', 'redis://127.0.0.1:1');
  } catch (e) {
    said = (e as { stderr?: string }).stderr ?? '';
  }
  expect(said.includes('There is no queue at redis://127.0.0.1:1'), `A worker without a queue says: ${said}`);
  for (const file of readdirSync(dist).filter((f) => f.startsWith('over-queue-'))) rmSync(join(dist, file));
  run(node, folder, node, bin, 'series', 'drawings', '--out', 'series');
  expect(existsSync(join(folder, 'series', 'drawings.series.pdf')), 'A series needs what belongs to a queue.');
}

/** The page starts from the package and shows itself. */
async function visitPage(node: string, folder: string): Promise<void> {
  const bin = join(folder, 'node_modules', 'seamwright', 'dist', 'seamwright.js');
  const page = spawn(node, [bin, 'page', '--no-open', '--port', '0', '--folder', join(folder, 'works')], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const ended = new Promise<void>((done) => page.once('exit', () => done()));
  try {
    const address = await new Promise<string | undefined>((found) => {
      createInterface({ input: page.stdout }).once('line', found);
      page.once('exit', () => found(undefined));
    });
    expect(address !== undefined, 'The page does not start.');
    const answer = await fetch(address!);
    expect(answer.ok && (await answer.text()).includes('<script'), `The page answers with ${answer.status}.`);
  } finally {
    page.kill();
    await ended;
  }
}
