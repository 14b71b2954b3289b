// The plan of what to cut and buy as a PDF of its own, from block files alone: for one block, many, a class or a quilt. Pages in
// the order in which they are used: shopping, the quilt, cutting, bags and labels, the people.
import type { Shopping, Yardage } from '../data.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { printableFrame } from '../drawing/paper.ts';
import { writePdf } from '../drawing/pdf.ts';
import { formatLength, formatSize } from '../units.ts';
import { drawCards, drawSupplies, drawTickets } from './class-pages.ts';
import { drawPatches, drawPlan, explainPatches } from './cutting.ts';
import { Flow, withFoot } from './flow.ts';
import { drawLabels } from './labels.ts';
import { blockTitle, type PlanPage, type YardagePages } from './plan-page.ts';
import { drawQuilt } from './quilt.ts';
import { drawBuying, drawCautions, drawTable, type Row } from './shopping-list.ts';

const MARGIN = 9.525;

export function drawYardage(plan: Yardage, given: YardagePages): Drawing[] {
  const blocks = plan.blocks.map((b) => b.block);
  const numbers = new Map(blocks.map((b, i) => [b.name, i + 1]));
  const page: PlanPage = {
    margin: MARGIN,
    ...given,
    plan,
    fabrics: new Map(blocks.flatMap((b) => b.fabrics.map((f) => [f.code, f] as const))),
    patchName: (p) => `${blocks.length > 1 ? `${numbers.get(p.block)}-` : ''}${p.section}${p.piece}`,
  };
  const flows: (readonly [Flow, string])[] = [
    [drawShopping(page), 'What to buy'],
    ...(plan.quilt ? [[drawQuilt(page, plan.quilt), 'The quilt'] as const] : []),
    [drawCuttingPlan(page), 'Cutting plan'],
    ...(plan.class ? [[drawTickets(page, plan.class), 'Cutting tickets'] as const] : []),
    [drawPatchList(page), 'Patches'],
    [drawLabels(page), 'Labels'],
    ...(plan.class
      ? [[drawCards(page, plan.class), 'Cards'] as const, [drawSupplies(page, plan.class), 'Supplies'] as const]
      : []),
  ];
  const pages = flows.flatMap(([flow, title]) => flow.drawings(title));
  const frame = printableFrame(page.paper, page.margin);
  const words = [page.title, page.designer, page.version].filter(Boolean).join(' · ');
  return pages.map((p, i) =>
    withFoot(p, { ...frame, height: frame.height - 8 }, words, `page ${i + 1} of ${pages.length}`),
  );
}

/** The same plan gives the same bytes. */
export const writeYardage = (plan: Yardage, given: YardagePages): Promise<Uint8Array> =>
  writePdf(drawYardage(plan, given), {
    title: `${given.title}: what to cut and buy`,
    subject: 'Foundation paper piecing: fabric, cutting plan, labels',
    ...(given.designer ? { author: given.designer } : {}),
  });

function drawShopping(page: PlanPage): Flow {
  const { plan, system, fabrics } = page;
  const { shopping, quilt } = plan;
  const flow = new Flow(page.paper, page.margin);
  flow.heading('What to buy', 20);
  flow.paragraph(whatFor(page), { size: 10.5 });
  flow.space(1);
  if (shopping.buy) flow.paragraph(`${shopping.buy}.`, { bold: true, size: 11 });
  const rows = (quilt?.cloths ?? []).map((c) => ({
    what: c.what,
    buy: c.buy,
    ...(c.cost !== undefined && { cost: c.cost }),
  }));
  if (quilt) rows.push({ what: 'batting', buy: `${formatSize([quilt.batting.width, quilt.batting.height], system)}` });
  drawBuying(flow, shopping, fabrics, system, { rows, ...(plan.cost !== undefined && { cost: plan.cost }) });
  flow.paragraph(
    shopping.buy
      ? 'Fat eighths and fat quarters leave room for a slip of the ruler; cut with care if you use scraps. “Strips take” and “by area alone” are heights of the cloth named. The price, where one stands here, is that of the same cloth off the bolt.'
      : `Lengths off the bolt hold the larger of one tenth and one more strip, and ${system === 'inch' ? '1 in' : '2.5 cm'} to square up [house rule], unless another safety was asked for; “strips take” is what is cut, “by area alone” the least that could do. Wash and press before you measure, if you wash at all: cotton shrinks.`,
    { size: 8.5 },
  );
  for (const note of shopping.notes ?? []) flow.paragraph(note, { bullet: '•', size: 9 });
  flow.space(2);
  if (plan.class) {
    flow.paragraph('To print, and how long the cutting takes', { bold: true, size: 11 });
    for (const line of copiesToPrint(page, plan.class.packets)) flow.paragraph(line, { bullet: '•', size: 9 });
    flow.space(2);
  }
  flow.paragraph('Time and difficulty', { bold: true, size: 11 });
  drawTable(
    flow,
    [
      { title: 'block', share: 0.21 },
      { title: 'pieces', share: 0.065, align: 'end' },
      { title: 'seams', share: 0.065, align: 'end' },
      { title: 'metres', share: 0.075, align: 'end' },
      { title: 'joins', share: 0.065, align: 'end' },
      { title: 'to match', share: 0.085, align: 'end' },
      { title: 'narrowest', share: 0.11, align: 'end' },
      { title: 'level', share: 0.125 },
      { title: 'hours: begin., interm., adv.', share: 0.2 },
    ],
    plan.blocks.map(
      ({ block, copies, work: w }): Row => [
        `${blockTitle(page, block)}${copies > 1 ? ` (${copies} x)` : ''}`,
        String(w.pieces),
        String(w.seams),
        String(w.metres),
        String(w.joins),
        String(w.points),
        formatLength(w.narrowest, system),
        w.level,
        `${w.hours.beginner}, ${w.hours.intermediate}, ${w.hours.advanced}`,
      ],
    ),
    { size: 8.5, height: 5.4 },
  );
  flow.paragraph(
    'Hours of sewing one block by house rule: 9, 6 or 4 minutes a piece, 20, 15 or 10 a join, 3 a point where seams must match, and one hour for all the rest. Seams and metres count the seams within sections and the joins.',
    { size: 8 },
  );
  return flow;
}

