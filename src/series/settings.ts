// The settings of a series: one YAML or JSON file for all its pictures, with exceptions for single ones. What is wrong in it is
// said with its line. The options of a block are those of `seamwright block`, by the same names.
import { LineCounter, parseDocument } from 'yaml';
import { z } from 'zod';
import { FILLS } from '../drawing/fill.ts';
import { LEVELS } from '../levels.ts';
import { localSettings } from '../locale.ts';
import { isFileName, PLAIN_TEXT } from '../names.ts';
import { about, UserError } from '../problems/problem.ts';
import { completeSettings, type Settings } from '../settings/settings.ts';
import { settingsOfWords, type Words, wordsSchema } from '../settings/words.ts';
import { blockName } from './entries.ts';

/** that a series has in common at most */
export const MOST_FABRICS = 30;

/** options of a block, as on the command line */
const block = wordsSchema().describe('options of a block, as on the command line');

const length = z.string().describe('a length: 2in, 5cm');

const named = z.strictObject({
  name: z.string().min(1).max(60).regex(PLAIN_TEXT, 'write characters that show'),
  colour: z.string().regex(/^#[0-9a-fA-F]{6}$/),
  print: z.enum(['directional', 'large']).optional(),
});

const seriesSchema = z
  .strictObject({
    name: z
      .string()
      .min(1)
      .max(80)
      .refine(isFileName, 'write a name that can name files')
      .optional()
      .describe("the series' name; the folder's where absent"),
    common: z
      .enum(['fabrics', 'background'])
      .default('fabrics')
      .describe('one set of fabrics for all blocks, or only one background and own fabrics for each'),
    fabrics: z
      .union([z.int().min(2).max(20), z.array(named).min(2).max(MOST_FABRICS)])
      .optional()
      .describe('how many fabrics in common, or which: a list of names and colours'),
    keep: z
      .array(named)
      .max(20)
      .optional()
      .describe('fabrics that must be among the common ones, where those are chosen: a list of names and colours'),
    background: z
      .string()
      .regex(/^#[0-9a-fA-F]{6}$/)
      .optional()
      .describe('colour of the common background'),
    block: block.default({}),
    pictures: z.record(z.string(), block).default({}).describe('exceptions: file name -> options'),
    paper: z.string().optional(),
    units: z.enum(['inch', 'metric']).optional(),
    designer: z.string().optional(),
    fill: z.enum(FILLS).optional(),
    packet: z.enum(['full', 'short']).optional().describe('with every step, or short'),
    quilt: z
      .strictObject({
        across: z.int().min(1).max(40).optional().describe('blocks in a row'),
        setting: z.enum(['straight', 'on point']).default('straight'),
        sashing: length.optional(),
        'sashing-around': z.boolean().default(false).describe('sashing round the outside too'),
        cornerstones: z.boolean().default(false),
        borders: z.array(length).max(4).default([]),
      })
      .default({ setting: 'straight', 'sashing-around': false, cornerstones: false, borders: [] }),
  })
  .describe('The settings of a series of blocks');

export type SeriesSettings = z.infer<typeof seriesSchema>;
export type BlockOptions = Words;

/** The settings of one picture's block: those for all, and its own exceptions over them. Throws UserError that names the picture. */
export function settingsForPicture(series: SeriesSettings, file: string): Settings {
  const words = { ...series.block, ...series.pictures[file] } as Words;
  const { common, paper, units, designer, fill, packet } = series;
  const forAll = settingsOfWords({ paper, units, designer, fill, packet });
  const size = typeof words.size === 'string' ? words.size : undefined;
  try {
    return completeSettings({
      ...localSettings(
        units,
        size,
        LEVELS.find((l) => l === words.level),
      ),
      ...(common === 'background' && { background: 'plain' as const }),
      ...{ name: blockName(file), ...forAll, ...settingsOfWords(words) },
    });
  } catch (e) {
    throw e instanceof UserError ? about(file, { ...e, exitCode: 2 }) : e;
  }
}

export const seriesJsonSchema = (): unknown => z.toJSONSchema(seriesSchema, { io: 'input' });

/** of YAML; a settings file has none or a few */
const MOST_ANCHORS = 200;

/** The data that a document stands for. Throws UserError where its aliases grow without bounds. */
function plainOf(document: ReturnType<typeof parseDocument>, file: string): unknown {
  try {
    return document.toJS({ maxAliasCount: MOST_ANCHORS });
  } catch (e) {
    throw new UserError(
      'wrong-line',
      { file, line: 1, why: e instanceof RangeError ? 'it is nested too deep' : oneLine((e as Error).message) },
      2,
    );
  }
}

/** What the reader of YAML can follow without running out of its stack, which may end the program: no settings come near it. */
const MOST_NESTED = 600;
const MOST_DASHES = 32;
const MOST_INDENT = 400;

/** Brackets that close in a comment or in quotes close nothing: on lines that have either, only those that open are counted. */
function isNestedTooDeep(text: string): boolean {
  let depth = 0;
  for (const line of text.split(/[\r\n]/)) {
    if (/^\s*/.exec(line)![0].length > MOST_INDENT) return true;
    if ((line.match(/(?<=^|\s)[-?:](?=\s)/g)?.length ?? 0) > MOST_DASHES) return true;
    const sure = !/[#"']/.test(line);
    for (const c of line) {
      if (c === '[' || c === '{') depth++;
      else if (sure && (c === ']' || c === '}')) depth = Math.max(0, depth - 1);
      if (depth > MOST_NESTED) return true;
    }
  }
  return false;
}

/** Reads a settings file; JSON is YAML too. Throws UserError with the line of what is wrong first. */
export function readSeriesSettings(text: string, file: string): SeriesSettings {
  const lines = new LineCounter();
  if ((text.match(/(?<=^|[\s[{,:-])[&*](?=\S)/gm)?.length ?? 0) > MOST_ANCHORS)
    throw new UserError('wrong-line', { file, line: 1, why: `more than ${MOST_ANCHORS} anchors and aliases` }, 2);
  if (isNestedTooDeep(text)) throw new UserError('wrong-line', { file, line: 1, why: 'it is nested too deep' }, 2);
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, logLevel: 'error' });
  const broken = document.errors[0];
  if (broken)
    throw new UserError(
      'wrong-line',
      { file, line: lines.linePos(broken.pos[0]).line, why: oneLine(broken.message) },
      2,
    );
  const found = seriesSchema.safeParse(plainOf(document, file) ?? {});
  if (found.success) return found.data;
  const issue = found.error.issues[0]!;
  const path = issue.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0]!] : issue.path;
  const where = path.join('.') || 'the file as a whole';
  const says = issue.code === 'unrecognized_keys' ? 'there is no such setting' : oneLine(issue.message);
  throw new UserError('wrong-line', { file, line: lineOf(path), why: `${where}: ${says}` }, 2);

  /** The line of the deepest part of a path that is in the file. */
  function lineOf(keys: readonly PropertyKey[]): number {
    for (let n = keys.length; n > 0; n--) {
      const parent = n > 1 ? document.getIn(keys.slice(0, n - 1), true) : document.contents;
      const items = (
        parent as {
          items?: readonly { key?: { value?: unknown; range?: readonly number[] }; range?: readonly number[] }[];
        }
      )?.items;
      const item = items?.find((it, i) => it.key?.value === keys[n - 1] || (it.key === undefined && i === keys[n - 1]));
      const at = item?.key?.range?.[0] ?? item?.range?.[0];
      if (at !== undefined) return lines.linePos(at).line;
    }
    return 1;
  }
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').replace(/\.$/, '').trim();
