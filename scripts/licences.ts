// The licences of what the program is made of. Without words: a list of every package that is installed with it or bundled into it.
// With --write FILE: the notices of all that is bundled into dist/, as their licences ask.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly licenses?: readonly { readonly type: string }[];
  readonly dependencies?: Readonly<Record<string, string>>;
}

const root = join(import.meta.dirname, '..');
const read = (folder: string): Manifest => JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;

/** Where a package lies that `from` asks for: in its own node_modules, or one further up. */
function find(name: string, from: string): string | undefined {
  for (let at = from; at.length >= root.length; at = join(at, '..')) {
    const folder = join(at, 'node_modules', name);
    if (existsSync(join(folder, 'package.json'))) return folder;
  }
  return undefined;
}

/** These packages and all that they need, each once, by name. */
function closure(names: readonly string[]): Map<string, string> {
  const found = new Map<string, string>();
  const visit = (name: string, from: string): void => {
    const folder = find(name, from);
    // what is for another platform is not here
    if (!folder) return;
    const { version, dependencies = {} } = read(folder);
    const key = `${name} ${version}`;
    if (found.has(key)) return;
    found.set(key, folder);
    for (const dependency of Object.keys(dependencies)) visit(dependency, folder);
  };
  for (const name of names) visit(name, root);
  return new Map([...found].sort(([a], [b]) => (a < b ? -1 : 1)));
}

const licenceOf = ({ license, licenses }: Manifest): string =>
  license ?? licenses?.map((l) => l.type).join(' or ') ?? 'not stated';

/** The text of the licence file, if the package has one. */
function textOf(folder: string): string {
  const file = readdirSync(folder).find((f) => /^(licen[cs]e|copying|notice)(\.|-|$)/i.test(f));
  return file ? readFileSync(join(folder, file), 'utf8').trim() : '(The package holds no file with its licence.)';
}

const own = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Manifest & {
  readonly tsdown: readonly { readonly deps: { readonly alwaysBundle: readonly string[] } }[];
};
const bundled = closure([
  ...new Set(
    own.tsdown.flatMap((t) =>
      t.deps.alwaysBundle.map((n) =>
        n
          .split('/')
          .slice(0, n[0] === '@' ? 2 : 1)
          .join('/'),
      ),
    ),
  ),
]);

const at = process.argv.indexOf('--write');
if (at > 0) {
  const parts = [...bundled].map(([key, folder]) => `${key} (${licenceOf(read(folder))})\n\n${textOf(folder)}\n`);
  writeFileSync(
    process.argv[at + 1]!,
    `These packages are bundled into Seamwright, each under its own licence.\n\n${parts.join(`\n${'-'.repeat(80)}\n\n`)}`,
  );
} else {
  const installed = closure(Object.keys(own.dependencies ?? {}));
  const line = ([key, folder]: [string, string]): string => `  ${key.padEnd(44)} ${licenceOf(read(folder))}`;
  process.stdout.write(`Installed with it:\n${[...installed].map(line).join('\n')}\n`);
  process.stdout.write(`Bundled into it:\n${[...bundled].map(line).join('\n')}\n`);
}
