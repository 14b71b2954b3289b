// Settings of what is cut and printed.
import { FILLS } from '../drawing/fill.ts';
import { LEVEL_DEFAULTS } from '../levels.ts';
import { UserError } from '../problems/problem.ts';
import { inches, type Mm, mm } from '../units.ts';
import { always, field } from './field.ts';
import * as kinds from './kinds.ts';

const outOf = (least: number, most: number) => (_: unknown, name: string) =>
  new UserError('length-out-of-range', { field: name, least, most, mostInches: String(Math.round(most / 25.4)) }, 2);

const QUARTER_INCH = inches(1 / 4);

export const PRINT_FIELDS = {
  slack: field<Mm>({
    kind: kinds.length(mm(0), inches(2), outOf(0, 50.8)),
    preset: (level) => LEVEL_DEFAULTS[level].slack,
    stage: 'print',
    title: 'Slack of patches',
    help: 'cloth beyond the allowance on each side of a patch, mm',
  }),
  margin: field<Mm>({
    kind: kinds.length(mm(0), inches(1), outOf(0, 25.4)),
    preset: always(mm(9.525)),
    stage: 'fit',
    title: 'Margin of the paper',
    help: 'paper left free all round, mm',
  }),
  allowance: field<Mm>({
    kind: kinds.length(mm(3), inches(1), outOf(3, 25.4)),
    preset: always(QUARTER_INCH),
    stage: 'fit',
    title: 'Seam allowance',
    option: 'allowance',
    help: 'seam allowance around every section (default: 1/4in, in metric units 6mm)',
    // a reprint must have the same: its cut lines meet those of the first print
    kept: (allowance) => (Math.abs(allowance - QUARTER_INCH) < 1e-9 ? undefined : allowance),
  }),
  units: field<'inch' | 'metric'>({
    kind: kinds.choice(['inch', 'metric']),
    preset: always('inch' as const),
    stage: 'number',
    title: 'Units',
    option: 'units',
    help: 'how lengths are written (default: as the size is given, else by locale)',
    forAll: true,
  }),
  fill: field<(typeof FILLS)[number]>({
    kind: kinds.choice(FILLS),
    preset: always('hatch' as const),
    stage: 'print',
    title: 'Inside the pieces',
    option: 'fill',
    help: 'what tells the fabrics apart on the templates: hatches, the colour pale or nearly as it is, or the code alone',
    forAll: true,
  }),
  packet: field<'full' | 'short'>({
    kind: kinds.choice(['full', 'short']),
    preset: always('full' as const),
    stage: 'print',
    title: 'Packet',
    option: 'packet',
    help: 'full: with how it goes, a practice section, every step and pages to color; short: cover, key, cutting, diagram, templates',
    forAll: true,
  }),
  designer: field<string>({
    kind: kinds.text(200, '<name>'),
    preset: always(''),
    stage: 'print',
    title: 'Designer',
    option: 'designer',
    help: 'printed at the foot of every page',
    forAll: true,
  }),
  edition: field<string>({
    kind: kinds.text(4, '<letter>'),
    preset: always(''),
    stage: 'number',
    title: 'Edition',
    help: 'B, C … where an earlier one of this block has been printed',
  }),
} as const;
