// The README's table of figures: written by `npm run hardening` alone, together with the file that a test holds it against.
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { root } from '../cli/run-program.ts';

type Rows = readonly (readonly [what: string, figure: string])[];
/** By the part of the run that counted them. */
export type Figures = Readonly<Record<string, Rows>>;

const README = join(root, 'README.md');
const FIGURES = join(root, 'test', 'hardening', 'figures.json');
const HEAD = '| what was done | what came of it |\n|---|---|\n';

export const readFigures = async (): Promise<Figures> => JSON.parse(await readFile(FIGURES, 'utf8')) as Figures;

export const rowsOf = (figures: Figures): Rows => Object.values(figures).flat();

export const tableOf = (figures: Figures): string =>
  HEAD +
  rowsOf(figures)
    .map(([a, b]) => `| ${a} | ${b} |\n`)
    .join('');

/** The table as the README has it. Throws where it has none. */
export async function readTable(): Promise<string> {
  const text = await readFile(README, 'utf8');
  const from = text.indexOf(HEAD);
  if (from < 0) throw new Error('the README has no table of figures');
  return text.slice(from).split('\n\n')[0]!.trimEnd().concat('\n');
}

/** What was counted now in place of what was counted before; parts that were not run stay. */
export async function writeFigures(order: readonly string[], now: Figures): Promise<void> {
  const all = { ...(await readFigures()), ...now };
  const figures: Figures = Object.fromEntries(order.map((part) => [part, all[part] ?? []]));
  const text = await readFile(README, 'utf8');
  await writeFile(README, text.replace(await readTable(), tableOf(figures)));
  await writeFile(FIGURES, `${JSON.stringify(figures, null, 2)}\n`);
}
