// What `seamwright yardage` was asked for, read into the plan's options. Throws UserError for what makes no sense.
import type { Table } from '../commands/yardage.ts';
import type { FabricOptions } from '../fabric/options.ts';
import type { YardageOptions } from '../fabric/plan-yardage.ts';
import { LEVEL_DEFAULTS, type Level } from '../levels.ts';
import { UserError } from '../problems/problem.ts';
import type { System } from '../units.ts';
import { decimal, lengthOf, lengthsOf, shareOf, wholeNumber } from './options.ts';

export interface YardageCall {
  level?: Level;
  slack?: string;
  allowance?: string;
  grain: 'edge' | 'seam';
  directional?: string;
  strips?: string;
  widths?: string;
  layers?: string;
  usable?: string;
  safety?: string;
  price?: string;
  copies?: string;
  people?: string;
  spare?: string;
  kit?: 'patches' | 'lengths';
  quilt?: string;
  onPoint?: boolean;
  sashing?: string;
  sashingAround?: boolean;
  cornerstones?: boolean;
  borders?: string;
  binding?: string;
  bindingOverage?: string;
  bindingJoin?: string;
  backingOverhang?: string;
  backingSeams?: 'up' | 'across' | 'best';
  backingSeam?: string;
  units?: System;
  paper?: string;
  designer?: string;
  json?: boolean;
  csv?: Table;
  out?: string;
  name?: string;
  force?: boolean;
  timings?: boolean;
}

/** { key: length } where the option was given, else nothing. */
const length = <K extends string>(key: K, text: string | undefined, field: string): Partial<Record<K, number>> =>
  (text === undefined ? {} : { [key]: lengthOf(text, field) }) as unknown as Partial<Record<K, number>>;

const MOST_PEOPLE = 2000;
const FOR_KITS = 'say how many people the kits are for';
const FOR_QUILT = 'say how many rows and columns, for example 4x3';

export function optionsOf(given: YardageCall, system: System): YardageOptions {
  const slack =
    given.slack === undefined ? LEVEL_DEFAULTS[given.level ?? 'intermediate'].slack : lengthOf(given.slack, 'slack');
  const cloth: Partial<FabricOptions> = {
    system,
    slack,
    // a slack that is asked for holds for large patches too
    ...(given.slack !== undefined && { largeSlack: slack }),
    grain: given.grain,
    ...length('allowance', given.allowance, 'allowance'),
    ...length('usable', given.usable, 'usable'),
    ...(given.strips && { widths: lengthsOf(given.strips, 'strips') }),
    ...(given.widths && { mostWidths: wholeNumber(given.widths, 'widths', 1, 8) }),
    ...(given.layers && { layers: wholeNumber(given.layers, 'layers', 1, 8) }),
    ...(given.safety && { safety: shareOf(given.safety, 'safety') }),
    ...(given.price && { price: decimal(given.price, 'price') }),
    ...(given.directional && { upright: given.directional.split(',').filter((f) => f.trim()) }),
  };
  if (given.spare !== undefined && given.people === undefined)
    throw new UserError('goes-with', { field: 'spare', with: 'people', because: FOR_KITS }, 2);
  if (given.kit && given.people === undefined)
    throw new UserError('goes-with', { field: 'kit', with: 'people', because: FOR_KITS }, 2);
  const only = quiltOnly(given);
  if (only && given.quilt === undefined)
    throw new UserError('goes-with', { field: only, with: 'quilt', because: FOR_QUILT }, 2);
  return {
    cloth,
    ...(given.copies && { copies: wholeNumber(given.copies, 'copies', 1, 1000) }),
    ...(given.people !== undefined && {
      class: {
        people: wholeNumber(given.people, 'people', 1, MOST_PEOPLE),
        ...(given.spare !== undefined && { spare: wholeNumber(given.spare, 'spare', 0, MOST_PEOPLE) }),
        ...(given.kit && { kit: given.kit }),
      },
    }),
    ...(given.quilt !== undefined && { quilt: quiltOf(given) }),
  };
}

/** The first option that was given and means nothing without --quilt. */
const quiltOnly = (g: YardageCall): string | undefined =>
  (
    [
      ['onPoint', g.onPoint],
      ['sashing', g.sashing],
      ['sashingAround', g.sashingAround],
      ['cornerstones', g.cornerstones],
      ['borders', g.borders],
      ['binding', g.binding],
      ['bindingOverage', g.bindingOverage],
      ['bindingJoin', g.bindingJoin],
      ['backingOverhang', g.backingOverhang],
      ['backingSeam', g.backingSeam],
    ] as const
  ).find(([, value]) => value !== undefined)?.[0];

function quiltOf(g: YardageCall): NonNullable<YardageOptions['quilt']> {
  const size = /^\s*(\d+)\s*[x×]\s*(\d+)\s*$/i.exec(g.quilt!);
  if (!size) throw new UserError('not-rows-and-columns', { field: 'quilt', value: g.quilt! }, 2);
  const [rows, columns] = [size[1]!, size[2]!].map((n) => wholeNumber(n, 'quilt', 1, 50)) as [number, number];
  if ((g.cornerstones || g.sashingAround) && g.sashing === undefined)
    throw new UserError('cornerstones-need-sashing', {}, 2);
  return {
    rows,
    columns,
    setting: g.onPoint ? 'on point' : 'straight',
    ...length('sashing', g.sashing, 'sashing'),
    sashingAround: g.sashingAround === true,
    cornerstones: g.cornerstones === true,
    ...(g.borders && { borders: lengthsOf(g.borders, 'borders') }),
    binding: {
      ...length('strip', g.binding, 'binding'),
      ...length('overage', g.bindingOverage, 'bindingOverage'),
      ...length('perJoin', g.bindingJoin, 'bindingJoin'),
    },
    backing: {
      ...length('overhang', g.backingOverhang, 'backingOverhang'),
      ...length('perSeam', g.backingSeam, 'backingSeam'),
      ...(g.backingSeams && { seams: g.backingSeams }),
    },
  };
}
