// What stands in the allowance: crosses at the corners, ticks where seams meet, the pair that tells left from right, seams
// run on to the cut line, and the words that say what is sewn there.
import { spanInside } from '../drawing/clip.ts';
import { type Item, type PathItem, segments, type TextItem, text } from '../drawing/drawing.ts';
import { measureText, textCorners } from '../drawing/fonts.ts';
import { distance, offLine, type Point, type Polygon, type Segment } from '../geometry/polygon.ts';
import { formatLength, type System } from '../units.ts';
import { type Contact, edgesOf, ON_LINE } from './contacts.ts';
import type { Room } from './room.ts';

const CROSS_ARM = 3;

/** From a point on the outline straight on in a direction, to the cut line. */
function runOn(from: Point, dx: number, dy: number, cut: Polygon, reach = 1000): Segment | undefined {
  const length = Math.hypot(dx, dy);
  const far: Point = [from[0] + (dx / length) * reach, from[1] + (dy / length) * reach];
  const span = spanInside(cut, [from, far]);
  if (!span) return undefined;
  const t = span[1];
  return [from, [from[0] + t * (far[0] - from[0]), from[1] + t * (far[1] - from[1])]];
}

/** Both sewing lines run on a little past each corner: they cross there. */
export function cornerCrosses(outline: Polygon, cut: Polygon): PathItem {
  const arms: Segment[] = [];
  for (const [a, b] of edgesOf(outline))
    for (const [from, to] of [
      [a, b],
      [b, a],
    ] as const) {
      const arm = runOn(to, to[0] - from[0], to[1] - from[1], cut, CROSS_ARM);
      if (arm) arms.push(arm);
    }
  return segments('cross', arms, { width: 0.4 });
}

/** Seams that end on the section's edge, run on through the allowance. */
export function seamRuns(seams: readonly Segment[], outline: Polygon, cut: Polygon): PathItem | undefined {
  const runs: Segment[] = [];
  for (const [p, q] of seams)
    for (const [from, to] of [
      [p, q],
      [q, p],
    ] as const)
      if (edgesOf(outline).some(([a, b]) => Math.abs(offLine(a, b, to)) < ON_LINE)) {
        const run = runOn(to, to[0] - from[0], to[1] - from[1], cut);
        if (run && distance(run[0], run[1]) > 0.5) runs.push(run);
      }
  return runs.length ? segments('seam-run', runs, { width: 0.25, dash: [1.5, 1.5] }) : undefined;
}

/** Ticks square to the contact, across the allowance. */
export function contactTicks(outline: Polygon, cut: Polygon, contacts: readonly Contact[]): PathItem | undefined {
  const ticks: Segment[] = [];
  for (const c of contacts) {
    const [a, b] = c.line;
    const n = outwardNormal(outline, c.line);
    const corners = outline.some((q) => distance(q, a) < ON_LINE) ? [] : [a];
    if (!outline.some((q) => distance(q, b) < ON_LINE)) corners.push(b);
    for (const q of [...c.matched, ...c.ticks, ...(c.pair ?? []), ...corners]) {
      const tick = runOn(q, n[0], n[1], cut);
      if (tick && !ticks.some((t) => distance(t[0], q) < 0.1)) ticks.push(tick);
    }
  }
  return ticks.length ? segments('tick', ticks, { width: 0.4 }) : undefined;
}

/** Unit normal of the outline's edge that holds the stretch, pointing out of the section. */
function outwardNormal(outline: Polygon, [a, b]: Segment): Point {
  for (const [p, q] of edgesOf(outline))
    if (Math.abs(offLine(p, q, a)) < ON_LINE && Math.abs(offLine(p, q, b)) < ON_LINE) {
      const length = distance(p, q);
      return [(q[1] - p[1]) / length, -(q[0] - p[0]) / length];
    }
  throw new Error('a contact lies on no edge of its section');
}

/** A text along a stretch of the outline, in the middle of the allowance, where it touches nothing; undefined if nowhere. */
function textAlong(
  role: 'join-label' | 'outer-edge',
  line: Segment,
  normal: Point,
  band: readonly [number, number],
  words: string,
  size: number,
  room: Room,
): TextItem | undefined {
  const length = distance(line[0], line[1]);
  const m = measureText(words, size);
  if (m.width > length + 2) return undefined;
  const ux = (line[1][0] - line[0][0]) / length;
  const uy = (line[1][1] - line[0][1]) / length;
  let turn = (Math.atan2(uy, ux) * 180) / Math.PI;
  if (turn > 90.001) turn -= 180;
  if (turn <= -89.999) turn += 180;
  const a = (turn * Math.PI) / 180;
  const middle = (band[0] + band[1]) / 2;
  const drop = (m.ascent - m.descent) / 2;
  const step = 0.7;
  const at = (t: number): Point => [
    line[0][0] + ux * t + normal[0] * middle - Math.sin(a) * drop,
    line[0][1] + uy * t + normal[1] * middle + Math.cos(a) * drop,
  ];
  const item = text(role, at(length / 2), words, size, { align: 'middle', turn });
  const corners = textCorners(item);
  const moved = (by: number): Point[] => corners.map(([x, y]) => [x + ux * by, y + uy * by]);
  // what may be in the way anywhere along the stretch is looked out once
  const near = room.around([...moved(-length / 2), ...moved(length / 2)]);
  for (let k = 0; k * step < length / 2; k++)
    for (const sign of k === 0 ? [1] : [1, -1]) {
      const by = sign * k * step;
      if (near.freeForText(moved(by))) return { ...item, at: at(length / 2 + by) };
    }
  return undefined;
}

/** "join 3 to B, 4 3/8 in" on every shared stretch, shorter where there is less room. */
export function joinLabels(
  outline: Polygon,
  contacts: readonly Contact[],
  allowance: number,
  system: System,
  room: Room,
): { items: Item[]; unlabelled: Contact[] } {
  const items: Item[] = [];
  const unlabelled: Contact[] = [];
  for (const c of contacts) {
    const normal = outwardNormal(outline, c.line);
    const length = distance(c.line[0], c.line[1]);
    const say = [
      `join ${c.join} to ${c.other}, ${formatLength(length, system)}`,
      `join ${c.join} to ${c.other}`,
      `${c.join} to ${c.other}`,
      `${c.join}${c.other}`,
    ];
    const tries = say.flatMap((words, i) => (i < 2 ? [7, 6.5, 6] : [6]).map((size) => ({ words, size })));
    let label: TextItem | undefined;
    for (const t of tries) {
      label = textAlong('join-label', c.line, normal, [0.3, allowance - 0.1], t.words, t.size, room);
      if (label) break;
    }
    if (label) {
      items.push(label);
      room.add([label]);
    } else unlabelled.push(c);
  }
  return { items, unlabelled };
}

/** mm outside the sewing line at which the block's outer edge is doubled */
export const OUTER_DOUBLE = 1.1;

export function outerEdgeLabels(edges: readonly Segment[], outline: Polygon, allowance: number, room: Room): Item[] {
  return edges.flatMap((e): Item[] => {
    const normal = outwardNormal(outline, e);
    const band: [number, number] = [OUTER_DOUBLE + 0.15, allowance - 0.1];
    const label =
      textAlong('outer-edge', e, normal, band, 'outer edge', 6, room) ??
      textAlong('outer-edge', e, normal, band, 'edge', 6, room);
    if (label) room.add([label]);
    return label ? [label] : [];
  });
}
