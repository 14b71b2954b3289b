// Seeded damage to block files, settings and drawings: each must end in a sentence or in something sound. Shared by the test, which
// does a little, and by the script, which goes on as long as it is let.
import { checkSvg } from '../../src/apart/svg-limits.ts';
import { readBlock, writeBlock } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { readChange, readCompare, readSeries, readSettings } from '../../src/page/server/bodies.ts';
import { UserError } from '../../src/problems/problem.ts';
import { readSeriesSettings } from '../../src/series/settings.ts';
import { readCloths } from '../../src/shade/read-cloths.ts';
import { randomBlock, randomNumbers } from '../check/random-block.ts';
import { drawBlock } from '../design/draw.ts';

const SETTINGS = `name: shelter
common: fabrics
fabrics: [{ name: cream, colour: '#eaddcb' }, { name: barn red, colour: '#7c0a02', print: large }]
block: { pieces: 60, size: 12in, background: plain }
pictures: { fox.svg: { pieces: 80 } }
quilt: { across: 3, sashing: 2in, borders: [1in, 4in] }
`;
const CLOTHS = 'name,colour\n"cream, old",#eaddcb\nbarn red;#7c0a02;large\n';

/** Words that have broken readers before. */
const ODD = [
  '1e999',
  '-1e308',
  'null',
  '[]',
  '{}',
  '""',
  '-0',
  '"\\u0000"',
  '"\u202e"',
  '&a ',
  '*a',
  '<<:',
  '__proto__',
  '{"toString":1}',
  '[[[[',
  '<!ENTITY x "y">',
  '../',
  '\ud800',
  'NaN',
  '9'.repeat(400),
];

function damage(text: string, random: () => number): string {
  const at = (): number => Math.floor(random() * text.length);
  const [a, b] = [at(), at()].sort((x, y) => x - y) as [number, number];
  switch (Math.floor(random() * 7)) {
    case 0:
      return text.slice(0, a);
    case 1:
      return text.slice(0, a) + String.fromCharCode(Math.floor(random() * 0x3000)) + text.slice(a + 1);
    case 2:
      return text.slice(0, a) + text.slice(Math.min(b, a + 200));
    case 3:
      return text.slice(0, b) + text.slice(a, Math.min(b, a + 400)) + text.slice(b);
    case 4: {
      const numbers = [...text.matchAll(/-?\d+(\.\d+)?/g)];
      const one = numbers[Math.floor(random() * numbers.length)];
      return one
        ? text.slice(0, one.index) + ODD[Math.floor(random() * ODD.length)] + text.slice(one.index + one[0].length)
        : text;
    }
    case 5: {
      const words = [...text.matchAll(/"[^"]*"|\w+/g)];
      const one = words[Math.floor(random() * words.length)];
      return one
        ? text.slice(0, one.index) + ODD[Math.floor(random() * ODD.length)] + text.slice(one.index + one[0].length)
        : text;
    }
    default:
      return text.slice(0, a) + ODD[Math.floor(random() * ODD.length)] + text.slice(a);
  }
}

/** What the view sends, sound; each is bent. */
const REQUESTS = [
  '{"pieces":40,"size":[304.8,304.8],"crop":[0.1,0,0.8,0.8],"background":"plain","eyes":[[0.4,0.3],[0.6,0.3]]}',
  '{"kind":"divide","piece":"A3","line":[[10,20],[60,25]],"fabric":"fb"}',
  '{"kind":"fabric","pieces":["A3","B7"],"fabric":"fb"}',
  '{"name":"shelter friends","works":["fox-1a2b3c4d"],"settings":{"pieces":30},"common":"fabrics"}',
  '{"shades":[3,4,5],"pieces":[40,60]}',
];
const readRequest = (text: string): void => {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    throw new UserError('not-json', {}, 2);
  }
  // each reader refuses what is another's; a fault of any is a fault
  const fates = [readSettings, readChange, readSeries, readCompare].map((one) => {
    try {
      one(data);
      return undefined;
    } catch (e) {
      if (!(e instanceof UserError)) throw e;
      return e;
    }
  });
  if (fates.every((e) => e)) throw fates[0]!;
};

const read = {
  'block file': (text: string) => {
    const block = readBlock(text, 'a.block.json');
    checkBlock(block);
    // what is read can be written, and read again as the same
    const again = writeBlock(block);
    if (writeBlock(readBlock(again, 'a')) !== again) throw new Error('written otherwise');
  },
  settings: (text: string) => void readSeriesSettings(text, 's.yaml'),
  request: readRequest,
  fabrics: (text: string) => void readCloths(text, 'f.csv'),
  drawing: (text: string) => {
    const { text: safe } = checkSvg(text, 'a.svg', false);
    if (/<script[\s>]|href\s*=\s*["'](?!#|["'])/i.test(safe)) throw new Error('not safe');
  },
} as const;
export type FuzzKind = keyof typeof read;
export const FUZZ_KINDS = Object.keys(read) as FuzzKind[];

export interface Fuzzed {
  readonly kind: FuzzKind;
  readonly fate: 'taken' | 'refused' | 'fault';
  readonly says: string;
}

/** One damaged text, the same for the same seed. */
export function fuzzOnce(seed: number): Fuzzed {
  const random = randomNumbers(seed);
  const kind = FUZZ_KINDS[seed % FUZZ_KINDS.length]!;
  const good = {
    'block file': () => writeBlock(randomBlock(seed % 50, { pieces: 4 + (seed % 20) })),
    settings: () => SETTINGS,
    request: () => REQUESTS[seed % REQUESTS.length]!,
    fabrics: () => CLOTHS,
    drawing: () => drawBlock(randomBlock(seed % 50, { pieces: 8 }), { fills: true }),
  }[kind]();
  let text = good;
  for (let n = 0; n <= random() * 4; n++) text = damage(text, random);
  try {
    read[kind](text);
    return { kind, fate: 'taken', says: '' };
  } catch (e) {
    const says = (e as Error).message;
    const clear = e instanceof UserError && /^\S.*\.$/s.test(says) && !/(?<!received )undefined|\[object/.test(says);
    return { kind, fate: clear ? 'refused' : 'fault', says };
  }
}
