// The licences of what the program is made of, after a build. Without words: a list of every package that is installed with it or
// bundled into it. With --write FILE: the notices of all that is bundled into dist/, as their licences ask. What is bundled is read from
// the source maps, which name every file that a bundle was made of.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, sep } from 'node:path';

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly licenses?: readonly { readonly type: string }[];
  readonly author?: string | { readonly name: string };
  readonly dependencies?: Readonly<Record<string, string>>;
}

const root = join(import.meta.dirname, '..');
const dist = join(root, 'dist');
const read = (folder: string): Manifest => JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;

/** In what has no maps: fit.wasm, the declarations, the bundler's own few lines. */
const WITHOUT_MAPS = ['assemblyscript', 'zod', 'rolldown'];

/** Where a package is that `from` asks for: in its own node_modules, or one further up. */
function find(name: string, from: string): string | undefined {
  for (let at = from; at.length >= root.length; at = join(at, '..')) {
    const folder = join(at, 'node_modules', name);
    if (existsSync(join(folder, 'package.json'))) return folder;
  }
  return undefined;
}

type Packages = ReadonlyMap<string, string>;
/** Folders of packages, each once, by name and version, in alphabetical order. */
const named = (folders: Iterable<string>): Packages =>
  new Map(
    [...new Set(folders)]
      .map((folder): [string, string] => [`${read(folder).name} ${read(folder).version}`, folder])
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );

/** These packages and all that they need. */
function closure(names: readonly string[]): Packages {
  const found = new Set<string>();
  const visit = (name: string, from: string): void => {
    const folder = find(name, from);
    // what is for another platform is not here
    if (!folder || found.has(folder)) return;
    found.add(folder);
    for (const dependency of Object.keys(read(folder).dependencies ?? {})) visit(dependency, folder);
  };
  for (const name of names) visit(name, root);
  return named(found);
}

/** The packages of which a file is in a bundle. Throws where there is no build. */
function findBundled(): Packages {
  const folders = new Set(WITHOUT_MAPS.map((name) => find(name, root)!));
  const maps = existsSync(dist)
    ? readdirSync(dist, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.map'))
    : [];
  if (!maps.length) throw new Error('There are no source maps in dist/: run "npm run build" first.');
  for (const file of maps) {
    const { sources } = JSON.parse(readFileSync(join(dist, file), 'utf8')) as { readonly sources: readonly string[] };
    for (const source of sources) {
      const path = join(dist, file, '..', source);
      const inside = /^(.*[/\\]node_modules[/\\](?:@[^/\\]+[/\\])?[^/\\]+)[/\\]/.exec(path)?.[1];
      if (inside?.startsWith(root + sep)) folders.add(inside);
    }
  }
  return named(folders);
}

const licenceOf = ({ license, licenses }: Manifest): string =>
  license ?? licenses?.map((l) => l.type).join(' or ') ?? 'not stated';

const MIT = `Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`;

/** Texts of the package's licence and notice files. Where it has none but says MIT, that licence with the author it names. Throws
 *  where there is nothing to go by. */
function textOf(folder: string): string {
  const files = readdirSync(folder).filter((f) => /^(licen[cs]e|copying|notice)(\.|-|$)/i.test(f));
  if (files.length) return files.map((f) => readFileSync(join(folder, f), 'utf8').trim()).join('\n\n');
  const manifest = read(folder);
  if (licenceOf(manifest) !== 'MIT') throw new Error(`${manifest.name} holds no file with its licence.`);
  const author = typeof manifest.author === 'string' ? manifest.author : manifest.author?.name;
  return `Copyright (c) ${author ?? `the authors of ${manifest.name}`}\n\n${MIT}`;
}

function notices(): string {
  const parts = [...findBundled()].map(([key, folder]) => `${key} (${licenceOf(read(folder))})\n\n${textOf(folder)}\n`);
  return `These packages are bundled into Seamwright, each under its own licence.\n\n${parts.join(`\n${'-'.repeat(80)}\n\n`)}`;
}

function list(): string {
  const lines = (packages: Packages): string =>
    [...packages].map(([key, folder]) => `  ${key.padEnd(44)} ${licenceOf(read(folder))}`).join('\n');
  const installed = closure(Object.keys(read(root).dependencies ?? {}));
  return `Installed with it:\n${lines(installed)}\nBundled into it:\n${lines(findBundled())}\n`;
}

// a reader that has seen enough, as `head` has, is no fault
process.stdout.on('error', (e: NodeJS.ErrnoException) => {
  if (e.code !== 'EPIPE') throw e;
});
const at = process.argv.indexOf('--write');
if (at > 0) writeFileSync(process.argv[at + 1]!, notices());
else process.stdout.write(list());
