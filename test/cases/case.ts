// A case: a folder with a picture and what is asked of it, and the block and the preview that it gives. Takes the folder, makes
// both anew and says in what they differ.
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { callHere } from '../cli/run-program.ts';
import { changedName, unlikeGolden } from '../look-alike.ts';

const FOLDER = import.meta.dirname;
/** pixels: the longer side of a preview that is kept */
const SIDE = 480;
/** share of the preview's pixels: the block being the same, only the drawing's edges may differ from machine to machine */
const MAY_DIFFER = 0.001;

type Value = string | number | boolean | readonly (string | number)[];
export type BlockOptions = Readonly<Record<string, Value>>;

export interface Made {
  readonly block: string;
  /** at its full size */
  readonly preview: Uint8Array;
  /** share of the block that differs from the posterised picture */
  readonly misplaced: number;
  /** the part of the picture that it shows, in pixels; absent where regions were given */
  readonly crop?: readonly [x: number, y: number, width: number, height: number];
}

export const caseNames = (): string[] =>
  readdirSync(FOLDER, { withFileTypes: true })
    .filter((f) => f.isDirectory())
    .map((f) => f.name)
    .sort();

export const inputOf = (name: string): string => {
  const input = readdirSync(join(FOLDER, name)).filter((f) => f.startsWith('input.'));
  if (input.length !== 1) throw new Error(`test/cases/${name} has ${input.length} files named input.*`);
  return join(FOLDER, name, input[0]!);
};

const expectedFiles = (name: string) => ({
  block: join(FOLDER, name, 'expected.block.json'),
  picture: join(FOLDER, name, 'expected.png'),
});

/** The only place that knows how options are said: as words of the command `block`. Those that name a file of `folder` stand for
 *  that file; `regions: true` says what the input is. */
function wordsOf(input: string, folder: string, options: BlockOptions): string[] {
  const { regions, ...rest } = options;
  const fileOr = (v: string | number): string => {
    const path = join(folder, String(v));
    return existsSync(path) ? path : String(v);
  };
  const words = Object.entries(rest).flatMap(([option, value]): string[] => {
    if (typeof value === 'boolean') return value ? [`--${option}`] : [];
    const list = Array.isArray(value) ? (value as readonly (string | number)[]) : [value as string | number];
    return list.flatMap((v) => [`--${option}`, fileOr(v)]);
  });
  return ['block', ...(regions ? ['--regions', input] : [input]), ...words];
}

/** Measures and paper follow the language of the machine where nothing is said. */
const EVERYWHERE: BlockOptions = { units: 'inch', paper: 'letter' };

/** The block of a picture, as the command makes it. Throws where it is refused. */
export async function makeBlockOf(input: string, options: BlockOptions, name: string): Promise<Made> {
  const out = await mkdtemp(join(tmpdir(), 'seamwright-case-'));
  try {
    const words = wordsOf(input, dirname(input), { ...EVERYWHERE, ...options });
    const said = await callHere([...words, '--name', name, '--out', out, '--json'], out);
    if (said.code !== 0) throw new Error(`${name} gives no block: ${said.err}`);
    const at = (ending: string): string => join(out, `${name}.${ending}`);
    const { crop, misplaced } = JSON.parse(said.out) as Pick<Made, 'crop' | 'misplaced'>;
    const block = await readFile(at('block.json'), 'utf8');
    return { block, preview: await readFile(at('preview.png')), misplaced, ...(crop && { crop }) };
  } finally {
    await rm(out, { recursive: true, force: true });
  }
}

export const makeCase = (name: string): Promise<Made> =>
  makeBlockOf(
    inputOf(name),
    JSON.parse(readFileSync(join(FOLDER, name, 'options.json'), 'utf8')) as BlockOptions,
    name,
  );

const smallOf = (preview: Uint8Array): Promise<Buffer> =>
  sharp(preview).resize(SIDE, SIDE, { fit: 'inside' }).png().toBuffer();

/** What differs from what is kept, a sentence each; what was made is then written beside it as *-changed. */
export async function judgeCase(name: string, made: Made): Promise<string[]> {
  const { block, picture } = expectedFiles(name);
  const before = existsSync(block) ? readFileSync(block, 'utf8') : undefined;
  const changed = changedName(block);
  const faults: string[] = [];
  if (before === made.block) rmSync(changed, { force: true });
  else {
    writeFileSync(changed, made.block);
    faults.push(
      before ? `${countsOf(made.block)}, was ${countsOf(before)}` : `${countsOf(made.block)}, and nothing was expected`,
    );
  }
  const unlike = await unlikeGolden(picture, await smallOf(made.preview), MAY_DIFFER);
  return unlike ? [...faults, unlike] : faults;
}

/** Takes what was made as what is expected. */
export async function acceptCase(name: string, made: Made): Promise<void> {
  const { block, picture } = expectedFiles(name);
  writeFileSync(block, made.block);
  for (const file of [picture, changedName(picture), changedName(block)]) rmSync(file, { force: true });
  await unlikeGolden(picture, await smallOf(made.preview), MAY_DIFFER);
  const png = readFileSync(changedName(picture));
  writeFileSync(picture, png);
  rmSync(changedName(picture));
}

function countsOf(text: string): string {
  const { sections } = JSON.parse(text) as { sections: { pieces: unknown[] }[] };
  return `${sections.reduce((n, s) => n + s.pieces.length, 0)} pieces in ${sections.length} sections`;
}
