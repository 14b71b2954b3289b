// What the view sends, checked. Settings are held to their table.
import { z } from 'zod';
import { UserError } from '../../problems/problem.ts';
import { checkPart, settingsSchema } from '../../settings/settings.ts';
import type { Change, Settings } from '../api.ts';
import { ID } from './keep.ts';

const MOST_TEXT = 200;

const id = z.string().regex(ID);
const colour = z.string().regex(/^#[0-9a-fA-F]{6}$/);

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
  settings: settingsSchema().partial(),
  common: z.enum(['fabrics', 'background']),
});

/** Throws UserError that names the first place that is wrong. */
function read<T>(schema: z.ZodType<T>, data: unknown): T {
  const found = schema.safeParse(data);
  if (found.success) return found.data;
  const issue = found.error.issues[0]!;
  const at = issue.path.join('.') || 'what was sent';
  throw new UserError('wrong-request', { at, why: issue.message.replace(/\s+/g, ' ') }, 2);
}

/** What is set of the settings. Throws UserError that names the field. */
export const readSettings = (data: unknown): Partial<Settings> =>
  checkPart(read(z.record(z.string(), z.unknown()), data));
export const readChange = (data: unknown) => read(changeSchema, data) as Change;
export const readCompare = (data: unknown) => read(compareSchema, data);
export const readSeries = (data: unknown) => {
  const { settings, ...rest } = read(seriesSchema, data);
  return { ...rest, settings: settings as Partial<Settings> };
};
