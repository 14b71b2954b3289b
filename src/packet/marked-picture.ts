// A design with its faulty places ringed and numbered, and what is wrong at each in words below; seams that were drawn in to
// mend it are dashed. Takes bare pieces in mm, gives a drawing to look at, not at true size.
import type { Fabric } from '../block.ts';
import type { Fault, Partition } from '../data.ts';
import { type Drawing, type Item, polygon, polyline, segments, text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import type { Point, Segment } from '../geometry/polygon.ts';

export interface MarkedInput {
  readonly partition: Partition;
  readonly fabrics: readonly Fabric[];
  readonly faults: readonly Fault[];
  /** every line of the drawing, those that end in nothing too */
  readonly lines: readonly Segment[];
  readonly repairs: readonly { readonly seam?: Segment; readonly text: string }[];
}

/** mm */
const WIDTH = 180;
const EDGE = 8;
const RING = 4;
/** points, mm */
const TEXT = 9;
const LINE = 4.6;
/** more than this many are not told apart in a picture */
const MOST_MARKS = 60;

const FAULT_COLOUR = '#c2185b';
const REPAIR_COLOUR = '#1565c0';

export function drawMarked({ partition, fabrics, faults, lines, repairs }: MarkedInput): Drawing {
  const [w, h] = partition.size;
  const scale = (WIDTH - 2 * EDGE) / Math.max(w, h);
  const left = (WIDTH - w * scale) / 2;
  const at = (p: Point): Point => [left + p[0] * scale, EDGE + p[1] * scale];
  const items: Item[] = partition.pieces.map((p) =>
    polygon('picture', p.outline.map(at), {
      fill: mixedWithWhite(fabrics[p.fabric]!.colour),
      stroke: { width: 0.25, colour: '#555555' },
    }),
  );
  items.push(
    segments(
      'seam',
      lines.map(([a, b]): Segment => [at(a), at(b)]),
      { width: 0.25, colour: '#555555' },
    ),
  );
  const words: [string, string][] = [];
  const seams = repairs.filter((r) => r.seam);
  seams.slice(0, MOST_MARKS).forEach((r) => {
    items.push(polyline('seam', r.seam!.map(at), { width: 0.8, colour: REPAIR_COLOUR, dash: [2, 1.2] }));
  });
  for (const t of new Set(repairs.map((r) => r.text))) {
    const n = repairs.filter((r) => r.text === t).length;
    words.push([`Mended${n > 1 ? `, ${n} times` : ''}: ${t}${seams.length ? ' (dashed)' : ''}.`, REPAIR_COLOUR]);
  }
  faults.slice(0, MOST_MARKS).forEach((f, i) => {
    const centre = at(f.at);
    items.push({ kind: 'circle', role: 'cross', centre, radius: RING, stroke: { width: 0.9, colour: FAULT_COLOUR } });
    items.push(number(centre, `${i + 1}`));
    words.push([`${i + 1}  ${f.text}`, FAULT_COLOUR]);
  });
  if (faults.length > MOST_MARKS) words.push([`And ${faults.length - MOST_MARKS} more.`, FAULT_COLOUR]);
  let y = EDGE + h * scale + RING + 2 * LINE;
  for (const [line, colour] of words)
    for (const part of wrapText(line, TEXT, 'regular', WIDTH - 2 * EDGE)) {
      items.push(text('text', [EDGE, y], part, TEXT, { colour }));
      y += LINE;
    }
  return { width: WIDTH, height: y + EDGE - LINE, title: 'marked design', items };
}

/** The number beside its ring, on the side where there is room. */
function number(centre: Point, digits: string): Item {
  const size = 10;
  const wide = measureText(digits, size, 'bold').width;
  const right = centre[0] + RING + 1 + wide < WIDTH - 1;
  const x = right ? centre[0] + RING + 0.8 : centre[0] - RING - 0.8 - wide;
  return text('text', [x, centre[1] + 1.3], digits, size, { font: 'bold', colour: FAULT_COLOUR });
}

/** Pale enough for the marks to stand out on it. */
function mixedWithWhite(colour: string): string {
  const part = (k: number): string => {
    const v = Number.parseInt(colour.slice(1 + 2 * k, 3 + 2 * k), 16);
    return Math.round(255 - (255 - v) * 0.55)
      .toString(16)
      .padStart(2, '0');
  };
  return `#${part(0)}${part(1)}${part(2)}`;
}
