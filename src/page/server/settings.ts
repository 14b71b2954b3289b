// The page's settings: those of the table, as a work keeps them, and what is said of a change of them.
import { allowanceOf, type Block } from '../../block.ts';
import { paperTitle } from '../../drawing/paper.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level, REFUSED_WIDTH } from '../../levels.ts';
import { localSettings } from '../../locale.ts';
import { FIELDS } from '../../settings/fields.ts';
import { completeSettings, defaultSettings, type SettingName, type Settings } from '../../settings/settings.ts';
import { soundCloths } from '../../shade/read-cloths.ts';
import { formatLength, formatSize, inches, type Mm, mm } from '../../units.ts';

/** As `seamwright block` has them where nothing is said. */
export const firstSettings = (name: string, level?: Level): Settings => ({
  ...defaultSettings(level),
  ...localSettings(),
  name,
});

const within = (n: number, least: number, most: number): number => Math.max(least, Math.min(most, n));

/** Those of a block that came as a file: what it says of itself, within what could be asked for. */
export function settingsOfBlock(block: Block, name: string): Settings {
  const level = LEVELS.find((l) => l === block.source?.settings.level);
  return {
    ...firstSettings(name, level),
    allowance: mm(allowanceOf(block)),
    size: block.size.map((v) => mm(within(v, inches(3), inches(60)))) as [Mm, Mm],
    smallest: mm(Math.max(block.smallest, REFUSED_WIDTH)),
    pieces: within(
      block.sections.reduce((n, s) => n + s.pieces.length, 0),
      2,
      600,
    ),
    shades: within(block.fabrics.length, 2, 12),
  };
}

/** Settings as the pipeline takes them. Throws UserError for values that make no sense. */
export function blockSettings(s: Partial<Settings>): Settings {
  const settings = completeSettings(s);
  const { cloths } = settings;
  if (!cloths.length) return settings;
  const plain = cloths.map(({ name, colour, print }) => ({
    name,
    colour: colour.toLowerCase(),
    ...(print && { print }),
  }));
  return { ...settings, cloths: soundCloths(plain, 'Your list') };
}

/** Some settings over others. What the level sets follows the level, where it was not set otherwise; a block that is to have another
 *  number of pieces is no longer grown through those of a comparison. */
export function changeSettings(before: Settings, given: Partial<Settings>): Settings {
  const after = { ...before, ...(given.pieces !== undefined && { grow: [] }), ...given };
  if (given.level === undefined || given.level === before.level) return after;
  const followed = Object.entries(LEVEL_FIELDS).filter(
    ([name, preset]) =>
      given[name as SettingName] === undefined &&
      JSON.stringify(before[name as SettingName]) === JSON.stringify(preset(before.level)),
  );
  return { ...after, ...Object.fromEntries(followed.map(([name, preset]) => [name, preset(after.level)])) };
}

/** Fields of which a level has an opinion. */
const LEVEL_FIELDS: Readonly<Record<string, (level: Level) => unknown>> = Object.fromEntries(
  Object.entries(FIELDS)
    .filter(([name]) => name !== 'level' && (name === 'size' || Object.hasOwn(LEVEL_DEFAULTS.beginner, name)))
    .map(([name, f]) => [name, f.preset]),
);

/** Settings of which a block that was changed by hand, or came as a file, is not made again: they are for its paper. */
const PAPER_ONLY: ReadonlySet<SettingName> = new Set<SettingName>([
  ...(['name', 'paper', 'units', 'level', 'mostPieces', 'margin', 'allowance'] as const),
  ...(Object.keys(FIELDS) as SettingName[]).filter((name) => FIELDS[name].stage === 'print'),
]);
export const isForPaper = (keys: readonly SettingName[]): boolean => keys.every((k) => PAPER_ONLY.has(k));

/** Settings of which nothing that is sewn depends: names, measures, what is on the paper. */
const WORDS_ONLY: ReadonlySet<SettingName> = new Set<SettingName>([
  ...(['name', 'units'] as const),
  ...(Object.keys(FIELDS) as SettingName[]).filter((name) => FIELDS[name].stage === 'print'),
]);
export const isForWords = (keys: readonly SettingName[]): boolean => keys.every((k) => WORDS_ONLY.has(k));

/** What of the settings another set of them changes. */
export const changedKeys = (before: Settings, after: Settings): SettingName[] =>
  (Object.keys({ ...before, ...after }) as SettingName[]).filter(
    (k) => JSON.stringify(before[k]) !== JSON.stringify(after[k]),
  );

/** Settings in the few words that a button has room for. */
export function sayChange(keys: readonly SettingName[], s: Settings): string {
  if (keys.includes('level')) return `the ${s.level} level`;
  if (keys.includes('crop') && typeof s.crop !== 'string') return 'my crop';
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
      return {
        auto: 'the background by what is found',
        keep: 'the background as it is',
        calm: 'a calm background',
        plain: 'a plain background',
      }[s.background];
    case 'mirror':
      return { auto: 'sides alike where it suits', yes: 'both sides alike', no: 'the sides as they are' }[s.mirror];
    case 'show':
      return { auto: 'what suits the picture', head: 'the head', animal: 'the whole animal', picture: 'the picture' }[
        s.show
      ];
    case 'eyes':
      return s.eyes === 'auto' ? 'eyes as they are found' : s.eyes.length ? 'the eyes' : 'no eyes';
    case 'nose':
      return s.nose === 'auto' ? 'the nose as it is found' : s.nose.length ? 'the nose' : 'no nose';
    case 'backgroundColour':
      return s.backgroundColour ? `a background of ${s.backgroundColour}` : 'a background that suits the animal';
    case 'kind':
      return s.kind === 'auto' ? 'the kind found by itself' : `the picture as ${s.kind}`;
    case 'lines':
      return { auto: 'lines by their width', keep: 'lines sewn', fill: 'figures filled', dissolve: 'figures filled' }[
        s.lines
      ];
    case 'colours':
      return 'the colors of its parts';
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
      return `paper ${paperTitle(s.paper)}`;
    case 'units':
      return s.units === 'inch' ? 'inches' : 'centimetres';
    case 'fill':
      return { hatch: 'hatches', tint: 'pale colours', colour: 'colours', none: 'codes alone' }[s.fill];
    case 'packet':
      return s.packet === 'short' ? 'a short packet' : 'a full packet';
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
