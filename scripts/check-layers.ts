// Fails where a room imports what its place in the house does not allow (a stage another stage, a kernel a stage, a shell one that
// stands after it), and where rooms import one another in a circle: the order of the house (DEVELOPERS.md).
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';

const STAGES = [
  'picture',
  'figure',
  'shade',
  'fit',
  'section',
  'check',
  'outline',
  'template',
  'fabric',
  'packet',
  'design',
  'quality',
];
const KERNELS = ['geometry', 'tree', 'drawing', 'colour', 'problems', 'units.ts', 'names.ts', 'depth.ts', 'apart'];
const SHARED = ['block.ts', 'data.ts', 'data', 'levels.ts'];
/** Threads know no work but what a table of jobs names: they are handed it. */
const THREADS = 'threads';
/** What knows several stages, in order: each may import what stands before it, so no two import one another. */
const SHELLS = [
  'settings',
  'locale.ts',
  'files.ts',
  'folder-lock.ts',
  'worker-file.ts',
  'queue',
  'pipeline',
  'compare',
  'series',
  'commands',
  'block-entry.ts',
  'library.ts',
  'page',
  'worker.ts',
  'cli',
  'index.ts',
];

const src = join(import.meta.dirname, '..', 'src');
const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter(
  (f) => f.endsWith('.ts') || f.endsWith('.tsx'),
);
const room = (file: string): string => file.split(sep)[0]!;

/** Parts of check/ that explain and mend; the verdict itself rests on none of them. */
const MENDING = ['explain-pieces.ts', 'repair-pieces.ts'];

const VIEW = join('page', 'view');
/** What the page's view may import besides itself and kernels: what it says to the server, and what is small and counts nothing. */
const FOR_VIEW = [
  join('page', 'api.ts'),
  join('page', 'plan-api.ts'),
  'block.ts',
  'levels.ts',
  join('template', 'printed-side.ts'),
  // a change by hand is drawn before the server has answered, and refused live, by the same rules
  join('section', 'change-block.ts'),
  join('section', 'move-seam.ts'),
  join('section', 'new-fabric.ts'),
];

/** The view runs in a browser: it is nobody else's, and it does not compute what the server does. */
function isOutOfView(from: string, to: string): boolean {
  const inside = (file: string): boolean => file.startsWith(VIEW + sep);
  if (!inside(from)) return inside(to);
  return !inside(to) && !FOR_VIEW.includes(to) && !KERNELS.includes(room(to));
}

/** What a room may import besides itself. */
function allowed(from: string): (to: string) => boolean {
  if (KERNELS.includes(from)) return (to) => KERNELS.includes(to);
  if (SHARED.includes(from)) return (to) => KERNELS.includes(to) || SHARED.includes(to);
  // the check stands on its own: not even on the rule that the fit and the numbering share
  if (from === 'check') return (to) => SHARED.includes(to) || ['units.ts', 'problems', 'names.ts'].includes(to);
  if (STAGES.includes(from)) return (to) => KERNELS.includes(to) || SHARED.includes(to);
  if (from === THREADS) return (to) => KERNELS.includes(to);
  const at = SHELLS.indexOf(from);
  if (at >= 0) return (to) => !SHELLS.slice(at).includes(to);
  throw new Error(`src/${from} is in no layer: name it in scripts/check-layers.ts`);
}

const faults: string[] = [];
/** room -> rooms that it imports */
const imports = new Map<string, Set<string>>();
for (const file of files) {
  const text = readFileSync(join(src, file), 'utf8');
  for (const [, target] of text.matchAll(/(?:from|import)\s*\(?\s*'(\.[^']+)'/g)) {
    const to = relative(src, join(src, dirname(file), target!));
    if (room(to) !== room(file)) imports.set(room(file), (imports.get(room(file)) ?? new Set()).add(room(to)));
    const mends = room(file) === 'check' && MENDING.includes(file.split(sep).at(-1)!) && room(to) === 'geometry';
    if (isOutOfView(file, to) || (room(to) !== room(file) && !mends && !allowed(room(file))(room(to))))
      faults.push(`src/${file} imports src/${to}`);
  }
}
for (const circle of circles()) faults.push(`a circle of rooms: ${circle.join(' -> ')}`);

/** Ways through the rooms that come back to where they began, each once. */
function circles(): string[][] {
  const found: string[][] = [];
  const done = new Set<string>();
  const walk = (at: string, way: readonly string[]): void => {
    if (way.includes(at)) found.push([...way.slice(way.indexOf(at)), at]);
    if (way.includes(at) || done.has(at)) return;
    for (const to of imports.get(at) ?? []) walk(to, [...way, at]);
    done.add(at);
  };
  for (const at of imports.keys()) walk(at, []);
  return found;
}

if (faults.length) {
  console.error(`Layers: ${faults.length} ${faults.length === 1 ? 'fault' : 'faults'} against the order of the house:`);
  for (const f of faults) console.error(`  ${f}`);
  process.exit(1);
}
console.log(`Layers: ${files.length} files in order.`);
