// Parts of pages about cloth that packet and yardage share: fabrics with their swatches, the list of what to buy, and the cautions for
// the cutting table.
import type { Fabric } from '../block.ts';
import type { Shopping } from '../data.ts';
import { type Item, polyline, rectangle, rectanglePoints, text } from '../drawing/drawing.ts';
import { drawHatch } from '../drawing/hatches.ts';
import { formatInches, formatLength, type System } from '../units.ts';
import { type Flow, oneLine, tickBox } from './flow.ts';

export type Bought = Shopping['fabrics'][number];

/** The usual cautions (common practice); they defer to the rules of the place. */
export const CUTTING_CAUTIONS = [
  'Rotary cutters cut fingers as easily as fabric. Close the blade every time it leaves your hand, cut away from yourself on a mat, keep the hand on the ruler flat with all fingers off its edge, and stand where nobody bumps your arm. Children and pets stay away from the table.',
  'A dull blade slips: change it when it skips, and wrap the old one before you throw it away. Cut no more layers than the blade goes through in one stroke. New to rotary cutting? Have someone show you first. The rules of your room come first.',
];

export function drawCautions(flow: Flow): void {
  for (const c of CUTTING_CAUTIONS) flow.paragraph(c, { bullet: '!', size: 8.5 });
  flow.space(1.5);
}

/** mm of a row's height that its swatch leaves free */
const SWATCH_ROOM = 0.9;

/** Colour and hatch side by side. */
export function swatch(f: Fabric, x: number, y: number, side: number): Item[] {
  const square = rectanglePoints(x + side, y, side, side);
  const hatch = drawHatch(f.hatch, square, { weight: 'dense', inset: 0.3 });
  return [
    rectangle('fill', x, y, side, side, { fill: f.colour, stroke: { width: 0.2 } }),
    ...(hatch ? [hatch] : []),
    rectangle('box', x + side, y, side, side, { stroke: { width: 0.2 } }),
  ];
}

export interface Column {
  readonly title: string;
  /** share of the page's width */
  readonly share: number;
  readonly align?: 'end';
}
export type Row = readonly (string | { readonly fabric: Fabric } | { readonly tick: true })[];

/** A plain table; rows that are bold stand for sums. Empty cells stay blank to be written in. */
export function drawTable(
  flow: Flow,
  columns: readonly Column[],
  rows: readonly Row[],
  options: {
    readonly size?: number;
    readonly height?: number;
    readonly bold?: (row: number) => boolean;
    readonly ruled?: boolean;
  } = {},
): void {
  const { size = 9, height = 6.4, ruled = false } = options;
  const line = (y: number, width: number): Item =>
    polyline(
      'rule',
      [
        [flow.left, y],
        [flow.left + flow.width, y],
      ],
      { width },
    );
  const head = (): void => {
    let x = flow.left;
    for (const c of columns) {
      const w = c.share * flow.width;
      const at = c.align === 'end' ? x + w - 2 : x;
      flow.add(
        text('text', [at, flow.y + 3.6], oneLine(c.title, 7.5, w - 1), 7.5, { ...(c.align && { align: c.align }) }),
      );
      x += w;
    }
    flow.y += 5;
    flow.add(line(flow.y, 0.3));
  };
  flow.need(5 + 2 * height);
  head();
  rows.forEach((row, n) => {
    if (flow.need(height)) head();
    let x = flow.left;
    const base = flow.y + height / 2 + size * 0.125;
    row.forEach((cell, i) => {
      const c = columns[i]!;
      const w = c.share * flow.width;
      if (typeof cell === 'string') {
        const bold = options.bold?.(n) ?? false;
        const at = c.align === 'end' ? x + w - 2 : x;
        flow.add(
          text('text', [at, base], oneLine(cell, size, w - 1.5, bold), size, {
            ...(bold && { font: 'bold' as const }),
            ...(c.align && { align: c.align }),
          }),
        );
      } else if ('tick' in cell) flow.add(tickBox(x, flow.y + height / 2 - 1.5));
      else flow.add(...swatch(cell.fabric, x, flow.y + SWATCH_ROOM / 2, height - SWATCH_ROOM));
      if (ruled && i)
        flow.add(
          polyline(
            'rule',
            [
              [x - 1, flow.y],
              [x - 1, flow.y + height],
            ],
            { width: 0.15 },
          ),
        );
      x += w;
    });
    flow.y += height;
    flow.add(line(flow.y, 0.12));
  });
  flow.space(2.5);
}

/** "5/8 yd": the same cloth cut from the bolt, where something else was named to buy. */
export function offTheBolt(f: Bought, system: System): string | undefined {
  const words = system === 'inch' ? `${formatInches(f.yards * 25.4, 8)} yd` : `${f.metres} m`;
  return f.yards && f.buy !== words ? words : undefined;
}

export const patchesOf = (f: Bought): number => f.strips.reduce((t, s) => t + s.patches.length, 0);

/** What to buy of each fabric, with a box to tick. */
export function drawBuying(
  flow: Flow,
  shopping: Shopping,
  fabrics: ReadonlyMap<string, Fabric>,
  system: System,
  more: { readonly rows?: readonly { what: string; buy: string; cost?: number }[]; readonly cost?: number } = {},
): void {
  const priced = shopping.cost !== undefined;
  const columns: Column[] = [
    { title: '', share: 0.04 },
    { title: '', share: 0.075 },
    { title: 'fabric', share: priced ? 0.215 : 0.305 },
    { title: 'buy', share: 0.22 },
    { title: 'patches', share: 0.09, align: 'end' },
    { title: 'strips take', share: 0.12, align: 'end' },
    { title: 'by area alone', share: 0.15, align: 'end' },
    ...(priced ? [{ title: 'cost', share: 0.09, align: 'end' as const }] : []),
  ];
  const money = (cost: number | undefined): string[] => (priced ? [cost === undefined ? '' : cost.toFixed(2)] : []);
  const rows: Row[] = shopping.fabrics.map((f) => {
    const known = fabrics.get(f.code ?? f.id) ?? fabrics.get(f.id);
    return [
      { tick: true },
      known ? { fabric: known } : '',
      `${f.code ?? f.id}  ${known?.name ?? ''}`,
      f.buy,
      String(patchesOf(f)),
      formatLength(
        f.strips.reduce((t, x) => t + x.width, 0),
        system,
      ),
      formatLength(f.cut && f.clothWidth ? f.cut / f.clothWidth : f.bound, system),
      ...money(f.cost),
    ];
  });
  for (const r of more.rows ?? []) rows.push([{ tick: true }, '', r.what, r.buy, '', '', '', ...money(r.cost)]);
  const total = more.cost ?? shopping.cost;
  if (priced && total !== undefined) rows.push(['', '', 'together', '', '', '', '', total.toFixed(2)]);
  drawTable(flow, columns, rows, { bold: (n) => priced && n === rows.length - 1 });
}
