// The whole way from a picture to a packet, on one page. The only file that knows every stage.
import type { Block } from './block.ts';
import { writeBlock } from './block.ts';
import { checkBlock } from './check/check-block.ts';
import type { Outlines, Picture, Shading } from './data.ts';
import { type Paper, paperTitle } from './drawing/paper.ts';
import { writePng } from './drawing/png.ts';
import { planFabric } from './fabric/plan-fabric.ts';
import { type Effort, fitPartition } from './fit/fit-partition.ts';
import type { Level } from './levels.ts';
import { traceOutlines } from './outline/trace-outlines.ts';
import { drawPreview } from './packet/block-picture.ts';
import { writePacket } from './packet/packet.ts';
import { type ReadOptions, readPicture } from './picture/read-picture.ts';
import { numberPieces } from './section/number-pieces.ts';
import type { Kind, KindFound } from './shade/find-kind.ts';
import { writeRegions } from './shade/regions-file.ts';
import type { Lines } from './shade/shade-drawing.ts';
import { shadePicture } from './shade/shade-picture.ts';
import { layOutTemplates } from './template/lay-out.ts';
import { turnLeftRight } from './template/printed-side.ts';
import { templateArea } from './template/sheet-frame.ts';
import { formatLength, type Mm, mm, type System } from './units.ts';

export interface BlockSettings {
  readonly name: string;
  readonly size: readonly [Mm, Mm];
  readonly level: Level;
  readonly shades: number;
  readonly pieces: number;
  readonly smallest: Mm;
  /** most pieces in a section */
  readonly mostPieces: number;
  readonly slack: Mm;
  readonly background: 'keep' | 'plain';
  /** what the picture is; found by itself where absent */
  readonly kind?: Kind;
  /** what becomes of a drawing's strokes; decided by their width where absent */
  readonly lines?: Lines;
  readonly crop?: NonNullable<ReadOptions['crop']>;
  readonly turn: boolean;
  readonly seed: number;
  readonly effort: Effort;
  readonly paper: Paper;
  readonly margin: Mm;
  readonly allowance: Mm;
  readonly system: System;
  readonly designer?: string;
}

/** What hears of the work: a stage that begins, and how far a long one is (0..1). May throw to cancel. */
export interface Progress {
  stage(name: string): void;
  done(share: number): void;
}

export const quiet: Progress = { stage: () => {}, done: () => {} };

/** What the packet depends on, for blocks from wherever. */
export type PacketSettings = Pick<
  BlockSettings,
  'level' | 'smallest' | 'mostPieces' | 'slack' | 'paper' | 'margin' | 'allowance' | 'system' | 'designer'
>;

export interface FinishedBlock {
  readonly block: Block;
  readonly sheets: number;
  readonly warnings: readonly string[];
  readonly files: { readonly block: Uint8Array; readonly preview: Uint8Array; readonly packet: Uint8Array };
}

export interface MadeBlock extends FinishedBlock {
  readonly shading: Shading;
  readonly misplaced: number;
  readonly files: FinishedBlock['files'] & { readonly regions: Uint8Array };
}

/** dots an inch of the preview picture */
const PREVIEW_DPI = 100;

/** 1-2: a file's bytes -> the grid of fabrics. */
export async function shadeFile(
  bytes: Uint8Array,
  fileName: string,
  settings: BlockSettings,
  progress: Progress = quiet,
): Promise<{ picture: Picture; shading: Shading; kind: KindFound }> {
  progress.stage('reading the picture');
  const [width, height] = settings.size;
  const picture = await readPicture(bytes, fileName, {
    aspect: width / height,
    ...(settings.crop && { crop: settings.crop }),
  });
  progress.stage('choosing shades');
  const shading = await shadePicture(picture, settings, (d) => progress.done(d));
  return { picture, shading, kind: shading.kind };
}

