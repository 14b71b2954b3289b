// What the view sends, checked: shapes here, the limits of every number where the commands have theirs.
import { z } from 'zod';
import { FILLS } from '../../drawing/fill.ts';
import { UserError } from '../../errors.ts';
import { LEVELS } from '../../levels.ts';
import type { Change, Settings } from '../api.ts';
import { ID } from './keep.ts';

const MOST_TEXT = 200;
const MOST_CLOTHS = 400;
const MOST_DISCS = 20;

const id = z.string().regex(ID);
const share = z.number().min(0).max(1);
const box = z.tuple([share, share, share, share]);
const text = z.string().max(MOST_TEXT);
const colour = z.string().regex(/^#[0-9a-fA-F]{6}$/);

const cloth = z.strictObject({
  id: id.optional(),
  name: z.string().min(1).max(60),
  colour,
  print: z.enum(['directional', 'large']).optional(),
});

const settingsSchema = z.strictObject({
  name: text,
  level: z.enum(LEVELS),
  size: z.tuple([z.number().positive(), z.number().positive()]),
  shades: z.union([z.number(), z.literal('auto')]),
  pieces: z.number(),
  smallest: z.number().positive(),
  mostPieces: z.number(),
  background: z.enum(['keep', 'calm', 'plain']),
  kind: z.enum(['auto', 'photo', 'drawing', 'flat']),
  lines: z.enum(['auto', 'keep', 'dissolve']),
  tone: z.enum(['auto', 'even', 'keep']).optional(),
  crop: z.union([box, z.enum(['auto', 'middle'])]),
  subject: box.nullable(),
  sheet: z.enum(['auto', 'no']).optional(),
  focus: z.union([
    z.array(z.strictObject({ x: z.number(), y: z.number(), r: z.number(), weight: z.number() })).max(MOST_DISCS),
    z.literal('auto'),
  ]),
  turn: z.boolean(),
  seed: z.number(),
  paper: z.enum(['letter', 'a4', 'legal', 'tabloid', 'a3', 'both']),
  units: z.enum(['inch', 'metric']),
  fill: z.enum(FILLS),
  designer: text,
  cloths: z.array(cloth).max(MOST_CLOTHS),
  again: z.boolean(),
  grow: z.array(z.number()).max(6).optional(),
});

const point = z.tuple([z.number(), z.number()]);
const name = z.string().min(1).max(MOST_TEXT);
const MOST_MM = 2000;

const changeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('fabric'), pieces: z.array(name).min(1).max(1000), fabric: name }),
  z.strictObject({ kind: z.literal('merge'), first: name, second: name }),
  z.strictObject({ kind: z.literal('divide'), piece: name, line: z.tuple([point, point]), fabric: name.optional() }),
  z.strictObject({ kind: z.literal('move'), seam: name, by: z.number().min(-MOST_MM).max(MOST_MM) }),
  z.strictObject({ kind: z.literal('swing'), seam: name, degrees: z.number().min(-90).max(90) }),
  z.strictObject({ kind: z.literal('unite'), first: name, second: name }),
  z.strictObject({ kind: z.literal('part'), section: name, piece: name.optional() }),
  z.strictObject({ kind: z.literal('rename'), fabric: name, name: z.string().min(1).max(60) }),
  z.strictObject({ kind: z.literal('colour'), fabric: name, colour }),
  z.strictObject({ kind: z.literal('cloth'), fabric: name, cloth: id }),
]);

const counts = z.array(z.int()).min(1).max(6);
const compareSchema = z.strictObject({ shades: counts.optional(), pieces: counts.optional() });

const seriesSchema = z.strictObject({
  name: z.string().min(1).max(80),
  works: z.array(id).min(1).max(200),
  settings: settingsSchema.partial(),
  common: z.enum(['fabrics', 'background']),
});

/** Throws UserError that names the first place that is wrong. */
function read<T>(schema: z.ZodType<T>, data: unknown): T {
  const found = schema.safeParse(data);
  if (found.success) return found.data;
  const issue = found.error.issues[0]!;
  const at = issue.path.join('.') || 'what was sent';
  throw new UserError(`${at}: ${issue.message.replace(/\s+/g, ' ')}.`, 2);
}

export const readSettings = (data: unknown) => read(settingsSchema.partial(), data) as Partial<Settings>;
export const readChange = (data: unknown) => read(changeSchema, data) as Change;
export const readCompare = (data: unknown) => read(compareSchema, data);
export const readSeries = (data: unknown) => {
  const { settings, ...rest } = read(seriesSchema, data);
  return { ...rest, settings: settings as Partial<Settings> };
};
