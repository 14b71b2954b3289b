// Block files and drawings that were made to hang, to grow or to reach out. Shared by the test and by the script that prints the counts.
import type { Block, Section } from '../../src/block.ts';
import { randomBlock, randomNumbers } from '../check/random-block.ts';

export interface Hostile {
  readonly name: string;
  readonly ending: 'block.json' | 'svg';
  readonly text: () => string;
  /** what follows `check FILE`, or another command's words with FILE in them */
  readonly words?: readonly string[];
  /** counted by the script alone: the suite has others of its kind */
  readonly slow?: true;
}

/** The words of the command that is given the file. */
export const wordsFor = ({ words = [] }: Hostile, file: string): string[] =>
  words.includes('FILE') ? words.map((w) => (w === 'FILE' ? file : w)) : ['check', file, ...words];

type P = [number, number];
const rect = (x: number, y: number, w: number, h: number): P[] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];
const base = (size: P, sections: unknown[], joins: unknown[] = [], more: object = {}): string =>
  JSON.stringify({
    ...{ format: 'seamwright-block', version: 1, name: 'hostile', unit: 'mm', size, smallest: 0 },
    fabrics: [{ id: 'f1', code: 'fa', name: 'cream', colour: '#ffffff', hatch: 0 }],
    ...{ sections, joins },
    ...more,
  });
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const idOf = (i: number): string => (i < 26 ? '' : LETTERS[Math.floor(i / 26) - 1]!) + LETTERS[i % 26];

const row = (n: number, w: number): string =>
  base(
    [n * w, 100],
    [
      {
        ...{ id: 'A', outline: rect(0, 0, n * w, 100) },
        pieces: Array.from({ length: n }, (_, i) => ({
          ...{ number: i + 1, fabric: 'f1', outline: rect(i * w, 0, w, 100) },
          seam: i
            ? [
                [i * w, 0],
                [i * w, 100],
              ]
            : null,
        })),
      },
    ],
  );

/** Rows of sections; `broken`: the joins are numbered wrongly, so that everything is numbered anew by --repair. */
function grid(rows: number, columns: number, side: number, broken: boolean): string {
  const x = (i: number): number => Math.round((1000 * i * side) / columns) / 1000;
  const y = (i: number): number => Math.round((1000 * i * side) / rows) / 1000;
  const sections = Array.from({ length: rows }, (_, r) => ({
    ...{ id: idOf(r), outline: rect(0, y(r), side, y(r + 1) - y(r)) },
    pieces: Array.from({ length: columns }, (_, c) => ({
      ...{ number: c + 1, fabric: 'f1', outline: rect(x(c), y(r), x(c + 1) - x(c), y(r + 1) - y(r)) },
      seam: c
        ? [
            [x(c), y(r)],
            [x(c), y(r + 1)],
          ]
        : null,
    })),
  }));
  const joins = sections.slice(1).map((s, i) => ({
    ...{ number: i + (broken ? 2 : 1), left: sections.slice(0, i + 1).map((t) => t.id), right: [s.id] },
    seam: [
      [0, y(i + 1)],
      [side, y(i + 1)],
    ],
  }));
  return base([side, side], sections, joins);
}

const changed =
  (change: (b: Block) => unknown): (() => string) =>
  () => {
    const b = structuredClone(randomBlock(3));
    return JSON.stringify(change(b) ?? b);
  };
const firstPiece = (b: Block): Section['pieces'][number] => b.sections[0]!.pieces[0]!;

const svg = (inside: string, head = ''): string =>
  `${head}<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="200mm" height="200mm" viewBox="0 0 200 200"><style>line,rect{stroke:#000;fill:none}</style><rect width="200" height="200"/>${inside}</svg>`;
const randomLines = (n: number): string => {
  const r = randomNumbers(n);
  const v = (): string => (200 * r()).toFixed(2);
  return Array.from({ length: n }, () => `<line x1="${v()}" y1="${v()}" x2="${v()}" y2="${v()}"/>`).join('');
};

