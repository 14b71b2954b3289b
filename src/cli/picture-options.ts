// What commands that begin with a picture ask about it: what it is, what to show of it, what matters in it.
import { type Command, Option } from 'commander';
import { UserError } from '../errors.ts';
import type { BlockSettings } from '../pipeline.ts';
import { wholeNumber } from './options.ts';

export interface PictureGiven {
  shades?: string;
  background: 'keep' | 'calm' | 'plain';
  kind?: 'photo' | 'drawing' | 'flat';
  lines?: 'keep' | 'dissolve';
  tone?: 'even' | 'keep';
  crop?: string;
  subject?: string;
  sheet?: string;
  focus?: string[];
  fabrics?: string;
  again?: boolean;
}

export function addPictureOptions(command: Command): Command {
  return command
    .option('--shades <number>', 'fabrics at most, background included; auto: as many as the picture asks for')
    .addOption(
      new Option('--background <how>', 'keep it, calm it to few large shades, or make it one plain fabric')
        .choices(['keep', 'calm', 'plain'])
        .default('keep'),
    )
    .addOption(
      new Option('--kind <kind>', 'what the picture is (default: found by itself)').choices([
        'photo',
        'drawing',
        'flat',
      ]),
    )
    .addOption(
      new Option(
        '--lines <how>',
        "a drawing's strokes: sewn, or given to what they enclose (default: by width)",
      ).choices(['keep', 'dissolve']),
    )
    .addOption(
      new Option(
        '--tone <how>',
        'the tones of black or white fur: drawn apart, so that it gets shades of its own, or kept (default: drawn apart where the background is not kept)',
      ).choices(['even', 'keep']),
    )
    .option('--crop <x,y,w,h>', 'the part to show, as shares of the picture or in pixels; auto: the animal')
    .option(
      '--sheet <x,y,...>',
      "where the picture is a photo of a sheet: the sheet's four corners as shares of it, clockwise from the top left; no: show it as it is (default: found by itself)",
    )
    .option('--subject <x,y,w,h>', 'a frame about the animal, where it is not found by itself')
    .option(
      '--focus <x,y,r[,weight]>',
      'a disc on the block that gets more pieces, as shares of its width; again for another; none (default: the face)',
      (value: string, before: string[] = []) => [...before, value],
    );
}

/** What of the settings of a block these options set. Throws UserError that names the option. */
export function pictureSettings(
  given: PictureGiven,
  shades: number,
): Pick<BlockSettings, 'shades' | 'background' | 'kind' | 'lines' | 'tone' | 'crop' | 'sheet' | 'subject' | 'focus'> {
  const crop = given.crop === 'auto' ? 'auto' : given.crop && boxOf(given.crop, '--crop');
  const subject = given.subject && boxOf(given.subject, '--subject');
  return {
    shades: given.shades === 'auto' ? 'auto' : given.shades ? wholeNumber(given.shades, '--shades', 2, 12) : shades,
    background: given.background,
    ...(given.kind && { kind: given.kind }),
    ...(given.lines && { lines: given.lines }),
    ...(given.tone && { tone: given.tone }),
    ...(crop && { crop }),
    ...(given.sheet && { sheet: given.sheet === 'no' ? given.sheet : cornersOf(given.sheet) }),
    ...(subject && { subject }),
    ...(given.focus && { focus: focusOf(given.focus) }),
  };
}

function boxOf(text: string, option: string): [number, number, number, number] {
  const parts = text.split(',').map(Number);
  if (parts.length !== 4 || parts.some((v) => !Number.isFinite(v) || v < 0))
    throw new UserError(`${option}: "${text}" is not x,y,width,height, for example 0.1,0,0.8,0.8.`, 2);
  return parts as [number, number, number, number];
}

function cornersOf(text: string): Exclude<NonNullable<BlockSettings['sheet']>, 'no'> {
  const c = text.split(',').map(Number);
  const at = (i: number): [number, number] => [c[2 * (i % 4)]!, c[2 * (i % 4) + 1]!];
  // all turns the same way: four corners in order, none behind another
  const turns = [0, 1, 2, 3].map((i) => {
    const [[ax, ay], [bx, by], [dx, dy]] = [at(i), at(i + 1), at(i + 2)];
    return (bx - ax) * (dy - by) - (by - ay) * (dx - bx);
  });
  if (c.length !== 8 || c.some((v) => !(v >= 0 && v <= 1)) || turns.some((t) => !(t > 1e-4)))
    throw new UserError(
      `--sheet: "${text}" is neither "no" nor four corners, clockwise from the top left, as shares of the picture, for example 0.1,0.1,0.9,0.12,0.95,0.9,0.05,0.88.`,
      2,
    );
  return c as unknown as Exclude<NonNullable<BlockSettings['sheet']>, 'no'>;
}

const MOST_WEIGHT = 10;
/** What a disc weighs where nothing is said. */
const WEIGHT = 3;

function focusOf(list: readonly string[]): NonNullable<BlockSettings['focus']> {
  if (list.includes('none')) return [];
  return list.map((text) => {
    const [x, y, r, weight = WEIGHT, ...more] = text.split(',').map(Number);
    const sound = [x, y, r, weight].every((v) => v !== undefined && Number.isFinite(v)) && !more.length;
    if (!sound || x! < 0 || x! > 1 || y! < 0 || y! > 1 || r! <= 0 || r! > 1 || weight < 1 || weight > MOST_WEIGHT)
      throw new UserError(
        `--focus: "${text}" is not x,y,r or x,y,r,weight: shares of the block from 0 to 1 and a weight from 1 to ${MOST_WEIGHT}, for example 0.5,0.4,0.2,3.`,
        2,
      );
    return { x: x!, y: y!, r: r!, weight };
  });
}
