// A finished series -> the sheets that belong to all of its blocks.
import { writePng } from '../drawing/png.ts';
import { planYardage } from '../fabric/plan-yardage.ts';
import { writeYardage } from '../packet/yardage.ts';
import type { BlockSettings } from '../pipeline.ts';
import { findOddOnes, type OddOne } from './odd-ones.ts';
import type { SeriesRun } from './run-series.ts';
import { drawContacts, writeSeriesSheets } from './series-sheets.ts';

export interface FinishOptions
  extends Pick<BlockSettings, 'name' | 'level' | 'paper' | 'margin' | 'system' | 'allowance' | 'slack' | 'designer'> {
  readonly quilt: {
    readonly across?: number;
    readonly setting: 'straight' | 'on point';
    readonly sashing?: number;
    readonly cornerstones: boolean;
    readonly borders: readonly number[];
  };
  /** dots an inch of the contact sheet's picture */
  readonly dpi: number;
}

export async function finishSeries(
  series: SeriesRun,
  o: FinishOptions,
): Promise<{ pdf: Uint8Array; yardage: Uint8Array; contact: Uint8Array; odd: readonly OddOne[] }> {
  const { blocks, fabrics } = series;
  const { name, system, paper, margin, allowance, slack, level } = o;
  const odd = findOddOnes(blocks);
  const { sashing, cornerstones, setting, borders } = o.quilt;
  const plan = planYardage(
    blocks.map((b) => b.block),
    {
      cloth: { system, allowance, slack },
      quilt: {
        ...arrange(blocks.length, o.quilt),
        ...{ setting, borders },
        ...(sashing && { sashing, sashingAround: true, cornerstones }),
      },
    },
  );
  const designer = o.designer && { designer: o.designer };
  const input = { name, blocks, fabrics, odd, level, paper, margin, ...designer };
  return {
    pdf: await writeSeriesSheets(input),
    yardage: await writeYardage(plan, { title: name, system, paper, margin, ...designer }),
    contact: writePng(drawContacts(input).drawings(name)[0]!, o.dpi),
    odd,
  };
}

/** Rows and columns that hold all blocks, near a square where no number across is asked for. */
function arrange(blocks: number, { across, setting }: FinishOptions['quilt']): { columns: number; rows: number } {
  const places = (c: number, r: number): number => (setting === 'on point' ? c * r + (c - 1) * (r - 1) : c * r);
  let columns = across ?? 1;
  if (!across) while (places(columns, columns) < blocks) columns++;
  let rows = 1;
  while (places(columns, rows) < blocks) rows++;
  return { columns, rows };
}