function whatFor({ plan, system }: PlanPage): string {
  const { blocks, quilt, class: kits } = plan;
  const names = blocks.length > 4 ? `${blocks.length} blocks` : blocks.map((b) => b.block.name).join(', ');
  if (kits)
    return (
      `For ${kits.people} ${kits.people === 1 ? 'person' : 'people'} and ${kits.spare} spare, each sewing ${names}: ` +
      (kits.kit === 'patches'
        ? 'patches cut together and bagged.'
        : 'a length of each fabric for everyone, rounded up by person and fabric.')
    );
  if (quilt) return `For a quilt of ${quilt.blocks} blocks, ${formatSize(quilt.size, system)} finished: ${names}.`;
  const copies = blocks[0]!.copies;
  return copies > 1 ? `For ${names}, ${copies} of each.` : `For ${names}.`;
}

function copiesToPrint({ plan }: PlanPage, packets: number): string[] {
  const several = plan.blocks.length > 1;
  const kits = plan.class!;
  return [
    `${several ? `The packet of each of the ${plan.blocks.length} blocks` : 'The block’s packet'}: ${packets} times, one for every kit. Its template sheets may not be copied from a copy: print them all, at 100 %.`,
    ...(kits.kit === 'patches'
      ? [
          `The labels in this plan: ${packets} times. The cutting plan and the tickets: once, for the cutting table.`,
          `Cutting: about ${kits.cuttingHours} hours for one person (3 minutes a strip, 20 seconds a patch, up to four layers at once [house rule]).`,
        ]
      : ['The cutting plan, the patches and the labels in this plan: once a person, who cuts at home.']),
    'The page of cards: until everybody has one. The supply list: once a person.',
  ];
}

function drawCuttingPlan(page: PlanPage): Flow {
  const { plan, system, fabrics } = page;
  const flow = new Flow(page.paper, page.margin);
  const lengths = plan.class?.kit === 'lengths';
  flow.heading(lengths ? 'Cutting plan for one person' : 'Cutting plan');
  drawCautions(flow);
  if (plan.blocks.length > 1)
    flow.paragraph(
      `Numbers before the names stand for the blocks: ${plan.blocks.map(({ block }, i) => `${i + 1} ${block.name}`).join(', ')}.`,
      { size: 9 },
    );
  const shown: Shopping = plan.shopping;
  drawPlan(flow, shown, (f) => fabrics.get(f.code ?? ''), system, page.patchName);
  return flow;
}

function drawPatchList(page: PlanPage): Flow {
  const { plan, system } = page;
  const flow = new Flow(page.paper, page.margin);
  const codes = new Map(plan.shopping.fabrics.map((f) => [f.id, f.code ?? f.id]));
  flow.heading('Patches in sewing order');
  explainPatches(flow, plan.shopping, system);
  for (const { block } of plan.blocks) {
    if (plan.blocks.length > 1) flow.heading(blockTitle(page, block), 12);
    drawPatches(
      flow,
      plan.shopping,
      block.name,
      (id) => codes.get(id) ?? id,
      block.sections.map((s) => s.id),
      system,
    );
  }
  return flow;
}