/** 3-9: a grid of fabrics -> the block and its packet. Every block that leaves has passed the sewing check. */
export async function makeBlock(
  shading: Shading,
  settings: BlockSettings,
  progress: Progress = quiet,
  picture?: Picture,
): Promise<MadeBlock> {
  const { size, smallest, allowance, paper, margin } = settings;
  const limits = { mostPieces: settings.mostPieces, paper: templateArea(paper, margin), allowance };

  progress.stage('fitting the pieces');
  const fitted = fitPartition(shading, { ...settings, sections: limits }, (d) => progress.done(d));

  progress.stage('numbering sections');
  const source = picture && {
    sha256: picture.source.sha256,
    pixels: [...picture.source.pixels] as [number, number],
    crop: [...picture.source.crop] as [number, number, number, number],
    settings: settingsInFile(settings),
  };
  const facts = { name: settings.name, smallest, fabrics: shading.fabrics, ...(source && { source }) };
  const numbered = numberPieces(fitted, facts, limits);
  const block = settings.turn ? turnLeftRight(numbered) : numbered;

  const shown = settings.turn ? turnedShading(shading) : shading;
  const outlines = traceOutlines(shown, size);
  const notes = [...(picture?.notes ?? []), ...shading.notes, ...warningsOf(fitted.lost, settings)];
  const finished = await finishBlock(block, outlines, settings, notes, progress);
  return {
    ...finished,
    shading: shown,
    misplaced: fitted.misplaced,
    files: { ...finished.files, regions: await writeRegions(shown) },
  };
}

/** 5-9: a numbered block -> the check, and all that is printed for it. */
export async function finishBlock(
  block: Block,
  outlines: Outlines,
  settings: PacketSettings,
  notes: readonly string[] = [],
  progress: Progress = quiet,
): Promise<FinishedBlock> {
  const { smallest, allowance, paper, margin, system } = settings;
  progress.stage('checking that it can be sewn');
  const verdict = checkBlock(block, {
    smallest,
    most: settings.mostPieces,
    paper: templateArea(paper, margin).map(mm) as [Mm, Mm],
    allowance,
  });
  const fault = verdict.faults[0];
  if (fault)
    throw new Error(`the block that was made cannot be sewn (a fault of this program, not yours): ${fault.text}`);

  progress.stage('drawing templates');
  const footer = {
    ...(settings.designer && { designer: settings.designer }),
    ...(block.edition && { version: `edition ${block.edition}` }),
  };
  const templates = layOutTemplates(block, { paper, margin, allowance, system, ...footer });
  const shopping = planFabric([{ block }], { system, allowance, slack: settings.slack });
  const warnings = [...notes, ...(shopping.notes ?? [])];

  progress.stage('setting the packet');
  const packet = await writePacket({
    block,
    templates,
    shopping,
    outlines,
    notes: warnings,
    system,
    paper,
    margin,
    allowance,
    level: settings.level,
    ...footer,
  });
  return {
    block,
    sheets: templates.sheets.length,
    warnings,
    files: {
      block: new TextEncoder().encode(writeBlock(block)),
      preview: writePng(drawPreview(block), PREVIEW_DPI),
      packet,
    },
  };
}

/** What is kept in the block file so that the block can be made again. */
function settingsInFile(s: BlockSettings): Record<string, unknown> {
  const { level, shades, pieces, mostPieces, background, kind, lines, turn, seed, effort, paper } = s;
  return {
    ...{ level, shades, pieces, mostPieces, background, turn, seed, effort, paper: paperTitle(paper) },
    ...(kind && { kind }),
    ...(lines && { lines }),
  };
}

function warningsOf(lost: readonly { at: readonly [number, number] }[], { system, size }: BlockSettings): string[] {
  return lost.map(
    ({ at }) =>
      `A small detail ${formatLength(at[0] * size[0], system)} from the left and ${formatLength(at[1] * size[1], system)} from the top ` +
      'got no piece of its own: ask for more pieces, or stitch it or ink it on the finished block.',
  );
}

/** The grid as the turned block shows it. */
function turnedShading(s: Shading): Shading {
  const labels = new Uint8Array(s.labels.length);
  for (let y = 0; y < s.height; y++)
    for (let x = 0; x < s.width; x++) labels[y * s.width + x] = s.labels[y * s.width + s.width - 1 - x]!;
  return { ...s, labels };
}
