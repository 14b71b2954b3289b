// One of the sheets that belong to all blocks of a series.
import { writePng } from '../drawing/png.ts';
import { planYardage } from '../fabric/plan-yardage.ts';
import { writeYardage } from '../packet/yardage.ts';
import type { FinishOptions, SheetToDraw } from './finish-series.ts';
import { drawContacts, writeSeriesSheets } from './series-sheets.ts';

export async function drawSheet({ sheet, series, odd, options: o }: SheetToDraw): Promise<Uint8Array> {
  const { blocks, fabrics } = series;
  const { name, units: system, paper, margin, allowance, slack, level } = o;
  const designer = o.designer && { designer: o.designer };
  const input = { name, blocks, fabrics, odd, level, paper, margin, ...designer };
  if (sheet === 'pages') return writeSeriesSheets(input);
  if (sheet === 'contact') return writePng(drawContacts(input).drawings(name)[0]!, o.dpi);
  const { sashing, sashingAround, cornerstones, setting, borders } = o.quilt;
  const plan = planYardage(
    blocks.map((b) => b.block),
    {
      cloth: { system, allowance, slack },
      quilt: {
        ...arrange(blocks.length, o.quilt),
        ...{ setting, borders },
        ...(sashing && { sashing, sashingAround, cornerstones }),
      },
    },
  );
  return writeYardage(plan, { title: name, system, paper, margin, ...designer });
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
