// Pages for a class or a shop: a cutting ticket for each fabric with columns left to write in, a card for each participant, the
// list of what everyone brings.
import type { ClassPlan } from '../data.ts';
import { type Item, placeItems, polyline, rectangle, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { formatLength } from '../units.ts';
import { facePicture, sizeWithin } from './block-picture.ts';
import { type Cell, Flow, oneLine, tickBox } from './flow.ts';
import type { PlanPage } from './plan-page.ts';
import { swatch } from './shopping-list.ts';

const rule = (x: number, y: number, width: number): Item =>
  polyline(
    'rule',
    [
      [x, y],
      [x + width, y],
    ],
    { width: 0.2 },
  );

/** A ticket goes with the bolt to the cutting table and comes back with bolt and price filled in. */
export function drawTickets(page: PlanPage, kits: ClassPlan): Flow {
  const { system, fabrics } = page;
  const flow = new Flow(page.paper, page.margin);
  flow.heading('Cutting tickets');
  flow.paragraph(
    kits.kit === 'patches'
      ? 'One for each fabric: it goes with the bolt. The places left empty are for whoever cuts. Cut strips from the widest down; the picture in the cutting plan shows what each is cut into.'
      : 'One for each fabric: it goes with the bolt. Cut one length a person. The places left empty are for whoever cuts.',
    { size: 9 },
  );
  flow.space(1);
  const sets = kits.people + kits.spare;
  for (const t of kits.tickets) {
    const lines =
      kits.kit === 'patches'
        ? t.strips.map((s) => [
            `${s.count} x`,
            `${formatLength(s.width, system)} wide`,
            `up to ${formatLength(s.length, system)} of each is used`,
          ])
        : [[`${sets} x`, cardLine(kits, t.code), 'one a person']];
    const height = 22 + lines.length * 6.5 + 4;
    flow.need(height);
    const [x, y, w] = [flow.left, flow.y, flow.width];
    flow.add(rectangle('box', x, y, w, height - 4, { stroke: { width: 0.35 } }));
    const known = fabrics.get(t.code);
    if (known) flow.add(...swatch(known, x + 2, y + 2, 8));
    flow.add(
      text('text', [x + 21, y + 6], oneLine(`${t.code}  ${t.name}`, 12, w * 0.36, true), 12, { font: 'bold' }),
      text(
        'text',
        [x + 21, y + 10.5],
        `cut from ${t.buy}${kits.kit === 'patches' ? `; ${t.patches} patches` : ''}`,
        8.5,
      ),
      text('text', [x + w * 0.52, y + 6], 'bolt', 8),
      rule(x + w * 0.52 + 8, y + 6.5, w * 0.2 - 8),
      text('text', [x + w * 0.75, y + 6], 'price', 8),
      rule(x + w * 0.75 + 9, y + 6.5, w * 0.25 - 12),
      text('text', [x + w * 0.52, y + 13], 'cut by', 8),
      rule(x + w * 0.52 + 11, y + 13.5, w * 0.2 - 11),
      text('text', [x + w * 0.75, y + 13], 'length taken', 8),
      rule(x + w * 0.75 + 18, y + 13.5, w * 0.25 - 21),
    );
    let base = y + 21;
    for (const [count, what, used] of lines) {
      flow.add(
        tickBox(x + 3, base - 2.8),
        text('text', [x + 9, base], count!, 9.5, { font: 'bold' }),
        text('text', [x + 24, base], oneLine(what!, 9.5, 58), 9.5),
        text('text', [x + 84, base], oneLine(used!, 8.5, w - 86), 8.5),
      );
      base += 6.5;
    }
    flow.y += height;
  }
  return flow;
}

const cardLine = (kits: ClassPlan, code: string): string =>
  (kits.card.find((c) => c.startsWith(`${code} `)) ?? '').split(': ').slice(1).join(': ');

const CARD_PICTURE = 34;

/** Cards to cut apart, one a participant: what is in the bag, and how sewing goes on from there. */
export function drawCards(page: PlanPage, kits: ClassPlan): Flow {
  const flow = new Flow(page.paper, page.margin);
  flow.heading('Cards for participants');
  flow.paragraph('Cut apart; one goes into every bag.', { size: 9 });
  flow.space(1);
  const gap = 4;
  const width = (flow.width - gap) / 2;
  const card = cardItems(page, kits, width);
  const rows = Math.max(1, Math.floor((flow.bottom - flow.y + gap) / (card.height + gap)));
  flow.grid(Array<Cell>(Math.min(2 * rows, kits.packets)).fill(card), 2, gap);
  return flow;
}

function cardItems(page: PlanPage, kits: ClassPlan, width: number): Cell {
  const { plan, fabrics } = page;
  const blocks = plan.blocks.map((b) => b.block);
  const items: Item[] = [];
  const title = blocks.length === 1 ? blocks[0]!.name : page.title;
  items.push(text('text', [3, 7.5], oneLine(title, 13, width - 6, true), 13, { font: 'bold' }));
  items.push(text('text', [3, 14.5], 'Name', 8), rule(14, 15, width - 17));
  let y = 19;
  // One block is shown large, several beside one another.
  const shown = blocks.slice(0, 6);
  const side =
    shown.length === 1 ? CARD_PICTURE : (width - 6 - 2 * (Math.min(3, shown.length) - 1)) / Math.min(3, shown.length);
  shown.forEach((b, i) => {
    const size = sizeWithin(b.size, side, Math.min(side, CARD_PICTURE));
    const [dx, dy] = [3 + (i % 3) * (side + 2), y + Math.floor(i / 3) * (Math.min(side, CARD_PICTURE) + 2)];
    items.push(...placeItems(facePicture(b, size.scale, { width: 0.05, colour: '#8a8a8a' }), { turn: 0, dx, dy }));
    items.push(rectangle('box', dx, dy, size.width, size.height, { stroke: { width: 0.2 } }));
  });
  if (blocks.length > shown.length)
    items.push(
      text('text', [width - 3, 17.9], `${blocks.length} blocks, ${shown.length} of them:`, 7, { align: 'end' }),
    );
  const beside = shown.length === 1;
  const left = beside ? 3 + CARD_PICTURE + 4 : 3;
  let line = beside ? y + 1 : y + Math.ceil(shown.length / 3) * (Math.min(side, CARD_PICTURE) + 2) + 2;
  items.push(text('text', [left, line + 2], kits.kit === 'patches' ? 'In your bag' : 'You get', 8.5, { font: 'bold' }));
  line += 4;
  for (const words of kits.card) {
    const code = words.split(' ')[0]!;
    const known = fabrics.get(code);
    if (known) items.push(...swatch(known, left, line, 4));
    items.push(text('text', [left + 10, line + 3], oneLine(words, 7.5, width - left - 12), 7.5));
    line += 5.2;
  }
  y = Math.max(line, beside ? 19 + CARD_PICTURE : 0) + 5;
  const plain =
    kits.kit === 'patches'
      ? `Patches lie in bags by section, in sewing order: A1 goes down first.${kits.spare ? ' Missing or miscut? Ask: there are spare kits.' : ''}`
      : 'Cut your patches by the cutting plan before the class, and label each as you cut it.';
  const care = 'Mind needles, blades and irons; the rules of the room come first.';
  for (const words of [plain, care])
    for (const t of wrapText(words, 7.5, 'regular', width - 6)) {
      items.push(text('text', [3, y], t, 7.5));
      y += 3.6;
    }
  const height = y + 1;
  items.push(rectangle('box', 0, 0, width, height, { stroke: { width: 0.25, dash: [2, 1.5] } }));
  return { height, items };
}

/** What everyone brings. */
export function drawSupplies(page: PlanPage, kits: ClassPlan): Flow {
  const flow = new Flow(page.paper, page.margin);
  flow.heading('Supply list');
  flow.paragraph('Please bring, or find at your place:', { size: 10 });
  flow.space(1);
  for (const s of kits.supplies.slice(0, -1)) {
    flow.need(7);
    flow.add(tickBox(flow.left, flow.y + 1.6));
    flow.paragraph(s, { indent: 6, size: 10.5 });
  }
  flow.space(3);
  for (const s of kits.supplies.slice(-1)) flow.paragraph(s, { bullet: '!', size: 9.5 });
  return flow;
}
