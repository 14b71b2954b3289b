// What is installed: exact versions with checksums, nothing that runs at the install, licences that may be passed on.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { root } from '../cli/run-program.ts';

interface Locked {
  readonly version: string;
  readonly integrity?: string;
  readonly dev?: boolean;
  readonly license?: string;
  readonly hasInstallScript?: boolean;
}
const read = (file: string) => JSON.parse(readFileSync(join(root, file), 'utf8'));
const manifest = read('package.json') as Record<'dependencies' | 'devDependencies' | 'scripts', Record<string, string>>;
const { packages } = read('package-lock.json') as { packages: Record<string, Locked> };
const locked = Object.entries(packages).filter(([path]) => path);
const installed = locked.filter(([, p]) => !p.dev);

test('versions are exact, and the lock file has the checksum of each package', () => {
  const named = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies });
  expect(named.length).toBeGreaterThan(30);
  expect(named.filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))).toEqual([]);
  for (const [name, version] of named) expect(packages[`node_modules/${name}`]?.version, name).toBe(version);
  expect(locked.filter(([, p]) => !p.integrity?.startsWith('sha512-')).map(([path]) => path)).toEqual([]);
});

test('nothing that is installed with the program runs at the install', () => {
  expect(installed.filter(([, p]) => p.hasInstallScript).map(([path]) => path)).toEqual([]);
  expect(Object.keys(manifest.scripts).filter((s) => /^(pre|post)?install$/.test(s))).toEqual([]);
  // of those for developers one checks that its program fits the machine, one makes a queue's messages quicker; both work without
  const running = locked.filter(([, p]) => p.hasInstallScript).map(([path]) => path.replace(/^.*node_modules\//, ''));
  expect(new Set(running)).toEqual(new Set(['esbuild', 'msgpackr-extract']));
});

test('licences that may be passed on; those that ask for their source to be had are of libraries used as they are', () => {
  const free = /^(MIT|ISC|0BSD|Apache-2\.0|BSD-[23]-Clause)$/;
  const others = new Set(
    installed.filter(([, p]) => !free.test(p.license ?? '')).map(([path]) => path.replace(/^.*node_modules\//, '')),
  );
  const known = [
    // LGPL-3.0: libvips and libheif, each a file of its own that can be exchanged; MPL-2.0: resvg
    ...[/^@img\/sharp-/, /^libheif-js$/, /^@resvg\/resvg-js/],
    // Bitstream Vera's licence with changes in the public domain; MIT, said in its file alone
    ...[/^dejavu-fonts-ttf$/, /^png-js$/],
  ];
  expect([...others].filter((name) => !known.some((k) => k.test(name)))).toEqual([]);
});
