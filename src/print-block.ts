// 6-9. The second half of the way: a numbered block -> all that is printed for it. Apart from pipeline.ts because what sets pages
// takes long to load, and is not needed before the pieces are there.
import { type Block, pieceName, writeBlock } from './block.ts';
import { checkBlock } from './check/check-block.ts';
import type { Outlines } from './data.ts';
import { missingCharacters } from './drawing/fonts.ts';
import { UserError } from './errors.ts';
import { measureEffort } from './fabric/effort.ts';
import { planFabric } from './fabric/plan-fabric.ts';
import { narrowestWidth } from './geometry/polygon.ts';
import { REFUSED_WIDTH, WARNED_WIDTH } from './levels.ts';
import { writePacket } from './packet/packet.ts';
import { previewOf } from './packet/preview.ts';
import { type Beside, type PacketSettings, type Progress, proveBlock, quiet, unlessFailed } from './pipeline.ts';
import { layOutTemplates, type TemplateSheets } from './template/lay-out.ts';
import { drawPractice } from './template/practice.ts';
import { turnLeftRight } from './template/printed-side.ts';
import { rescaleBlock } from './template/rescale.ts';
import { formatLength, formatSize, type Mm, mm, type System } from './units.ts';

export interface FinishedBlock {
  readonly block: Block;
  readonly templates: TemplateSheets;
  readonly sheets: number;
  readonly warnings: readonly string[];
  readonly files: { readonly block: Uint8Array; readonly preview: Uint8Array; readonly packet: Uint8Array };
}

/** mm: corners are rounded to the grid of 1 micrometre */
const NARROW_SLACK = 0.002;

/** 5-9: a numbered block -> the check, and all that is printed for it. */
export async function finishBlock(...of: Parameters<typeof printBlock>): Promise<FinishedBlock> {
  const [block, , settings, , progress = quiet] = of;
  progress.stage('checking that it can be sewn');
  proveBlock(block, settings);
  return printBlock(...of);
}

/** 6-9: a block that has passed the check -> all that is printed for it. A section too large for the paper is printed in parts. */
export async function printBlock(
  block: Block,
  outlines: Outlines | undefined,
  settings: PacketSettings,
  notes: readonly string[] = [],
  progress: Progress = quiet,
  beside?: Pick<Beside, 'preview' | 'cloth'>,
): Promise<FinishedBlock> {
  const { allowance, paper, margin, system } = settings;
  // a directional or large print keeps its patches upright
  const upright = block.fabrics.filter((f) => f.print).map((f) => f.id);
  const cloth = { system, allowance, slack: settings.slack, upright };
  const planned = beside?.cloth(block, cloth);
  const preview = beside?.preview(block);
  for (const promise of [planned, preview]) promise?.catch(() => {});
  progress.stage('drawing templates');
  const footer = {
    ...(settings.designer && { designer: settings.designer }),
    ...(block.edition && { version: `edition ${block.edition}` }),
  };
  const templates = layOutTemplates(block, {
    paper,
    margin,
    allowance,
    system,
    ...(settings.fill && { fill: settings.fill }),
    ...footer,
  });
  const shopping = (await unlessFailed(planned)) ?? planFabric([{ block }], cloth);
  const warnings = [...notes, ...(shopping.notes ?? []), ...missingLetters(block, settings.designer)];

  progress.stage('setting the packet');
  const packet = await writePacket({
    block,
    templates,
    practice: drawPractice({ allowance, system }),
    shopping,
    ...(outlines && { outlines }),
    work: measureEffort(block),
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
    templates,
    sheets: templates.sheets.length,
    warnings,
    files: {
      block: new TextEncoder().encode(writeBlock(block)),
      preview: (await unlessFailed(preview)) ?? previewOf(block),
      packet,
    },
  };
}

/** A finished block at another size, or turned left to right: checked again. Throws UserError where it could not be sewn. */
export function resizeBlock(
  block: Block,
  change: { readonly size?: readonly [Mm, Mm]; readonly turn?: boolean; readonly name?: string },
  system: System,
): { block: Block; warnings: string[] } {
  const sized = change.size ? rescaleBlock(block, change.size, system) : block;
  const turned = change.turn ? turnLeftRight(sized) : sized;
  const changed = change.name ? { ...turned, name: change.name } : turned;
  const fault = checkBlock(changed, { smallest: mm(0) }).faults[0];
  if (fault) throw new UserError(`${block.name} cannot be sewn as it stands in its file: ${fault.text}`);
  const widths = changed.sections.flatMap((s) =>
    s.pieces.map((p) => ({ name: pieceName(s, p), width: narrowestWidth(p.outline) })),
  );
  const least = widths.reduce((a, b) => (b.width < a.width ? b : a));
  if (change.size && least.width < REFUSED_WIDTH - NARROW_SLACK) {
    const grow = REFUSED_WIDTH / least.width;
    throw new UserError(
      `At ${formatSize(changed.size, system)} piece ${least.name} would finish ${formatLength(least.width, system)} wide; under 1/4 in (6.4 mm) ` +
        `cannot be sewn. Choose ${formatSize(changed.size.map((v) => Math.ceil((v * grow) / 6.35) * 6.35) as [number, number], system)} or more.`,
    );
  }
  const narrow = widths.filter((w) => w.width < WARNED_WIDTH - NARROW_SLACK).length;
  const warnings = narrow
    ? [
        `${narrow === 1 ? '1 piece finishes' : `${narrow} pieces finish`} under 3/8 in (1 cm) wide: take small stitches and press each seam before the next.`,
      ]
    : [];
  return { block: changed, warnings };
}

/** What of the user's own words the printed pages cannot show. */
export function missingLetters(block: Block, designer = ''): string[] {
  const missing = missingCharacters([block.name, designer, ...block.fabrics.map((f) => f.name)].join(''));
  return missing.length
    ? [
        `The program's fonts lack ${missing.map((ch) => `"${ch}"`).join(', ')}: an empty box is printed instead. Choose names in other letters where that matters.`,
      ]
    : [];
}
