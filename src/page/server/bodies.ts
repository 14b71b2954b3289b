// What the view sends, checked. Settings are held to their table.
import { z } from 'zod';
import { PLAIN_TEXT } from '../../names.ts';
import { UserError } from '../../problems/problem.ts';
import { checkPart, settingsSchema } from '../../settings/settings.ts';
import type { Change, NewFabric, PlanAsked, Settings } from '../api.ts';
import { ID } from './keep.ts';

const MOST_TEXT = 200;

const id = z.string().regex(ID);
const colour = z.string().regex(/^#[0-9a-fA-F]{6}$/);

const point = z.tuple([z.number(), z.number()]);
const name = z.string().min(1).max(MOST_TEXT);
const MOST_MM = 2000;
const fabricName = z.string().min(1).max(60).regex(PLAIN_TEXT);
const print = z.enum(['directional', 'large']);

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
  z.strictObject({
    ...{ kind: z.literal('paint'), pieces: z.array(name).min(1).max(1000), name: fabricName, colour },
    ...{ print: print.optional(), cloth: id.optional() },
  }),
  z.strictObject({
    ...{ kind: z.literal('shift'), seam: name },
    ...{ by: z.number().min(-MOST_MM).max(MOST_MM), degrees: z.number().min(-90).max(90) },
  }),
]);

const counts = z.array(z.int()).min(1).max(6);
const compareSchema = z.strictObject({ shades: counts.optional(), pieces: counts.optional() });

const fabric = z.strictObject({ name: fabricName, colour, print: print.optional() });
const seriesSchema = z.strictObject({
  name: z.string().min(1).max(80),
  works: z.array(id).min(1).max(200),
  settings: settingsSchema().partial(),
  common: z.enum(['fabrics', 'background']),
  count: z.int().min(2).max(20).optional(),
  own: z.array(fabric).min(2).max(200).optional(),
  locked: z.array(fabric).max(20).optional(),
});

const shelfSchema = z.strictObject({ fabrics: z.array(fabric).min(1).max(400) });
const fabricChange = fabric.extend({ print: print.or(z.literal('')) }).partial();

const mark = z.string().regex(/^[0-9a-z]{1,12}$/);
const marks = z.array(mark).max(3000);
const ticksSchema = z.strictObject({ on: marks, off: marks });

const length = z.number().min(0).max(MOST_MM);
const planSchema = z.strictObject({
  works: z.array(id).min(1).max(200),
  name: z.string().min(1).max(80),
  class: z
    .strictObject({
      people: z.int().min(1).max(500),
      spare: z.int().min(0).max(100).optional(),
      kit: z.enum(['patches', 'lengths']).optional(),
    })
    .optional(),
  quilt: z
    .strictObject({
      rows: z.int().min(1).max(40),
      columns: z.int().min(1).max(40),
      setting: z.enum(['straight', 'on point']),
      sashing: length,
      sashingAround: z.boolean(),
      cornerstones: z.boolean(),
      borders: z.array(length).max(6),
      binding: length,
      overhang: length,
    })
    .optional(),
});
const tabletSchema = z.strictObject({ on: z.boolean(), shows: z.enum(['sewing', 'all']).optional() });

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
export const readShelf = (data: unknown) => read(shelfSchema, data).fabrics as NewFabric[];
export const readFabricChange = (data: unknown) => read(fabricChange, data);
export const readTicks = (data: unknown) => read(ticksSchema, data);
export const readPlan = (data: unknown) => read(planSchema, data) as PlanAsked;
export const readTablet = (data: unknown) => read(tabletSchema, data);
export const readCompare = (data: unknown) => read(compareSchema, data);
export const readSeries = (data: unknown) => {
  const { settings, count, own, locked, ...rest } = read(seriesSchema, data);
  const fabrics = (own as NewFabric[] | undefined) ?? count;
  return {
    ...{ ...rest, settings: settings as Partial<Settings> },
    ...(fabrics !== undefined && { fabrics }),
    ...(locked?.length && !own && { keep: locked as NewFabric[] }),
  };
};
