// A block -> what is printed of it or goes to other programs: the same bytes as the commands write.
import { strToU8, zipSync } from 'fflate';
import type { Block } from '../../block.ts';
import { drawFiles } from '../../commands/sheet-files.ts';
import { writeSvg } from '../../drawing/svg.ts';
import { shoppingCsv } from '../../fabric/csv.ts';
import { planYardage } from '../../fabric/plan-yardage.ts';
import { entryName } from '../../files.ts';
import { asFileName } from '../../names.ts';
import { previewOf } from '../../packet/preview.ts';
import { changedSettings } from '../../pipeline/change.ts';
import { outlinesOf } from '../../pipeline/number.ts';
import { printBlock } from '../../pipeline/print.ts';
import { printProven } from '../../pipeline/schedule.ts';
import type { Progress } from '../../pipeline/work.ts';
import { outlinesOfBlock } from '../../section/bare-pieces.ts';
import type { Settings } from '../../settings/settings.ts';
import { layOutTemplates, type TemplateSheetOptions } from '../../template/lay-out.ts';
import type { Sheets, ToDraw, ToPrint } from './jobs.ts';
import { Kept } from './kept.ts';

/** dots an inch of sheets as pictures, as `seamwright sheets` has it */
const DPI = 150;
/** files in a ZIP have dates, without a zone: this one, so that the same block gives the same bytes */
const DATE = new Date(1990, 0, 1, 12);

export async function printWork(job: ToPrint, progress: Progress): Promise<Uint8Array> {
  const { block, settings } = job;
  switch (job.format) {
    case 'packet.pdf':
      return packetOf(job, progress);
    case 'preview.png':
      return previewOf(block);
    case 'fabric.csv':
      return strToU8(tableOf(block, settings));
    case 'sections-svg.zip':
      return zipOf(block, settings, 'svg', 'section', progress);
    case 'sections-dxf.zip':
      return zipOf(block, settings, 'dxf', 'section', progress);
    case 'sheets-png.zip':
      return zipOf(block, settings, 'png', 'sheet', progress);
  }
}

async function packetOf({ block, settings, by, notes, regions }: ToPrint, progress: Progress): Promise<Uint8Array> {
  if (by === 'picture' && regions) {
    const outlines = await outlinesOf(regions, JSON.stringify(block.fabrics), block.size, false);
    return (await printProven(block, { outlines }, settings, notes, progress)).files.packet;
  }
  const own = changedSettings(block, settings);
  if (by === 'change')
    return (await printProven(block, { outlines: outlinesOfBlock(block) }, own, notes, progress)).files.packet;
  // what may be sewn was judged when the file was opened
  return (await printBlock(block, {}, own, notes, progress)).files.packet;
}

/** The table of `seamwright yardage --csv shopping`. */
function tableOf(block: Block, { units: system, slack }: Settings): string {
  const { shopping, quilt } = planYardage([block], { cloth: { system, slack, grain: 'edge' } });
  return shoppingCsv(shopping, system, quilt);
}

const sheetOptions = (block: Block, settings: Settings): TemplateSheetOptions => {
  const { paper, margin, allowance, units: system, fill, designer } = settings;
  return {
    ...{ paper, margin, allowance, system, fill },
    ...(designer && { designer }),
    ...(block.edition && { version: `edition ${block.edition}` }),
  };
};

/** The nesting takes most of the time: what was laid out last is kept for the next format. */
const laidOut = new Kept<ReturnType<typeof layOutTemplates>>(2);
const layOut = (block: Block, settings: Settings) => {
  const options = sheetOptions(block, settings);
  return laidOut.get(JSON.stringify([block, options]), async () => layOutTemplates(block, options));
};

async function zipOf(
  block: Block,
  settings: Settings,
  format: 'svg' | 'dxf' | 'png',
  each: 'sheet' | 'section',
  progress: Progress,
): Promise<Uint8Array> {
  progress.stage('laying the templates on paper');
  const laid = await layOut(block, settings);
  progress.stage('drawing the files');
  const files = drawFiles(block, laid, sheetOptions(block, settings), { format, each, dpi: DPI });
  return zipSync(
    Object.fromEntries(files.map(([ending, bytes]) => [entryName(`${asFileName(block.name)}.${ending}`), bytes])),
    {
      mtime: DATE,
      level: format === 'png' ? 0 : 6,
    },
  );
}

export async function drawSheets({ block, settings }: ToDraw, progress: Progress): Promise<Sheets> {
  progress.stage('laying the templates on paper');
  const { sheets, sheetsOf } = await layOut(block, settings);
  const on = (n: number): string[] => block.sections.map((s) => s.id).filter((id) => sheetsOf[id]?.includes(n));
  return {
    lines: sheets.map((_, i) => ({ number: i + 1, sections: on(i + 1) })),
    pictures: sheets.map(writeSvg),
  };
}
