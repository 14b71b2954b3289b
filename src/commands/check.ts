// A block file or a drawing of straight lines -> whether it can be sewn; its block and packet, or a picture of where it cannot.
import { type Judgement, judgeFile } from '../pipeline/judge.ts';
import type { PacketSettings } from '../pipeline/print.ts';
import { outlinesOfBlock } from '../section/bare-pieces.ts';
import type { Settings } from '../settings/settings.ts';
import { templateArea } from '../template/template-area.ts';
import { type Mm, mm } from '../units.ts';
import type { Io } from './io.ts';

export interface CheckOptions {
  /** finished size of a drawing; as drawn where absent */
  readonly size?: readonly [Mm, Mm];
  /** line ends this close are meant to meet, mm */
  readonly near: Mm;
  readonly repair: boolean;
}

/** Where files are written at all: a drawing of 100 mm is 600 pixels wide. */
const MARKED_DPI = 150;

/** Throws UserError for a file that is neither. */
export const judge = (
  text: string,
  file: string,
  options: CheckOptions,
  settings: Pick<Settings, 'name' | 'mostPieces' | 'paper' | 'margin' | 'allowance'>,
): Promise<Judgement> => {
  const { name, mostPieces, paper, margin, allowance } = settings;
  return judgeFile(text, file, {
    ...{ name, ...options },
    limits: { mostPieces, paper: templateArea(paper, margin), allowance },
  });
};

export type CheckFile = 'marked' | 'block' | 'preview' | 'packet';

/** The files that a judgement gives rise to. */
export const filesOf = ({ faults, repairs, block }: Judgement): CheckFile[] => [
  ...(faults.length > 0 || repairs.some((r) => r.seam) ? (['marked'] as const) : []),
  ...(block ? (['block', 'preview', 'packet'] as const) : []),
];

export async function printJudged(
  judged: Judgement,
  settings: PacketSettings,
  { progress }: Io,
): Promise<Partial<Record<CheckFile, Uint8Array>>> {
  // loaded only where files are written: a verdict alone is quick
  const [{ printProven }, { drawMarked }, { writePng }] = await Promise.all([
    import('../pipeline/schedule.ts'),
    import('../packet/marked-picture.ts'),
    import('../drawing/png.ts'),
  ]);
  const bytes: Partial<Record<CheckFile, Uint8Array>> = {};
  if (filesOf(judged).includes('marked')) bytes.marked = writePng(drawMarked(judged), MARKED_DPI);
  const { block } = judged;
  if (!block) return bytes;
  const own = {
    ...settings,
    smallest: mm(block.smallest),
    mostPieces: Math.max(settings.mostPieces, ...block.sections.map((s) => s.pieces.length)),
  };
  const { files } = await printProven(block, { outlines: outlinesOfBlock(block) }, own, judged.notes, progress);
  return { ...bytes, ...files };
}
