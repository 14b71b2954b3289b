// The kinds of values that settings have: what each may be (a zod schema, from which JSON Schemas are made), how people write it in
// words (a command line, a series' file), and what is said where it is wrong.
import { z } from 'zod';
import { type OwnPaper, PAPER_NAMES, type Paper, type PaperName, parsePaper } from '../drawing/paper.ts';
import { isFileName, PLAIN_TEXT } from '../names.ts';
import { UserError } from '../problems/problem.ts';
import { type Mm, parseLength, parseSize } from '../units.ts';

export interface Kind<T> {
  readonly schema: z.ZodType<T>;
  /** what is wrong with a value that the schema refuses */
  wrong(value: unknown, field: string): UserError;
  /** how it is written in words; a kind without is set in other ways */
  readonly words?: {
    /** "<number>"; none where the word alone says all */
    readonly placeholder?: string;
    /** the only words there are */
    readonly choices?: readonly string[];
    /** written again for another one */
    readonly many?: boolean;
    /** Throws UserError (exit 2) that names the field. */
    read(text: string, field: string): T;
  };
}

export type ValueOf<K> = K extends Kind<infer T> ? T : never;

/** The value itself where the schema takes it, else the problem is thrown. */
export function checkValue<T>(kind: Kind<T>, value: unknown, field: string): T {
  const found = kind.schema.safeParse(value);
  if (found.success) return found.data;
  throw kind.wrong(value, field);
}

/** Reads words, and holds what was read to the schema too. */
export const readWords = <T>(kind: Kind<T>, text: string, field: string): T =>
  checkValue(kind, kind.words!.read(text, field), field);

/** A value as it is said in a sentence. */
export const shown = (value: unknown): unknown =>
  Array.isArray(value) ? value.join() : typeof value === 'object' ? JSON.stringify(value) : value;

export function whole(least: number, most: number): Kind<number> {
  const wrong = (value: unknown, field: string): UserError =>
    new UserError('not-whole', { field, value: shown(value), least, most }, 2);
  return {
    schema: z.int().min(least).max(most),
    wrong,
    words: {
      placeholder: '<number>',
      read: (text, field) => {
        const n = Number(text);
        if (!text.trim() || !Number.isInteger(n)) throw wrong(text, field);
        return n;
      },
    },
  };
}

export function wholeOr<W extends string>(word: W, least: number, most: number): Kind<number | W> {
  const number = whole(least, most);
  return {
    schema: z.union([number.schema, z.literal(word)]),
    wrong: number.wrong,
    words: {
      placeholder: '<number>',
      read: (text, field) => (text === word ? word : number.words!.read(text, field)),
    },
  };
}

/** `hidden`: one that only the program itself takes. */
export function choice<const V extends readonly string[]>(values: V, hidden?: V[number]): Kind<V[number]> {
  const choices = values.filter((v) => v !== hidden);
  const wrong = (value: unknown, field: string): UserError =>
    new UserError('not-a-choice', { field, value: shown(value), choices }, 2);
  return {
    schema: z.enum(values) as unknown as z.ZodType<V[number]>,
    wrong,
    words: {
      choices,
      read: (text, field) => {
        if (!choices.includes(text)) throw wrong(text, field);
        return text;
      },
    },
  };
}

export const flag: Kind<boolean> = {
  schema: z.boolean(),
  wrong: (value, field) => new UserError('not-yes-or-no', { field, value: shown(value) }, 2),
  words: {
    read: (text, field) => {
      if (text !== 'true' && text !== 'false') throw flag.wrong(text, field);
      return text === 'true';
    },
  },
};

export const text = (most: number, placeholder: string): Kind<string> => ({
  schema: z.string().max(most).regex(PLAIN_TEXT),
  wrong: (_, field) => new UserError('text-too-long', { field, most }, 2),
  words: { placeholder, read: (written) => written.trim() },
});

