// The table of settings: a made-up option is found everywhere that settings go, and every stage reads what the table says it reads.
import { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { addSettings } from '../../src/cli/options.ts';
import { optionOf } from '../../src/cli/voice.ts';
import { LEVEL_DEFAULTS, LEVELS } from '../../src/levels.ts';
import { type Field, STAGES, type Stage } from '../../src/settings/field.ts';
import { FIELDS } from '../../src/settings/fields.ts';
import * as kinds from '../../src/settings/kinds.ts';
import {
  checkPart,
  completeSettings,
  defaultSettings,
  type Fields,
  keptSettings,
  keyOfStage,
  type Settings,
  settingsJsonSchema,
} from '../../src/settings/settings.ts';
import { settingsOfWords, wordsSchema } from '../../src/settings/words.ts';
import { inches } from '../../src/units.ts';

const whiskers: Field<number> = {
  kind: kinds.whole(0, 24),
  preset: (level) => (level === 'beginner' ? 0 : 6),
  stage: 'shade',
  title: 'Whiskers',
  option: 'whiskers',
  help: 'whiskers to stitch on the finished block',
  kept: (n) => n,
};
const fields = { ...FIELDS, whiskers } as unknown as Fields;

describe('an option that is one entry in the table', () => {
  it('is an option of the command, with its help', () => {
    const help = addSettings(new Command('block'), undefined, {}, fields).helpInformation().replace(/\s+/g, ' ');
    expect(help).toContain('--whiskers <number> whiskers to stitch on the finished block');
  });
  it('is read from words, within its limits', () => {
    expect(settingsOfWords({ whiskers: '8' }, fields)).toEqual({ whiskers: 8 });
    expect(() => settingsOfWords({ whiskers: '99' }, fields)).toThrow(
      /whiskers: "99" is not a whole number from 0 to 24/,
    );
  });
  it('has a default for each level', () => {
    expect(defaultSettings('beginner', fields)).toMatchObject({ whiskers: 0 });
    expect(completeSettings({}, fields)).toMatchObject({ whiskers: 6 });
  });
  it("is taken in the page's requests", () => {
    expect(checkPart({ whiskers: 3 }, fields)).toEqual({ whiskers: 3 });
    expect(() => checkPart({ whiskers: -1 }, fields)).toThrow(/whiskers/);
    expect(() => checkPart({ whiskers: 3 })).toThrow(/no setting whiskers/);
  });
  it("stands in a series' file", () => {
    expect(wordsSchema(fields).parse({ whiskers: 4 })).toEqual({ whiskers: 4 });
    expect(wordsSchema().safeParse({ whiskers: 4 }).success).toBe(false);
  });
  it('is in the JSON Schema', () => {
    const { properties } = settingsJsonSchema(fields) as { properties: Record<string, unknown> };
    expect(properties.whiskers).toMatchObject({ type: 'integer', maximum: 24, title: 'Whiskers' });
  });
  it('is kept in the block file', () => {
    expect(keptSettings(completeSettings({}, fields), fields)).toMatchObject({ whiskers: 6 });
  });
  it('changes what is remembered of its stage and those after it, and of none before', () => {
    const [a, b] = [6, 7].map((n) => ({ ...completeSettings({}, fields), whiskers: n }));
    for (const stage of STAGES) {
      const same = keyOfStage(stage, a!, fields) === keyOfStage(stage, b!, fields);
      expect(same, stage).toBe(STAGES.indexOf(stage) < STAGES.indexOf('shade'));
    }
  });
});

describe('the table', () => {
  it('takes its own defaults', () => {
    for (const level of LEVELS) expect(completeSettings({ level })).toEqual(defaultSettings(level));
  });
  it('has the house rules of every level', () => {
    for (const level of LEVELS) {
      const { size, ...rest } = LEVEL_DEFAULTS[level];
      expect(defaultSettings(level)).toMatchObject({ ...rest, size: [size, size] });
    }
  });
  it('names a title, a help and a stage for every field', () => {
    for (const [name, f] of Object.entries(FIELDS)) {
      expect(f.title, name).toMatch(/^[A-Z]/);
      expect(f.help.length, name).toBeGreaterThan(8);
      expect(STAGES, name).toContain(f.stage);
    }
  });
  it('refuses a block that is grown through as many pieces as it is to have', () => {
    expect(() => completeSettings({ pieces: 60, grow: [40, 60] })).toThrow(/60 is not fewer than the 60 pieces/);
  });
  it('reads words as the command line has them', () => {
    const words = {
      size: '10x14in',
      smallest: '3/8in',
      most: '7',
      crop: '0.1,0,0.8,0.8',
      sheet: 'no',
      focus: ['0.5,0.4,0.2', '0.1,0.1,0.1,5'],
      turn: true,
      grow: '60,40,40',
      paper: '13x19in',
    };
    expect(completeSettings(settingsOfWords(words))).toMatchObject({
      size: [inches(10), inches(14)],
      smallest: inches(3 / 8),
      mostPieces: 7,
      crop: [0.1, 0, 0.8, 0.8],
      sheet: 'no',
      focus: [
        { x: 0.5, y: 0.4, r: 0.2, weight: 3 },
        { x: 0.1, y: 0.1, r: 0.1, weight: 5 },
      ],
      turn: true,
      grow: [40, 60],
      paper: { width: inches(13), height: inches(19) },
    });
    expect(settingsOfWords({ focus: ['none'] })).toEqual({ focus: [] });
  });
  it.each([
    [{ shades: '1' }, /shades: "1" is not a whole number from 2 to 12/],
    [{ pieces: 'many' }, /pieces: "many" is not a whole number from 2 to 600/],
    [{ size: '2in' }, /size: a block is from 3 to 60 in \(8 to 150 cm\) on each side/],
    [{ smallest: '1/8in' }, /smallest: pieces under 1\/4 in \(6.4 mm\) cannot be sewn/],
    [{ crop: '1,2' }, /crop: "1,2" is not x,y,width,height/],
    [{ sheet: '0,0,1,1,1,0,0,1' }, /sheet: "0,0,1,1,1,0,0,1" is neither "no" nor four corners/],
    [{ focus: ['2,0,1'] }, /focus: "2,0,1" is not x,y,r/],
    [{ name: 'a/b' }, /name: choose a name of 1 to 80 characters/],
    [{ paper: 'roll 36in' }, /A roll is for template sheets/],
    [{ paper: 'papyrus' }, /paper: "papyrus" is no paper/],
    [{ background: 'loud' }, /background: "loud" is not one of auto, keep, calm, plain/],
    [{ effort: 'glance' }, /effort: "glance" is not one of quick, full, long/],
  ])('says what is wrong with %j', (words, says) => {
    expect(() => completeSettings(settingsOfWords(words as never))).toThrow(says);
  });
  it('calls an option what it is called', () => {
    expect(optionOf('mostPieces')).toBe('--most');
    expect(optionOf('backingOverhang')).toBe('--backing-overhang');
  });
});

/** Settings that note which of their fields are read. */
function watched(settings: Settings): { settings: Settings; read: Set<string> } {
  const read = new Set<string>();
  const proxy = new Proxy(settings, {
    get(of, name) {
      if (typeof name === 'string' && name in of) read.add(name);
      return Reflect.get(of, name);
    },
  });
  return { settings: proxy, read };
}

/** Fields that a stage may read: its own, those before it, and parts of later ones. */
const fieldsOfStage = (stage: Stage): string[] =>
  (Object.entries(FIELDS) as unknown as [string, Field<unknown>][])
    .filter(([, f]) => [f.stage, f.earlier?.stage].some((s) => s && STAGES.indexOf(s) <= STAGES.indexOf(stage)))
    .map(([name]) => name);

describe('what each stage reads', () => {
  it('is what the table says', async () => {
    const { readFile } = await import('node:fs/promises');
    const { readPicture } = await import('../../src/pipeline/figure.ts');
    const { see, shade } = await import('../../src/pipeline/shade.ts');
    const { fitPieces } = await import('../../src/pipeline/fit.ts');
    const { numberBlock, proveBlock } = await import('../../src/pipeline/number.ts');
    const { printBlock } = await import('../../src/pipeline/print.ts');
    const settings = completeSettings({ pieces: 12, shades: 4, effort: 'glance' });
    const bytes = new Uint8Array(await readFile(new URL('../../fixtures/flat/noto-fox.svg', import.meta.url)));
    const readBy = new Map<Stage, Set<string>>();
    const watch = (stage: Stage): Settings => {
      const { settings: s, read } = watched(settings);
      readBy.set(stage, read);
      return s;
    };
    const read = await readPicture(bytes, 'fox.svg', watch('figure'));
    const seen = await see(read, watch('shade'));
    const shading = await shade(seen, watch('shade'));
    const [fitted] = fitPieces(shading, watch('fit'));
    const numbered = numberBlock(fitted!, shading, watch('number'), read.picture);
    proveBlock(numbered.block, watch('number'));
    await printBlock(numbered.block, { outlines: numbered.outlines }, watch('print'));
    for (const [stage, names] of readBy) {
      expect(names.size, stage).toBeGreaterThan(0);
      const allowed = fieldsOfStage(stage);
      expect(
        [...names].filter((n) => !allowed.includes(n)),
        stage,
      ).toEqual([]);
    }
  });
});
