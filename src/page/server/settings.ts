// The page's settings and those of a block: written as the command's options and read as those are, so that every limit is
// the same, and every block.
import type { Block } from '../../block.ts';
import { type BlockGiven, settingsOf } from '../../cli/block-command.ts';
import { paperOf, systemOf } from '../../cli/options.ts';
import { UserError } from '../../errors.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level, REFUSED_WIDTH } from '../../levels.ts';
import type { BlockSettings } from '../../pipeline.ts';
import { type Cloth, soundCloths } from '../../shade/read-cloths.ts';
import { formatLength, formatSize, inches } from '../../units.ts';
import type { Settings } from '../api.ts';
import { inOwnWords } from './own-words.ts';

/** As `seamwright block` has them where nothing is said. */
export function firstSettings(name: string, level: Level = 'intermediate'): Settings {
  const { size, shades, pieces, smallest, mostPieces } = LEVEL_DEFAULTS[level];
  return {
    ...{ name, level, size: [size, size], shades, pieces, smallest, mostPieces },
    ...{ background: 'keep', kind: 'auto', lines: 'auto', crop: 'middle', subject: null, focus: 'auto' },
    ...{ turn: false, seed: 1, paper: paperOf() as Settings['paper'], units: systemOf(), fill: 'hatch' },
    ...{ designer: '', cloths: [], again: false },
  };
}

const within = (n: number, least: number, most: number): number => Math.max(least, Math.min(most, n));

/** Those of a block that came as a file: what it says of itself, within what could be asked for. */
export function settingsOfBlock(block: Block, name: string): Settings {
  const first = firstSettings(name);
  const level = LEVELS.find((l) => l === block.source?.settings.level) ?? first.level;
  const size = block.size.map((v) => within(v, inches(3), inches(60))) as [number, number];
  return {
    ...firstSettings(name, level),
    size,
    smallest: Math.max(block.smallest, REFUSED_WIDTH),
    pieces: within(
      block.sections.reduce((n, s) => n + s.pieces.length, 0),
      2,
      600,
    ),
    shades: within(block.fabrics.length, 2, 12),
  };
}

/** Throws UserError for values that make no sense, in the page's words. */
export function blockSettings(s: Settings): BlockSettings {
  const words: BlockGiven = {
    out: '.',
    name: s.name,
    level: s.level,
    size: `${s.size[0]}x${s.size[1]}mm`,
    shades: String(s.shades),
    pieces: String(s.pieces),
    smallest: `${s.smallest}mm`,
    most: String(s.mostPieces),
    background: s.background,
    ...(s.kind !== 'auto' && { kind: s.kind }),
    ...(s.lines !== 'auto' && { lines: s.lines }),
    ...(s.tone && s.tone !== 'auto' && { tone: s.tone }),
    ...(s.crop !== 'middle' && { crop: s.crop === 'auto' ? 'auto' : s.crop.join() }),
    ...(s.subject && { subject: s.subject.join() }),
    ...(s.sheet === 'no' && { sheet: s.sheet }),
    ...(s.focus !== 'auto' && {
      focus: s.focus.length ? s.focus.map(({ x, y, r, weight }) => [x, y, r, weight].join()) : ['none'],
    }),
    ...(s.grow?.length && { grow: s.grow.join() }),
    turn: s.turn,
    seed: String(s.seed),
    effort: 'full',
    paper: s.paper,
    units: s.units,
    fill: s.fill,
    ...(s.designer.trim() && { designer: s.designer.trim() }),
  };
  try {
    const settings = settingsOf(words, s.name);
    if (!s.cloths.length) return settings;
    const cloths = s.cloths.map(
      ({ name, colour, print }): Cloth => ({ name, colour: colour.toLowerCase(), ...(print && { print }) }),
    );
    return { ...settings, cloths: soundCloths(cloths, 'Your list'), again: s.again };
  } catch (e) {
    if (!(e instanceof UserError)) throw e;
    throw new UserError(inOwnWords(e.message), e.exitCode);
  }
}

/** Settings of which a block that was changed by hand, or came as a file, is not made again: they are for its paper. */
const PAPER_ONLY: ReadonlySet<keyof Settings> = new Set<keyof Settings>([
  ...(['name', 'paper', 'units', 'fill', 'designer', 'level', 'mostPieces'] as const),
]);
export const isForPaper = (keys: readonly (keyof Settings)[]): boolean => keys.every((k) => PAPER_ONLY.has(k));

/** What of the settings another set of them changes. */
export const changedKeys = (before: Settings, after: Settings): (keyof Settings)[] =>
  (Object.keys({ ...before, ...after }) as (keyof Settings)[]).filter(
    (k) => JSON.stringify(before[k]) !== JSON.stringify(after[k]),
  );

/** Settings in the few words that a button has room for. */
export function sayChange(keys: readonly (keyof Settings)[], s: Settings): string {
  if (keys.includes('level')) return `the ${s.level} level`;
  const key = keys[0];
  switch (key) {
    case undefined:
      return 'the same';
    case 'pieces':
      return `${s.pieces} pieces`;
    case 'shades':
      return s.shades === 'auto' ? 'as many shades as the picture asks for' : `${s.shades} shades`;
    case 'size':
      return formatSize(s.size, s.units);
    case 'smallest':
      return `pieces of ${formatLength(s.smallest, s.units)} and more`;
    case 'mostPieces':
      return `${s.mostPieces} pieces a section`;
    case 'background':
      return { keep: 'the background as it is', calm: 'a calm background', plain: 'a plain background' }[s.background];
    case 'kind':
      return s.kind === 'auto' ? 'the kind found by itself' : `the picture as ${s.kind}`;
    case 'lines':
      return { auto: 'lines by their width', keep: 'lines sewn', dissolve: 'lines dissolved' }[s.lines];
    case 'tone':
      return s.tone === 'even'
        ? 'tones of fur drawn apart'
        : s.tone === 'keep'
          ? 'tones as they are'
          : 'tones by the background';
    case 'crop':
      return s.crop === 'auto' ? 'the animal in the frame' : s.crop === 'middle' ? 'the middle' : 'the frame';
    case 'subject':
      return s.subject ? 'the frame about the animal' : 'no frame about the animal';
    case 'sheet':
      return s.sheet === 'no' ? 'the picture as it is' : 'the sheet squared up';
    case 'focus':
      return s.focus === 'auto' ? 'the face in focus' : s.focus.length ? 'the spots in focus' : 'nothing in focus';
    case 'turn':
      return s.turn ? 'turned left to right' : 'not turned';
    case 'seed':
      return `try ${s.seed}`;
    case 'paper':
      return `paper ${s.paper}`;
    case 'units':
      return s.units === 'inch' ? 'inches' : 'centimetres';
    case 'fill':
      return { hatch: 'hatches', tint: 'pale colours', colour: 'colours', none: 'codes alone' }[s.fill];
    case 'name':
      return `the name ${s.name}`;
    case 'designer':
      return s.designer ? `the designer ${s.designer}` : 'no designer';
    case 'cloths':
      return s.cloths.length ? `${s.cloths.length} fabrics of your own` : "the picture's colours";
    case 'again':
      return s.again ? 'fabrics used again' : 'each fabric once';
    default:
      return `${s.pieces} pieces`;
  }
}
