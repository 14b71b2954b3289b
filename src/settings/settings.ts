// What is set about a block, as one plain object, and all that follows from the table of fields: defaults, checks, JSON Schemas, what
// is kept in block files, and the keys of what is remembered between stages. Each takes the table, so that one with another field
// does the same for that.
import { z } from 'zod';
import type { Level } from '../levels.ts';
import { UserError } from '../problems/problem.ts';
import { type Field, STAGES, type Stage } from './field.ts';
import { FIELDS } from './fields.ts';
import { checkValue } from './kinds.ts';

type ValueOf<F> = F extends { readonly kind: { readonly schema: z.ZodType<infer T> } } ? T : never;

/** Every field is there: what is found automatically says so ('auto'), what is absent is empty or null. Lengths in mm. */
export type Settings = { readonly [K in keyof typeof FIELDS]: ValueOf<(typeof FIELDS)[K]> };
export type SettingName = keyof Settings;

export type Fields = Readonly<Record<string, Field<never>>>;
const table = FIELDS as unknown as Fields;
const entries = (fields: Fields): [string, Field<unknown>][] =>
  Object.entries(fields) as unknown as [string, Field<unknown>][];

/** What a level sets where nothing else is said. Letter paper and inches: shells that know where they are say otherwise. */
export function defaultSettings(level: Level = 'intermediate', fields: Fields = table): Settings {
  return Object.fromEntries(entries(fields).map(([name, f]) => [name, f.preset(level)])) as unknown as Settings;
}

/** The defaults of the level, and what was set over them. What is undefined is not set. Throws UserError (exit 2) that names the first
 *  field that is wrong. */
export function completeSettings(set: Partial<Settings> = {}, fields: Fields = table): Settings {
  const sent = set as Readonly<Record<string, unknown>>;
  const level = sent.level === undefined ? undefined : checkValue(fields.level!.kind, sent.level, 'level');
  const full = { ...defaultSettings(level, fields) } as Record<string, unknown>;
  for (const name of Object.keys(sent)) if (sent[name] !== undefined) full[name] = sent[name];
  return checkSettings(full as unknown as Settings, fields);
}

/** The same settings where all are as they may be. Throws UserError (exit 2). */
export function checkSettings(settings: Settings, fields: Fields = table): Settings {
  const all = settings as unknown as Readonly<Record<string, unknown>>;
  checkPart({ ...Object.fromEntries(Object.keys(fields).map((name) => [name, undefined])), ...all }, fields);
  const most = settings.grow.at(-1);
  if (most !== undefined && most >= settings.pieces)
    throw new UserError('not-fewer', { field: 'grow', value: most, pieces: settings.pieces }, 2);
  return settings;
}

/** Some of the settings, each as it may be. Throws UserError (exit 2). */
export function checkPart(set: Readonly<Record<string, unknown>>, fields: Fields = table): Partial<Settings> {
  for (const [name, value] of Object.entries(set)) {
    if (!Object.hasOwn(fields, name)) throw new UserError('no-such-setting', { field: name }, 2);
    checkValue(fields[name]!.kind, value, name);
  }
  return set as Partial<Settings>;
}

/** One zod schema of all fields: what the page's requests are read by, and JSON Schemas made of. */
export const settingsSchema = (fields: Fields = table) =>
  z.strictObject(
    Object.fromEntries(
      entries(fields).map(([name, f]) => [name, f.kind.schema.describe(f.help).meta({ title: f.title })]),
    ),
  );

/** JSON Schema of settings of which every field may be left out. */
export const settingsJsonSchema = (fields: Fields = table): unknown =>
  z.toJSONSchema(settingsSchema(fields).partial(), { io: 'input', unrepresentable: 'any' });

/** What is kept in the block file so that the block can be made again. */
export function keptSettings(settings: Settings, fields: Fields = table): Record<string, unknown> {
  const all = settings as unknown as Readonly<Record<string, unknown>>;
  const kept: Record<string, unknown> = {};
  for (const [name, f] of entries(fields)) {
    const value = f.kept?.(all[name]);
    if (value !== undefined) kept[name] = value;
  }
  return kept;
}

/** All of the settings that what comes out of this stage depends on, as one string. */
export function keyOfStage(stage: Stage, settings: Settings, fields: Fields = table): string {
  const until = STAGES.indexOf(stage);
  const all = settings as unknown as Readonly<Record<string, unknown>>;
  const parts = entries(fields).flatMap(([name, f]): [string, unknown][] => {
    if (STAGES.indexOf(f.stage) <= until) return [[name, all[name]]];
    const early = f.earlier;
    return early && STAGES.indexOf(early.stage) <= until ? [[name, early.part(all[name])]] : [];
  });
  return JSON.stringify(parts);
}
