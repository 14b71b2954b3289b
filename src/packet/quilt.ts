// The quilt: a picture of the top in its setting, how the backing is put together, and what is cut from each cloth, long cuts first.
import type { Block } from '../block.ts';
import type { QuiltPlan } from '../data.ts';
import { type Item, placeItems, polygon, rectangle, text } from '../drawing/drawing.ts';
import { formatLength, formatSize } from '../units.ts';
import { facePicture } from './block-picture.ts';
import { Flow, tickBox } from './flow.ts';
import type { PlanPage } from './plan-page.ts';

const SASHING = '#e9e9e9';
const BORDERS = ['#d2d2d2', '#f3f3f3', '#c4c4c4'];
/** Above this many pieces blocks are drawn as squares with their number. */
const MOST_DRAWN = 6000;

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
  flow.space(2);
  const scale = Math.min((flow.width * 0.58) / quilt.size[0], 120 / quilt.size[1]);
  flow.add(...placeItems(quiltItems(page, quilt, scale), { turn: 0, dx: flow.left, dy: flow.y }));
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

function quiltItems({ plan }: PlanPage, q: QuiltPlan, scale: number): Item[] {
  const items: Item[] = [];
  const [width, height] = q.size;
  const frame = (inset: number, fill: string): Item =>
    rectangle('fill', inset * scale, inset * scale, (width - 2 * inset) * scale, (height - 2 * inset) * scale, {
      fill,
      stroke: { width: 0.2 },
    });
  // Borders from the outside in, each over the one before it.
  let inset = 0;
  [...q.borders].reverse().forEach((b, i) => {
    items.push(frame(inset, BORDERS[(q.borders.length - 1 - i) % BORDERS.length]!));
    inset += b;
  });
  items.push(frame(inset, SASHING));
  const dealt = dealOut(plan.blocks);
  const drawn = dealt.reduce((t, { block }) => t + block.sections.flatMap((s) => s.pieces).length, 0) <= MOST_DRAWN;
  const faces = new Map<Block, Item[]>();
  const put = (n: number, x: number, y: number, turn: number): void => {
    const one = dealt[n % dealt.length]!;
    let face = faces.get(one.block);
    if (!face) {
      const [w, h] = [one.block.size[0] * scale, one.block.size[1] * scale];
      face = drawn
        ? [
            ...facePicture(one.block, scale, { width: 0.03, colour: '#8a8a8a' }),
            rectangle('box', 0, 0, w, h, { stroke: { width: 0.15 } }),
          ]
        : [
            rectangle('box', 0, 0, w, h, { fill: '#ffffff', stroke: { width: 0.15 } }),
            text('text', [w / 2, h / 2 + 1], String(one.number), 7, { align: 'middle' }),
          ];
      faces.set(one.block, face);
    }
    items.push(...placeItems(face, { turn, dx: x * scale, dy: y * scale }));
  };
  let n = 0;
  if (q.setting === 'on point') {
    const d = q.block[0] * Math.SQRT2;
    for (let r = 0; r < 2 * q.rows - 1; r++) {
      const inner = r % 2;
      // A block turned by 45 degrees about its upper left corner hangs below it.
      for (let c = 0; c < q.columns - inner; c++) put(n++, inset + (c + 0.5 + inner / 2) * d, inset + (r * d) / 2, 45);
    }
    return items;
  }
  const start = inset + (q.sashingAround ? q.sashing : 0);
  for (let r = 0; r < q.rows; r++)
    for (let c = 0; c < q.columns; c++)
      put(n++, start + c * (q.block[0] + q.sashing), start + r * (q.block[1] + q.sashing), 0);
  if (q.cornerstones && q.sashing) {
    const lines = (count: number): number[] =>
      Array.from({ length: count + 1 }, (_, i) => i).filter((i) => q.sashingAround || (i > 0 && i < count));
    for (const r of lines(q.rows))
      for (const c of lines(q.columns)) {
        const x = start + c * (q.block[0] + q.sashing) - q.sashing;
        const y = start + r * (q.block[1] + q.sashing) - q.sashing;
        items.push(
          rectangle('fill', x * scale, y * scale, q.sashing * scale, q.sashing * scale, {
            fill: '#9a9a9a',
            stroke: { width: 0.1 },
          }),
        );
      }
  }
  return items;
}

/** Blocks in the order in which they are set: in turn, as long as there are some left of each. */
function dealOut(blocks: PlanPage['plan']['blocks']): { block: Block; number: number }[] {
  const most = Math.max(...blocks.map((b) => b.copies));
  return Array.from({ length: most }, (_, round) =>
    blocks.flatMap(({ block, copies }, i) => (round < copies ? [{ block, number: i + 1 }] : [])),
  ).flat();
}

/** The backing with its seams, the quilt's outline on it in dashes. */
function backingItems(q: QuiltPlan, scale: number, length: (v: number) => string): { items: Item[]; height: number } {
  const { width, height } = q.batting;
  const [w, h] = [width * scale, height * scale];
  const over = ((width - q.size[0]) / 2) * scale;
  const items: Item[] = [rectangle('box', 0, 0, w, h, { fill: '#f3f3f3', stroke: { width: 0.3 } })];
  const { count, seams } = q.backing;
  for (let i = 1; i < count; i++) {
    const at = i / count;
    items.push(
      polygon(
        'seam',
        seams === 'up'
          ? [
              [w * at, 0],
              [w * at, h],
            ]
          : [
              [0, h * at],
              [w, h * at],
            ],
        { stroke: { width: 0.5 } },
      ),
    );
  }
  items.push(rectangle('box', over, over, w - 2 * over, h - 2 * over, { stroke: { width: 0.2, dash: [1.5, 1] } }));
  items.push(text('text', [0, h + 4], `${length(width)} wide, ${length(height)} high; dashes: the top`, 7));
  return { items, height: h + 5 };
}