export const HOSTILE: readonly Hostile[] = [
  ...(
    [
      [
        'a size of 1e308',
        changed((b) => {
          b.size = [1e308, 1e308];
        }),
      ],
      [
        'a corner at 1e308',
        changed((b) => {
          firstPiece(b).outline[0] = [1e308, -1e308];
        }),
      ],
      ['2,000 pieces in a row', () => row(2000, 1)],
      ['100 pieces in a row', () => row(100, 20)],
      ['20,000 pieces', () => row(20_000, 0.1)],
      ['650 pieces in a grid', () => grid(26, 25, 300, false)],
      [
        '200,000 corners',
        changed((b) => {
          firstPiece(b).outline = Array.from({ length: 200_000 }, (_, i): P => [i / 1000, i % 7]);
        }),
      ],
      [
        '8,000 corners on one line',
        () =>
          base(
            [1000, 100],
            Array.from({ length: 1 }, () => ({
              ...{ id: 'A', outline: rect(0, 0, 1000, 100) },
              pieces: Array.from({ length: 40 }, (_, i) => ({
                ...{
                  number: i + 1,
                  fabric: 'f1',
                  seam: i
                    ? [
                        [i * 25, 0],
                        [i * 25, 100],
                      ]
                    : null,
                },
                outline: [
                  ...Array.from({ length: 98 }, (_, k): P => [Math.round(1000 * (i * 25 + (k * 25) / 98)) / 1000, 0]),
                  ...Array.from(
                    { length: 98 },
                    (_, k): P => [Math.round(1000 * (i * 25 + 25 - (k * 25) / 98)) / 1000, 100],
                  ),
                ],
              })),
            })),
          ),
      ],
      [
        '100,000 fabrics',
        changed((b) => {
          b.fabrics = Array.from({ length: 100_000 }, (_, i) => ({ ...b.fabrics[0]!, id: `f${i}`, code: `c${i}` }));
        }),
      ],
      [
        'a name of 100 kB',
        changed((b) => {
          b.name = 'x'.repeat(100_000);
        }),
      ],
      [
        "a fabric's name of 100 kB",
        changed((b) => {
          b.fabrics[0]!.name = 'x'.repeat(100_000);
        }),
      ],
      [
        '100,000 joins',
        changed((b) => {
          b.joins = Array.from({ length: 100_000 }, (_, i) => ({ ...b.joins[0]!, number: i + 1 }));
        }),
      ],
      [
        '20,000 brackets deep',
        () => base([100, 100], []).replace('{', `{"x":${'['.repeat(20_000)}${']'.repeat(20_000)},`),
      ],
      ['a million brackets', () => '['.repeat(1_000_000)],
      ['{ and a million brackets', () => `{"a":${'['.repeat(1_000_000)}`],
      ['12 MB of spaces', () => `{${' '.repeat(12_000_000)}}`],
      [
        '10,000 marks',
        changed((b) => ({
          ...b,
          marks: Array.from({ length: 10_000 }, () => ({ at: [1, 1], width: 1, fabric: 'f1' })),
        })),
      ],
      [
        'a hatch of 1e15',
        changed((b) => {
          b.fabrics[0]!.hatch = 1e15;
        }),
      ],
    ] as const
  ).map(([name, text]): Hostile => ({ name, text, ending: 'block.json' })),
  { name: '650 pieces numbered anew', ending: 'block.json', text: () => grid(26, 25, 300, true), words: ['--repair'] },
  ...(
    [
      ['650 pieces over 2 m', 26, 25, [], true],
      ['650 pieces over 2 m, the whole packet', 26, 25, ['--packet'], false],
      ['600 strips of 2 m', 600, 1, [], false],
      ['150 sections over 2 m, the whole packet', 150, 4, ['--packet'], true],
      ['330 sections over 2 m, the whole packet', 330, 2, ['--packet'], true],
      ['650 pieces of 8 cm, drawn for a cutter', 26, 25, ['--format', 'dxf', '--each', 'section'], true],
      ['4 pieces of 1 m', 2, 2, [], true],
    ] as const
  ).map(
    ([name, rows, columns, words, slow]): Hostile => ({
      ...{ name: `${name}: printed`, ending: 'block.json', text: () => grid(rows, columns, 2000, false) },
      ...{ words: ['sheets', 'FILE', '--paper', 'a4', '--force', ...words], ...(slow && { slow }) },
    }),
  ),
  ...(
    [
      [
        'a picture in another file',
        () => svg('<image href="/etc/hostname" width="9" height="9"/><line x1="0" y1="50" x2="200" y2="50"/>'),
      ],
      [
        'a picture by a link',
        () =>
          svg('<image xlink:href="file:///etc/hostname" width="9" height="9"/><line x1="0" y1="50" x2="200" y2="50"/>'),
      ],
      [
        'a drawing within, by data:',
        () =>
          svg(
            `<image href="data:image/svg+xml;base64,${Buffer.from(svg('<image href="/etc/hostname"/>')).toString('base64')}"/><line x1="0" y1="50" x2="200" y2="50"/>`,
          ),
      ],
      [
        'entities of entities',
        () =>
          svg(
            '&d;',
            `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${'bcd'
              .split('')
              .map((c, i) => `<!ENTITY ${c} "${`&${'abc'[i]};`.repeat(200)}">`)
              .join('')}]>`,
          ),
      ],
      ['an entity in another file', () => svg('&a;', '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>')],
      [
        '40,000 attributes',
        () =>
          svg(
            `<line ${Array.from({ length: 40_000 }, (_, i) => `a${i}="1"`).join(' ')} x1="0" y1="50" x2="200" y2="50"/>`,
          ),
      ],
      ['1,500 lines of chance', () => svg(randomLines(1500))],
      ['150 lines of chance', () => svg(randomLines(150))],
      [
        '20,000 squares',
        () =>
          svg(
            Array.from(
              { length: 20_000 },
              (_, i) => `<rect x="${i % 141}" y="${Math.floor(i / 141)}" width="1" height="1"/>`,
            ).join(''),
          ),
      ],
      [
        '600 squares',
        () =>
          svg(
            Array.from(
              { length: 600 },
              (_, i) => `<rect x="${8 * (i % 25)}" y="${8 * Math.floor(i / 25)}" width="8" height="8"/>`,
            ).join(''),
          ),
      ],
      [
        '190 groups within one another',
        () =>
          svg(
            `${'<g transform="translate(0 0)" opacity="0.99">'.repeat(190)}<line x1="0" y1="50" x2="200" y2="50"/>${'</g>'.repeat(190)}`,
          ),
      ],
      ['20,000 groups within one another', () => svg(`${'<g>'.repeat(20_000)}${'</g>'.repeat(20_000)}`)],
      [
        'uses of uses',
        () =>
          svg(
            `<defs><line id="u0" x1="0" y1="9" x2="200" y2="9"/>${Array.from({ length: 30 }, (_, i) => `<g id="u${i + 1}"><use href="#u${i}"/><use href="#u${i}"/></g>`).join('')}</defs><use href="#u30"/>`,
          ),
      ],
      ['a quote that never ends', () => svg(`<line x1="${'a '.repeat(200_000)}`)],
      ['a size of 1e30', () => svg('<line x1="0" y1="1e30" x2="1e30" y2="0"/>')],
      [
        '300 colours',
        () =>
          svg(
            Array.from(
              { length: 300 },
              (_, i) =>
                `<rect style="fill:#${(i * 50_000 + 1000).toString(16).padStart(6, '0')}" x="${10 * (i % 20)}" y="${10 * Math.floor(i / 20)}" width="10" height="10"/>`,
            ).join(''),
          ),
      ],
    ] as const
  ).map(([name, text]): Hostile => ({ name, text, ending: 'svg' })),
];
