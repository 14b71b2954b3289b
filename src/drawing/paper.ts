// Paper sizes and the part of a sheet that printers reach. ISO 216 (A sizes) and ANSI Y14.1 (letter, tabloid = ANSI B); mm.
import { UserError } from '../errors.ts';
import { type Mm, mm } from '../units.ts';

export const PAPER_NAMES = ['letter', 'a4', 'legal', 'a3', 'tabloid', 'both'] as const;
/** 'both': a page whose content prints at 100 % on Letter and on A4 alike. */
export type Paper = (typeof PAPER_NAMES)[number];

const SIZES: Record<Paper, readonly [number, number]> = {
  letter: [215.9, 279.4],
  a4: [210, 297],
  legal: [215.9, 355.6],
  a3: [297, 420],
  tabloid: [279.4, 431.8],
  both: [210, 279.4],
};
const TITLES: Record<Paper, string> = {
  letter: 'Letter',
  a4: 'A4',
  legal: 'Legal',
  a3: 'A3',
  tabloid: 'Tabloid',
  both: 'Letter or A4',
};
/** What both papers can print: 7 1/2 x 10 1/4 in (common practice for patterns sold on both sides of the Atlantic). */
const BOTH_AREA: readonly [number, number] = [190.5, 260.35];

/** Width and height of the page in mm. */
export const paperSize = (paper: Paper): readonly [Mm, Mm] => [mm(SIZES[paper][0]), mm(SIZES[paper][1])];
export const paperTitle = (paper: Paper): string => TITLES[paper];

export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The page less its margins. Throws UserError where nothing useful is left. */
export function printableFrame(paper: Paper, margin: number): Frame {
  const [w, h] = SIZES[paper];
  const least = paper === 'both' ? BOTH_AREA : undefined;
  const width = Math.min(w - 2 * margin, least?.[0] ?? Infinity);
  const height = Math.min(h - 2 * margin, least?.[1] ?? Infinity);
  if (!(width >= 150 && height >= 200))
    throw new UserError(
      `A margin of ${margin} mm leaves too little of ${TITLES[paper]} paper; choose 25 mm (1 in) or less.`,
      2,
    );
  return { x: (w - width) / 2, y: (h - height) / 2, width, height };
}
