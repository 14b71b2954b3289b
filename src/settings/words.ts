// Settings in words: what stands on a command line or in a series' file, by the names of the options.
import { z } from 'zod';
import type { Field } from './field.ts';
import { FIELDS } from './fields.ts';
import { readWords } from './kinds.ts';
import type { Fields, Settings } from './settings.ts';

const table = FIELDS as unknown as Fields;

/** Words by option ("most": "7", "turn": true, "focus": ["none"]). */
export type Words = Readonly<Record<string, string | number | boolean | readonly string[] | undefined>>;

/** The name of an option as an object has it: "background-colour" -> "backgroundColour". */
export const keyOfOption = (option: string): string => option.replace(/-([a-z])/g, (_, c: string) => c.toUpperCase());

/** Fields that have an option, in their order, with its name. */
export const optionFields = (fields: Fields = table): [name: string, option: string, field: Field<unknown>][] =>
  (Object.entries(fields) as unknown as [string, Field<unknown>][]).flatMap(([name, f]) =>
    f.option === undefined ? [] : [[name, f.option, f]],
  );

/** What was set, of all words that are options of fields; others are passed over. Throws UserError (exit 2) that names the field. */
export function settingsOfWords(words: Words, fields: Fields = table): Partial<Settings> {
  const set: Record<string, unknown> = {};
  for (const [name, option, f] of optionFields(fields)) {
    const word = words[option] ?? words[keyOfOption(option)];
    if (word === undefined) continue;
    set[name] = readWords(f.kind, Array.isArray(word) ? word.join('\n') : String(word), name);
  }
  return set as Partial<Settings>;
}

/** How one block's options stand in a file: by their names, in the words of the command line. */
export const wordsSchema = (fields: Fields = table) =>
  z.strictObject(
    Object.fromEntries(
      optionFields(fields)
        .filter(([, , f]) => !f.forAll)
        .map(([, option, f]) => [option, wordOf(f).optional().describe(f.help)]),
    ),
  );

function wordOf({ kind: { words } }: Field<unknown>): z.ZodType {
  if (words?.choices) return z.enum(words.choices as [string, ...string[]]);
  if (words?.many) return z.array(z.string());
  if (!words?.placeholder) return z.boolean();
  return words.placeholder === '<number>' || words.placeholder === '<size>' || words.placeholder === '<width>'
    ? z.union([z.string(), z.number()])
    : z.string();
}
