// The cutting plan as a picture: strips one below the other as they lie on the cloth, each patch in its place with its name.
// Drawn about the strip's upper left corner; cloth that is not used is grey.
import type { Cell as Place, Shopping, Strip } from '../data.ts';
import { type Item, MM_PER_PT, placeItems, polyline, rectangle, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { formatLength, type System } from '../units.ts';
import { type Cell as Figure, type Flow, oneLine } from './flow.ts';

/** mm beside the strips for their widths; where two fabrics are side by side */
const GUTTER = 28;
const NARROW_GUTTER = 17.5;
/** mm on paper for a mm of cloth, at most: a fat quarter then fills two thirds of a page's width */
const LARGEST_SCALE = 0.25;
const WASTE = '#dcdcdc';
const SMALLEST_TEXT = 5.5;

/** Equal strips that follow one another are drawn once. */
export interface Run {
  readonly strip: Strip;
  readonly count: number;
  /** number of the first of them, from 1 */
  readonly first: number;
}

export function runsOf(strips: readonly Strip[]): Run[] {
  const runs: { strip: Strip; count: number; first: number; key: string }[] = [];
  strips.forEach((strip, i) => {
    const key = JSON.stringify([strip.width, strip.patches, strip.cells ?? []]);
    const last = runs.at(-1);
    if (last?.key === key) last.count++;
    else runs.push({ strip, count: 1, first: i + 1, key });
  });
  return runs;
}

export interface Labels {
  /** what stands on the patch */
  name(cell: Place): string;
  /** and below it, where there is room */
  size(cell: Place): string;
  readonly system: System;
}

/** Sets down all strips of a fabric. `cloth`: how wide the cloth they are cut from is, mm. */
export function drawStrips(flow: Flow, strips: readonly Strip[], cloth: number, labels: Labels): void {
  const scale = Math.min(LARGEST_SCALE, (flow.width - GUTTER) / cloth);
  for (const { items, height } of stripRows(strips, cloth, scale, GUTTER, labels)) {
    flow.need(height);
    flow.place(items, flow.left, flow.y);
    flow.y += height;
  }
  flow.space(2);
}

/** All strips of a fabric as one picture that is as wide as this. */
export function stripsCell(strips: readonly Strip[], cloth: number, width: number, labels: Labels): Figure {
  const scale = Math.min(LARGEST_SCALE, (width - NARROW_GUTTER) / cloth);
  let y = 0;
  const items = stripRows(strips, cloth, scale, NARROW_GUTTER, labels).flatMap((row) => {
    const placed = placeItems(row.items, { turn: 0, dx: 0, dy: y });
    y += row.height;
    return placed;
  });
  return { items, height: y };
}

/** One row a run of equal strips, with its number and width in the gutter; a title where another piece of cloth begins. */
function stripRows(
  strips: readonly Strip[],
  cloth: number,
  scale: number,
  gutter: number,
  labels: Labels,
): { items: Item[]; height: number }[] {
  let from: number | undefined;
  return runsOf(strips).map((run) => {
    const height = run.strip.width * scale;
    const next = run.strip.from !== from;
    from = run.strip.from;
    const top = next ? 5 : 0;
    const middle = top + height / 2;
    const last = run.first + run.count - 1;
    const items: Item[] = [
      ...(next ? [text('text', [gutter, 3.6], from === 1 ? 'from the first' : 'from the second', 8)] : []),
      text('text', [0, middle + 0.9], run.count > 1 ? `${run.first}–${last}` : `${run.first}`, 6.5, {
        colour: '#555555',
      }),
      text(
        'text',
        [gutter - 1.5, middle - (run.count > 1 ? 0.4 : -1.1)],
        formatLength(run.strip.width, labels.system),
        8,
        {
          font: 'bold',
          align: 'end',
        },
      ),
      ...(run.count > 1
        ? [text('text', [gutter - 1.5, middle + 3], `× ${run.count}`, 8, { font: 'bold', align: 'end' })]
        : []),
      ...placeItems(stripItems(run.strip, cloth, scale, labels), { turn: 0, dx: gutter, dy: top }),
    ];
    return { items, height: top + height };
  });
}

function stripItems(strip: Strip, cloth: number, scale: number, labels: Labels): Item[] {
  const [width, height] = [cloth * scale, strip.width * scale];
  const items: Item[] = [rectangle('fill', 0, 0, width, height, { fill: WASTE })];
  const cells = strip.cells ?? [];
  for (const c of cells) {
    const [x, y, w, h] = [c.along * scale, c.across * scale, c.length * scale, c.width * scale];
    items.push(rectangle('box', x, y, w, h, { fill: '#ffffff', stroke: { width: 0.15 } }));
    if (c.leaving)
      items.push({ kind: 'circle', role: 'tick', centre: [x + 1.2, y + 1.2], radius: 0.55, fill: '#000000' });
    items.push(...cellText(c, w, h, labels).map((t) => placeItems([t], { turn: 0, dx: x, dy: y })[0]!));
  }
  // The cuts right across the strip: where each column begins, and where the last one ends.
  const across = cells.filter((c) => !c.leaving).map((c) => c.along + c.length);
  for (const v of across)
    items.push(
      polyline(
        'rule',
        [
          [v * scale, 0],
          [v * scale, height],
        ],
        { width: 0.5 },
      ),
    );
  items.push(rectangle('box', 0, 0, width, height, { stroke: { width: 0.35 } }));
  if (!cells.length)
    items.push(text('text', [1.5, height / 2 + 1], oneLine(strip.patches.join(', '), 7, width - 3), 7));
  return items;
}

/** The patch's name, and its size below it, as large as fits; upright where the patch is tall. */
function cellText(c: Place, width: number, height: number, labels: Labels): Item[] {
  const name = labels.name(c);
  const size = labels.size(c);
  const ways = [
    { w: width, h: height, turn: 0 },
    { w: height, h: width, turn: -90 },
  ];
  const fits = (words: string, points: number, bold: boolean, room: number): boolean =>
    measureText(words, points, bold ? 'bold' : 'regular').width <= room - 1.2;
  for (const [big, small] of [
    [9, 6.5],
    [8, 6],
    [7, 5.5],
    [8, 0],
    [7, 0],
    [6, 0],
    [SMALLEST_TEXT, 0],
  ] as const)
    for (const { w, h, turn } of ways) {
      const tall = (big + small * 1.25) * MM_PER_PT;
      if (tall > h - 0.8 || !fits(name, big, true, w) || (small && !fits(size, small, false, w))) continue;
      const lines: Item[] = [];
      const cap = 0.73;
      const block = (big * cap + (small ? small * 1.25 : 0)) * MM_PER_PT;
      const first = -block / 2 + big * cap * MM_PER_PT;
      lines.push(text('text', [0, first], name, big, { font: 'bold', align: 'middle' }));
      if (small) lines.push(text('text', [0, first + small * 1.25 * MM_PER_PT], size, small, { align: 'middle' }));
      return placeItems(lines, { turn, dx: width / 2, dy: height / 2 });
    }
  return [];
}

/** How large one piece must be so that all strips can be cut from it, for each piece of cloth that is bought; mm. */
export function firstCuts(strips: readonly Strip[]): { width: number; length: number }[] {
  const pieces = new Map<number, { width: number; length: number }>();
  for (const s of strips) {
    const p = pieces.get(s.from ?? 1) ?? { width: 0, length: 0 };
    pieces.set(s.from ?? 1, { width: p.width + s.width, length: Math.max(p.length, s.length) });
  }
  return [...pieces.values()];
}

/** "3 strips 4 in wide, 2 strips 2 1/2 in wide", widest first. */
export const stripSummary = (f: Shopping['fabrics'][number], system: System): string => {
  const widths = [...new Set(f.strips.map((s) => s.width))].sort((a, b) => b - a);
  return widths
    .map((w) => {
      const n = f.strips.filter((s) => s.width === w).length;
      return `${n} ${n === 1 ? 'strip' : 'strips'} ${formatLength(w, system)} wide`;
    })
    .join(', ');
};