/** "#rrggbb", or empty: chosen automatically. */
export const colour: Kind<string> = {
  schema: z.string().regex(/^(#[0-9a-fA-F]{6})?$/),
  wrong: (value, field) => new UserError('not-a-background', { field, value: shown(value) }, 2),
  words: { placeholder: '<#rrggbb>', read: (written: string) => written.trim().toLowerCase() },
};

/** Parts of a drawing that may have a fabric each. */
export const ROLES = ['ground', 'body', 'belly', 'back', 'ink'] as const;
export type RoleColours = Readonly<Partial<Record<(typeof ROLES)[number], string>>>;
const hex = z.string().regex(/^#[0-9a-fA-F]{6}$/);

/** Parts with their colours: "body #c58b4a, belly #f0dcc0". */
export const roleColours: Kind<RoleColours> = {
  schema: z.strictObject(
    Object.fromEntries(ROLES.map((r) => [r, hex.optional()])),
  ) as unknown as z.ZodType<RoleColours>,
  wrong: (value, field) => new UserError('not-role-colours', { field, value: shown(value), roles: ROLES }, 2),
  words: {
    placeholder: '<part #rrggbb,...>',
    read: (written, field) =>
      Object.fromEntries(
        written.split(',').map((part) => {
          const [, role, colour] = /^\s*(\w+)\s+(#[0-9a-f]{6})\s*$/i.exec(part) ?? [];
          if (!role || !colour) throw new UserError('not-role-colours', { field, value: part, roles: ROLES }, 2);
          return [role, colour.toLowerCase()];
        }),
      ),
  },
};

const NAME_LENGTH = 80;
/** A name that is fit to name files. */
export const fileName: Kind<string> = {
  schema: z.string().max(NAME_LENGTH).refine(isFileName),
  wrong: (_, field) => new UserError('not-a-name', { field, most: NAME_LENGTH }, 2),
  words: { placeholder: '<name>', read: (written) => written },
};

/** mm; floating arithmetic on inches may end a hair under a limit */
const HAIR = 1e-9;

/** `wrong` says it in its own way where the limits need a reason. */
export function length(least: Mm, most: Mm, wrong: (value: unknown, field: string) => UserError): Kind<Mm> {
  return {
    schema: z
      .number()
      .min(least - HAIR)
      .max(most + HAIR) as unknown as z.ZodType<Mm>,
    wrong,
    words: { placeholder: '<width>', read: parseLength },
  };
}

/** Finished width and height, mm. */
export function size(least: Mm, most: Mm): Kind<readonly [Mm, Mm]> {
  const side = z
    .number()
    .min(least - HAIR)
    .max(most + HAIR);
  return {
    schema: z.tuple([side, side]) as unknown as z.ZodType<readonly [Mm, Mm]>,
    wrong: (_, field) =>
      new UserError('size-out-of-range', { field, least: Math.round(least / 25.4), most: Math.round(most / 25.4) }, 2),
    words: { placeholder: '<size>', read: parseSize },
  };
}

const MOST_COUNTS = 6;
/** Numbers, ascending, each once. */
export function counts(least: number, most: number): Kind<readonly number[]> {
  const one = whole(least, most);
  return {
    schema: z
      .array(one.schema)
      .max(MOST_COUNTS)
      .refine((list) => list.every((v, i) => i === 0 || v > list[i - 1]!)),
    wrong: (value, field) => one.wrong(value, field),
    words: {
      placeholder: '<numbers>',
      read: (written, field) =>
        [...new Set(written.split(',').map((t) => readWords(one, t.trim(), field)))].sort((a, b) => a - b),
    },
  };
}

/** Paper that pages are printed on: a name, or a size of one's own; rolls are for template sheets alone. */
export const pagePaper: Kind<Paper> = {
  schema: z.union([
    z.enum(PAPER_NAMES as unknown as readonly [PaperName, ...PaperName[]]),
    z.strictObject({ width: z.number().min(200).max(1600), height: z.number().min(250).max(3000) }),
  ]) as unknown as z.ZodType<PaperName | OwnPaper>,
  wrong: (value, field) =>
    typeof value === 'object' && value !== null && 'roll' in value
      ? new UserError('paper-is-a-roll', {}, 2)
      : new UserError('not-a-paper', { field, value: shown(value), papers: PAPER_NAMES }, 2),
  words: { placeholder: '<paper>', read: parsePaper },
};

/** A fabric that someone has. */
export interface OwnFabric {
  /** where the page keeps a snapshot of it */
  readonly id?: string;
  readonly name: string;
  /** "#rrggbb" */
  readonly colour: string;
  /** a print that must stand upright, or one so large that a piece shows only a part of it */
  readonly print?: 'directional' | 'large';
}
const MOST_FABRICS = 400;
const fabric = z.strictObject({
  id: z
    .string()
    .regex(/^[a-z0-9-]{1,80}$/)
    .optional(),
  name: z.string().min(1).max(60).regex(PLAIN_TEXT),
  colour: z.string().regex(/^#[0-9a-fA-F]{6}$/),
  print: z.enum(['directional', 'large']).optional(),
});

/** Own fabrics come as a file or from the page's shelf, never as words. */
export const ownFabrics: Kind<readonly OwnFabric[]> = {
  schema: z.array(fabric).max(MOST_FABRICS) as unknown as z.ZodType<readonly OwnFabric[]>,
  wrong: (value, field) => new UserError('not-fabrics', { field, what: whyNot(value) }, 2),
};

function whyNot(value: unknown): string {
  const issue = z.array(fabric).max(MOST_FABRICS).safeParse(value).error?.issues[0];
  const at = issue?.path.length ? `fabric ${Number(issue.path[0]) + 1}: ` : '';
  return `${at}${issue?.message.replace(/\s+/g, ' ').replace(/\.$/, '') ?? 'no list of fabrics'}`;
}
