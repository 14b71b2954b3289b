// The quilt: a picture of the top in its setting, how the backing is put together, and what is cut from each cloth, long cuts first.
import type { QuiltPlan } from '../data.ts';
import { placeItems, text } from '../drawing/drawing.ts';
import { formatLength, formatSize } from '../units.ts';
import { Flow, tickBox } from './flow.ts';
import type { PlanPage } from './plan-page.ts';
import { backingItems, quiltItems } from './quilt-picture.ts';

export function drawQuilt(page: PlanPage, quilt: QuiltPlan): Flow {
  const { plan, system } = page;
  const flow = new Flow(page.paper, page.margin);
  const size = (v: readonly [number, number]): string => formatSize(v, system);
  flow.heading('The quilt');
  flow.paragraph(
    `${size(quilt.size)} finished: ${quilt.blocks} blocks of ${size(quilt.block)}${
      quilt.setting === 'on point'
        ? `, on point: ${quilt.rows} rows of ${quilt.columns} and ${quilt.rows - 1} of ${quilt.columns - 1} between them`
        : `, ${quilt.rows} rows of ${quilt.columns}`
    }.`,
    { size: 10.5 },
  );
  if (quilt.setting === 'on point')
    flow.paragraph(
      `The blocks stand on a corner, so what they show leans over.${
        quilt.sashing
          ? ' Sashing frames every block and runs past the edge: trim it through the middle of the outermost crossings, leaving the seam allowance.'
          : ''
      }`,
      { size: 9 },
    );
  flow.space(2);
  const scale = Math.min((flow.width * 0.58) / quilt.size[0], 120 / quilt.size[1]);
  flow.add(...placeItems(quiltItems(plan, quilt, scale), { turn: 0, dx: flow.left, dy: flow.y }));
  const right = flow.left + quilt.size[0] * scale + 12;
  const room = flow.left + flow.width - right;
  const back = backingItems(quilt, Math.min(room / quilt.batting.width, 70 / quilt.batting.height), (v) =>
    formatLength(v, system),
  );
  flow.add(text('text', [right, flow.y + 3], 'Backing, from behind', 9, { font: 'bold' }));
  flow.add(...placeItems(back.items, { turn: 0, dx: right, dy: flow.y + 6 }));
  flow.y += Math.max(quilt.size[1] * scale, back.height + 12) + 6;

  flow.heading('What is cut from each cloth', 14);
  flow.paragraph(
    'Sizes as cut, seam allowance included. Long pieces first, along the selvage and each in one piece; measure the top through its middle before you cut borders to length.',
    { size: 9 },
  );
  const line = (words: string): void => {
    flow.need(6);
    flow.add(tickBox(flow.left + 2, flow.y + 1.2));
    flow.paragraph(words, { indent: 7.5, size: 9 });
  };
  const pair = (w: number, l: number): string => size([w, l]);
  for (const c of quilt.cloths) {
    if (!c.cuts.length) continue;
    flow.need(14);
    flow.paragraph(
      `${c.what}: ${c.buy}${c.pieced ? ` (${c.pieced} if the long ones are pieced from strips across the cloth)` : ''}`,
      { bold: true, size: 10 },
    );
    for (const cut of c.cuts) {
      const where =
        cut.way === 'lengthwise'
          ? 'along the selvage'
          : [
              ...(cut.beside ? [`${cut.beside} from beside the long pieces`] : []),
              ...(cut.strips
                ? [
                    `${cut.count - cut.beside} from ${cut.strips} ${cut.strips === 1 ? 'strip' : 'strips'} across the cloth`,
                  ]
                : []),
            ].join(', ');
      line(`${cut.count} x ${pair(cut.width, cut.length)}: ${cut.what} (${where})`);
    }
    flow.space(1);
  }
  const { binding: b, backing: k, batting } = quilt;
  const of = (what: string): string => quilt.cloths.find((c) => c.what === what)!.buy;
  flow.need(14);
  flow.paragraph(`binding: ${of('binding')}`, { bold: true, size: 10 });
  line(
    `${b.count} strips ${formatLength(b.width, system)} wide across the cloth, joined on the diagonal to ${formatLength(b.total, system)} or more`,
  );
  flow.space(1);
  flow.need(14);
  flow.paragraph(`backing: ${of('backing')}`, { bold: true, size: 10 });
  line(
    k.count === 1
      ? `1 panel, the whole width of the cloth by ${formatLength(k.length, system)}`
      : `${k.count} panels, the whole width of the cloth by ${formatLength(k.length, system)}; sewn together side by side, the seams run ${k.seams === 'up' ? 'up' : 'across'} the quilt; take the selvages off first`,
  );
  flow.space(1);
  flow.paragraph(`batting: ${size([batting.width, batting.height])}, one piece`, { bold: true, size: 10 });
  if (plan.blocks.length > 1) {
    flow.space(1);
    const list = plan.blocks.map(({ block, copies }, i) => `${i + 1} ${block.name} (${copies} x)`).join(', ');
    flow.paragraph(`Blocks, in turn from the upper left: ${list}.`, { size: 9 });
  }
  return flow;
}
