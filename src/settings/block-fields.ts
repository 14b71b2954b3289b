// Settings of every block: how large, for whom, of how many fabrics and pieces, on which paper.
import { paperTitle } from '../drawing/paper.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level, REFUSED_WIDTH } from '../levels.ts';
import { UserError } from '../problems/problem.ts';
import { inches, type Mm } from '../units.ts';
import { always, field, itself } from './field.ts';
import * as kinds from './kinds.ts';

export const BLOCK_FIELDS = {
  name: field<string>({
    kind: kinds.fileName,
    preset: always('block'),
    stage: 'number',
    title: 'Name',
    option: 'name',
    help: "the block's name (default: the picture's)",
  }),
  size: field<readonly [Mm, Mm]>({
    kind: kinds.size(inches(3), inches(60)),
    preset: (level) => [LEVEL_DEFAULTS[level].size, LEVEL_DEFAULTS[level].size],
    stage: 'see',
    earlier: { stage: 'figure', part: ([width, height]) => width / height },
    title: 'Size',
    option: 'size',
    help: 'finished size: 12in, 30cm, 10x14in',
  }),
  level: field<Level>({
    kind: kinds.choice(LEVELS),
    preset: itself,
    stage: 'number',
    title: 'Level',
    option: 'level',
    help: 'who sews it; sets all defaults',
    kept: itself,
  }),
  shades: field<number | 'auto'>({
    kind: kinds.wholeOr('auto', 2, 12),
    preset: (level) => LEVEL_DEFAULTS[level].shades,
    stage: 'shade',
    title: 'Fabrics',
    option: 'shades',
    help: 'fabrics at most, background included; auto: as many as the picture asks for',
    kept: itself,
  }),
  pieces: field<number>({
    kind: kinds.whole(2, 600),
    preset: (level) => LEVEL_DEFAULTS[level].pieces,
    // fewer pieces show larger masses
    stage: 'shade',
    title: 'Pieces',
    option: 'pieces',
    help: 'pieces at most',
    kept: itself,
  }),
  smallest: field<Mm>({
    kind: kinds.length(REFUSED_WIDTH, inches(60), (_, name) => new UserError('too-narrow-to-sew', { field: name }, 2)),
    preset: (level) => LEVEL_DEFAULTS[level].smallest,
    stage: 'see',
    title: 'Narrowest piece',
    option: 'smallest',
    help: 'narrowest finished width of a piece: 1/2in, 12mm',
  }),
  mostPieces: field<number>({
    kind: kinds.whole(2, 16),
    preset: (level) => LEVEL_DEFAULTS[level].mostPieces,
    stage: 'fit',
    title: 'Pieces in a section',
    option: 'most',
    help: 'pieces in a section at most',
    kept: itself,
  }),
  background: field<'auto' | 'keep' | 'calm' | 'plain'>({
    kind: kinds.choice(['auto', 'keep', 'calm', 'plain']),
    preset: always('auto' as const),
    stage: 'figure',
    title: 'Background',
    option: 'background',
    help: 'keep it, calm it to few large shades, or make it one plain fabric; auto: plain where an animal is found',
    kept: itself,
  }),
  turn: field<boolean>({
    kind: kinds.flag,
    preset: always(false),
    stage: 'number',
    title: 'Turned left to right',
    option: 'turn',
    help: 'turn the whole block left to right',
    kept: itself,
  }),
  seed: field<number>({
    kind: kinds.whole(0, 2 ** 31 - 1),
    preset: always(1),
    stage: 'see',
    title: 'Try',
    option: 'seed',
    help: 'another number gives another block',
    kept: itself,
  }),
  effort: field<'glance' | 'quick' | 'full' | 'long'>({
    kind: kinds.choice(['glance', 'quick', 'full', 'long'], 'glance'),
    preset: always('full' as const),
    stage: 'fit',
    title: 'Effort',
    option: 'effort',
    help: 'time spent on the fit',
    kept: itself,
  }),
  paper: field({
    kind: kinds.pagePaper,
    preset: always<kinds.ValueOf<typeof kinds.pagePaper>>('letter'),
    stage: 'fit',
    title: 'Paper',
    option: 'paper',
    help: 'what is printed on: letter, a4, legal, a3, tabloid, both, or a size such as 13x19in (default: by locale)',
    forAll: true,
    kept: paperTitle,
  }),
} as const;
