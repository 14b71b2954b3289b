// 6-9. A numbered block -> all that is printed for it. Loaded only when the pieces are there: what sets pages takes long to load.
import { type Block, writeBlock } from '../block.ts';
import type { Outlines, Picture } from '../data.ts';
import { missingCharacters } from '../drawing/fonts.ts';
import { measureEffort } from '../fabric/effort.ts';
import { planFabric } from '../fabric/plan-fabric.ts';
import { writePacket } from '../packet/packet.ts';
import { previewOf } from '../packet/preview.ts';
import type { Settings } from '../settings/settings.ts';
import { layOutTemplates, type TemplateSheets } from '../template/lay-out.ts';
import { drawPractice } from '../template/practice.ts';
import { smallPicture } from './small-picture.ts';
import { type Beside, orHere, type Progress, quiet } from './work.ts';

/** What the packet depends on, for blocks from wherever. */
export type PacketSettings = Pick<
  Settings,
  | 'level'
  | 'smallest'
  | 'mostPieces'
  | 'slack'
  | 'paper'
  | 'margin'
  | 'allowance'
  | 'units'
  | 'fill'
  | 'packet'
  | 'designer'
>;

/** What a block was made from, as far as it is at hand: shown small beside it. */
export interface MadeFrom {
  readonly outlines?: Outlines | undefined;
  /** without pixels where they were not kept; `turned` left to right, as the block is */
  readonly picture?: (Pick<Picture, 'width' | 'height' | 'pixels'> & { readonly turned?: boolean }) | undefined;
}

export interface PrintedBlock {
  readonly block: Block;
  readonly templates: TemplateSheets;
  readonly sheets: number;
  readonly warnings: readonly string[];
  readonly files: { readonly block: Uint8Array; readonly preview: Uint8Array; readonly packet: Uint8Array };
}

/** A block that has passed the check -> all that is printed for it. A section too large for the paper is printed in parts. */
export async function printBlock(
  block: Block,
  { outlines, picture }: MadeFrom,
  settings: Omit<PacketSettings, 'smallest' | 'mostPieces'>,
  notes: readonly string[] = [],
  progress: Progress = quiet,
  beside?: Pick<Beside, 'preview' | 'cloth'>,
): Promise<PrintedBlock> {
  const { allowance, paper, margin, units: system } = settings;
  const cloth = clothOf(block, settings);
  const planned = beside?.cloth(block, cloth);
  const preview = beside?.preview(block);
  const small = picture?.pixels.length ? smallPicture(picture) : undefined;
  small?.catch(() => {});
  for (const promise of [planned, preview]) promise?.catch(() => {});
  progress.stage('drawing templates');
  const footer = {
    ...(settings.designer && { designer: settings.designer }),
    ...(block.edition && { version: `edition ${block.edition}` }),
  };
  const templates = layOutTemplates(block, { paper, margin, allowance, system, fill: settings.fill, ...footer });
  const shopping = (await orHere(planned)) ?? planFabric([{ block }], cloth);
  const warnings = [...notes, ...(shopping.notes ?? []), ...missingLetters(block, settings.designer)];

  progress.stage('setting the packet');
  const packet = await writePacket({
    block,
    templates,
    practice: drawPractice({ allowance, system }),
    shopping,
    ...(outlines && { outlines }),
    ...(small && { picture: await small }),
    work: measureEffort(block),
    notes: warnings,
    ...{ system, paper, margin, allowance },
    level: settings.level,
    packet: settings.packet,
    ...footer,
  });
  return {
    block,
    templates,
    sheets: templates.sheets.length,
    warnings,
    files: {
      block: new TextEncoder().encode(writeBlock(block)),
      preview: (await orHere(preview)) ?? previewOf(block),
      packet,
    },
  };
}

/** How a block's cloth is planned; a directional or large print keeps its patches upright. */
export const clothOf = (block: Block, settings: Pick<Settings, 'units' | 'allowance' | 'slack'>) => ({
  ...{ system: settings.units, allowance: settings.allowance, slack: settings.slack },
  upright: block.fabrics.filter((f) => f.print).map((f) => f.id),
});

/** What of the user's own words the printed pages cannot show. */
export function missingLetters(block: Block, designer = ''): string[] {
  const missing = missingCharacters([block.name, designer, ...block.fabrics.map((f) => f.name)].join(''));
  return missing.length
    ? [
        `The program's fonts lack ${missing.map((ch) => `"${ch}"`).join(', ')}: an empty box is printed instead. Choose names in other letters where that matters.`,
      ]
    : [];
}
