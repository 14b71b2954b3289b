// 4-5. The pieces -> the numbered block, and the proof that it can be sewn.
import { type Block, onGrid } from '../block.ts';
import { checkBlock } from '../check/check-block.ts';
import type { Outlines, Picture, Shading } from '../data.ts';
import type { FitFound } from '../fit/fit-partition.ts';
import { faceNotes, lostNotes } from '../fit/lost-notes.ts';
import { findMarks } from '../outline/find-marks.ts';
import { traceOutlines } from '../outline/trace-outlines.ts';
import { numberPieces } from '../section/number-pieces.ts';
import { keptSettings, type Settings } from '../settings/settings.ts';
import { readRegions } from '../shade/regions-file.ts';
import { turnedLandmark, turnedShading } from '../shade/turn-shading.ts';
import { turnLeftRight } from '../template/printed-side.ts';
import { templateArea } from '../template/template-area.ts';
import { type Mm, mm } from '../units.ts';
import { sectionLimits } from './fit.ts';
import type { PacketSettings } from './print.ts';

export interface NumberedBlock {
  readonly block: Block;
  /** absent in a glance, which is not printed */
  readonly outlines?: Outlines;
  /** the shading as the block shows it: turned where the block is */
  readonly shown: Shading;
  readonly misplaced: number;
  readonly notes: readonly string[];
}

/** sets of pieces whose ways of being cut are all looked at in a glance */
const GLANCED_SETS = 60;

/** The grid as the block's face shows it, and its regions; no regions in a glance, which is not printed. */
export function faceOf(
  shading: Shading,
  { turn, effort, size }: Pick<Settings, 'turn' | 'effort' | 'size'>,
): Pick<NumberedBlock, 'shown' | 'outlines'> {
  const shown = turn ? turnedShading(shading) : shading;
  return { shown, ...(effort !== 'glance' && { outlines: traceOutlines(shown, size) }) };
}

/** 4: sections, numbers and joins of pieces that were fitted to this shading. */
export function numberBlock(
  fitted: FitFound,
  shading: Shading,
  settings: Settings,
  picture?: Pick<Picture, 'source' | 'notes'>,
  { shown, outlines }: Pick<NumberedBlock, 'shown' | 'outlines'> = faceOf(shading, settings),
): NumberedBlock {
  const { source } = picture ?? {};
  const facts = {
    ...{ name: settings.name, smallest: settings.smallest, fabrics: shading.fabrics },
    ...(settings.edition && { edition: settings.edition }),
    ...(source && {
      source: {
        sha256: source.sha256,
        pixels: [...source.pixels] as [number, number],
        crop: [...source.crop] as [number, number, number, number],
        settings: {
          ...keptSettings(settings),
          ...(source.sheet && { sheet: source.sheet }),
          ...(source.turn && { tilt: source.turn }),
        },
      },
    }),
  };
  const most = settings.effort === 'glance' ? GLANCED_SETS : undefined;
  const numbered = numberPieces(fitted, facts, sectionLimits(settings), most);
  const lost = settings.turn ? fitted.lost.map(turnedLandmark) : fitted.lost;
  const marks = outlines ? findMarks([...shown.lost, ...lost], outlines, shading.fabrics) : [];
  const turned = settings.turn ? turnLeftRight(numbered) : numbered;
  const stitches = (shown.strokes ?? []).map((line) => line.map(([x, y]) => onBlockGrid(x, y, settings.size)));
  const block = { ...turned, ...(marks.length && { marks }), ...(stitches.length && { stitches }) };
  const notes = [
    ...faceNotes(fitted, shading),
    ...(picture?.notes ?? []),
    ...shading.notes,
    ...lostNotes(lost, settings.size, settings.units),
  ];
  return { block, ...(outlines && { outlines }), shown, misplaced: fitted.misplaced, notes };
}

/** 5: throws where a block that was made here cannot be sewn as it was asked for. */
export function proveBlock(block: Block, settings: PacketSettings): void {
  const { smallest, allowance, paper, margin } = settings;
  const verdict = checkBlock(block, {
    smallest,
    most: settings.mostPieces,
    paper: templateArea(paper, margin).map(mm) as [Mm, Mm],
    allowance,
  });
  const fault = verdict.faults[0];
  if (fault)
    throw new Error(`the block that was made cannot be sewn (a fault of this program, not yours): ${fault.text}`);
}

/** NAME.regions.png again -> the picture's regions at the block's size. Throws UserError where it is no such file. */
export async function outlinesOf(
  regions: Uint8Array,
  fabrics: string,
  size: readonly [number, number],
  turn: boolean,
): Promise<Outlines> {
  const shading = await readRegions(regions, fabrics, { regions: 'the regions', fabrics: 'the fabrics' });
  return traceOutlines(turn ? turnedShading(shading) : shading, size);
}

const onBlockGrid = (x: number, y: number, [w, h]: readonly [number, number]): [number, number] => [
  onGrid(x * w),
  onGrid(y * h),
];
