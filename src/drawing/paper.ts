// Paper sizes and the part of a sheet that printers reach. ISO 216 (A sizes) and ANSI Y14.1 (letter, tabloid = ANSI B); mm.
import { UserError } from '../problems/problem.ts';
import { type Mm, mm, parseLength, parseSize } from '../units.ts';

export const PAPER_NAMES = ['letter', 'a4', 'legal', 'a3', 'tabloid', 'both'] as const;
/** 'both': a page whose content prints at 100 % on Letter and on A4 alike. */
export type PaperName = (typeof PAPER_NAMES)[number];

/** A sheet of one's own size; from a roll, `height` is the most that is cut off at once. */
export interface OwnPaper {
  readonly width: Mm;
  readonly height: Mm;
  readonly roll?: boolean;
}
export type Paper = PaperName | OwnPaper;

export const isRoll = (paper: Paper): paper is OwnPaper => typeof paper === 'object' && paper.roll === true;

const SIZES: Record<PaperName, readonly [number, number]> = {
  letter: [215.9, 279.4],
  a4: [210, 297],
  legal: [215.9, 355.6],
  a3: [297, 420],
  tabloid: [279.4, 431.8],
  both: [210, 279.4],
};
const TITLES: Record<PaperName, string> = {
  letter: 'Letter',
  a4: 'A4',
  legal: 'Legal',
  a3: 'A3',
  tabloid: 'Tabloid',
  both: 'Letter or A4',
};
/** What both papers can print: 7 1/2 x 10 1/4 in (common practice for patterns sold on both sides of the Atlantic). */
const BOTH_AREA: readonly [number, number] = [190.5, 260.35];

/** mm: the longest piece of a roll; PDF readers take pages up to 14400 units = 5080 mm (ISO 32000, annex C) */
export const LONGEST_PIECE = mm(3000);
const NARROWEST = mm(200);
const WIDEST = mm(1600);

/** Width and height of the page in mm. */
export const paperSize = (paper: Paper): readonly [Mm, Mm] =>
  typeof paper === 'object' ? [paper.width, paper.height] : [mm(SIZES[paper][0]), mm(SIZES[paper][1])];

const round = (v: number): number => Math.round(v * 10) / 10;
export const paperTitle = (paper: Paper): string => {
  if (typeof paper === 'string') return TITLES[paper];
  return paper.roll ? `a roll ${round(paper.width)} mm wide` : `${round(paper.width)} x ${round(paper.height)} mm`;
};

/** Reads "letter", "13x19in", "roll 36in" or "roll 90 cm". Throws UserError (exit 2) that names the field. */
export function parsePaper(words: string, field: string): Paper {
  const name = PAPER_NAMES.find((n) => n === words.trim().toLowerCase());
  if (name) return name;
  const roll = /^\s*roll[\s:=]\s*(.+)$/i.exec(words);
  if (!roll && !/^\s*\d/.test(words))
    throw new UserError('not-a-paper', { field, value: words, papers: PAPER_NAMES }, 2);
  const [width, height] = roll ? [parseLength(roll[1]!, field), LONGEST_PIECE] : parseSize(words, field);
  if (width < NARROWEST || width > WIDEST || height < 250 || height > LONGEST_PIECE)
    throw new UserError('paper-out-of-range', { field }, 2);
  return roll ? { width, height, roll: true } : { width, height };
}

export interface PaperFrame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The page less its margins. Throws UserError where nothing useful is left. */
export function printableFrame(paper: Paper, margin: number): PaperFrame {
  const [w, h] = paperSize(paper);
  const least = paper === 'both' ? BOTH_AREA : undefined;
  const width = Math.min(w - 2 * margin, least?.[0] ?? Infinity);
  const height = Math.min(h - 2 * margin, least?.[1] ?? Infinity);
  if (!(width >= 150 && height >= 200)) throw new UserError('margin-too-wide', { margin, paper: paperTitle(paper) }, 2);
  return { x: (w - width) / 2, y: (h - height) / 2, width, height };
}
