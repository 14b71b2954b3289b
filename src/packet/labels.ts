// Labels to cut apart: for the bags, one a section with its patches in sewing order; and for every patch. One set of each block.
import { rectangle, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { formatSize } from '../units.ts';
import { type Cell, Flow, oneLine } from './flow.ts';
import { blockTitle, type PlanPage } from './plan-page.ts';
import { swatch } from './shopping-list.ts';

const CUT = { width: 0.15, colour: '#777777', dash: [1.5, 1.5] as const };

export function drawLabels(page: PlanPage): Flow {
  const { plan, system, fabrics } = page;
  const flow = new Flow(page.paper, page.margin);
  const codes = new Map(plan.shopping.fabrics.map((f) => [f.id, f.code ?? f.id]));
  const { patches } = plan.shopping;
  flow.heading('Labels for bags');
  flow.paragraph(
    'One bag a section, patches in sewing order with the first on top. Cut apart on the dashed lines. One set of every block.',
    { size: 9 },
  );
  flow.space(1);
  const bagWidth = flow.width / 3;
  const bags = plan.blocks.flatMap(({ block }) =>
    block.sections.map((s): Cell => {
      const own = patches.filter((p) => p.block === block.name && p.section === s.id);
      const words = own.map((p) => `${p.section}${p.piece} ${codes.get(p.fabric)}`).join(', ');
      const lines = wrapText(words, 8, 'regular', bagWidth - 5);
      return {
        height: 14 + lines.length * 3.9,
        items: [
          text('text', [2.5, 8.5], s.id, 17, { font: 'bold' }),
          text('text', [16, 5.5], oneLine(blockTitle(page, block), 8.5, bagWidth - 18, true), 8.5, { font: 'bold' }),
          text('text', [16, 9.3], `${own.length} ${own.length === 1 ? 'patch' : 'patches'}`, 7.5),
          ...lines.map((l, i) => text('text', [2.5, 14 + i * 3.9], l, 8)),
        ],
      };
    }),
  );
  drawCut(flow, bags, 3);
  flow.newPage();
  flow.heading('Labels for patches');
  flow.paragraph('In sewing order: block, patch, fabric, size as cut. Pin one to each pile.', { size: 9 });
  flow.space(1);
  const columns = 5;
  const width = flow.width / columns;
  const labels = plan.blocks.flatMap(({ block }) =>
    patches
      .filter((p) => p.block === block.name)
      .map((p): Cell => {
        const code = codes.get(p.fabric)!;
        const known = fabrics.get(code);
        return {
          height: 14,
          items: [
            text('text', [2, 6], `${p.section}${p.piece}`, 11, { font: 'bold' }),
            ...(known ? swatch(known, width - 10, 2, 4) : []),
            text('text', [width - 11, 5.5], code, 8.5, { align: 'end' }),
            text('text', [2, 9.6], formatSize([p.width, p.length], system), 7),
            text('text', [2, 12.6], oneLine(blockTitle(page, block), 6.5, width - 4), 6.5),
          ],
        };
      }),
  );
  drawCut(flow, labels, columns);
  return flow;
}

/** Cells without gaps, a row as high as its highest, with lines to cut along. */
function drawCut(flow: Flow, cells: readonly Cell[], columns: number): void {
  const width = flow.width / columns;
  for (let i = 0; i < cells.length; i += columns) {
    const row = cells.slice(i, i + columns);
    const height = Math.max(...row.map((c) => c.height));
    flow.grid(
      row.map((c) => ({ height, items: [...c.items, rectangle('box', 0, 0, width, height, { stroke: CUT })] })),
      columns,
      0,
    );
  }
}
