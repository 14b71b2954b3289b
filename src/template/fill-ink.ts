// What each way of telling the fabrics apart costs in ink: the mean darkness of the template sheets, 0 white to 1 black.
import type { Block } from '../block.ts';
import type { Drawing, Item } from '../drawing/drawing.ts';
import { FILLS, type Fill } from '../drawing/fill.ts';
import { inkCoverage, inkOfFills } from '../drawing/ink.ts';
import { drawTemplates, type TemplateSheetOptions } from './lay-out.ts';
import { turnLeftRight } from './printed-side.ts';
import { fillPieces } from './template.ts';

/** dots an inch: a line of 0.12 mm is still a third of a dot, and the mean darkness is what counts */
const DPI = 72;
/** so many sheets, spread over all, stand for them: a block of 2 m has hundreds, which look alike */
const MOST_SHEETS = 20;

/** `sheets`: what was laid out with these options. Lines and words are measured, fills reckoned. */
export function inkOfEachFill(
  block: Block,
  sheets: readonly Drawing[],
  options: TemplateSheetOptions,
): Record<Fill, number> {
  const printed = options.unmirrored ? block : turnLeftRight(block);
  const copies = options.copies ?? 1;
  const own = sheets.slice(0, sheets.length / copies);
  const paper = own.reduce((sum, s) => sum + s.width * s.height, 0);
  // only hatches make room for words: colours are reckoned without laying out the templates again
  const templates = drawTemplates(printed, { ...options, fill: 'hatch' });
  const shares = FILLS.map((fill) => {
    const items = templates.map((t) => (fill === 'hatch' ? t.items : fillPieces(printed, t.section, fill)));
    return items.reduce((sum, own) => sum + inkOfFills(own), 0) / paper;
  });
  const step = Math.max(1, own.length / MOST_SHEETS);
  const some = Array.from({ length: Math.min(own.length, MOST_SHEETS) }, (_, i) => own[Math.floor(i * step)]!);
  const lines = inkCoverage(
    some.map((s) => ({ ...s, items: withoutFills(s.items) })),
    DPI,
  );
  return Object.fromEntries(FILLS.map((fill, i) => [fill, lines + shares[i]!])) as Record<Fill, number>;
}

const withoutFills = (items: readonly Item[]): Item[] =>
  items
    .filter((it) => it.role !== 'hatch' && it.role !== 'fill')
    .map((it) => ('items' in it ? { ...it, items: withoutFills(it.items) } : it));
