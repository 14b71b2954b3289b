// Takes a mask of what no stroke covers; gives its areas, and which of them are ground: what reaches the rim, but for where a figure leaves
// the picture.
import { type Component, findComponents } from '../opencv.ts';
import { rimOf } from './flood.ts';

/** A part that leaves the picture has less of its rim than this. */
const MOST_RIM = 0.38;

export interface OpenArea {
  readonly id: number;
  readonly size: number;
  readonly ground: boolean;
}

/** What leaves the picture is at least this large beside all that is enclosed (`held`: what is inside already): a bust is most of its
 *  picture, the space between two legs is not. */
const LEAST_BUST = 0.5;

/** The areas of a mask, and which of them are ground: those that reach the rim, but for where a figure leaves the picture. */
export async function openAreas(
  open: Uint8Array,
  w: number,
  h: number,
  held: number,
): Promise<{ part: Int32Array; areas: OpenArea[]; ground: Uint8Array }> {
  const { part, parts } = await findComponents(open, w, h, 4);
  const rim = rimOf(w, h);
  const along = new Map<number, number[]>();
  for (const i of rim) {
    const p = part[i]!;
    if (!p) continue;
    const held = along.get(p);
    if (held) held.push(i);
    else along.set(p, [i]);
  }
  const most = Math.max(0, ...[...along.values()].map((c) => c.length));
  const enclosed = held + parts.reduce((t, p, q) => (q && !along.has(q) ? t + p.area : t), 0);
  const grounds = new Set<number>();
  for (const [p, cells] of along)
    if (
      cells.length === most ||
      parts[p]!.area < LEAST_BUST * enclosed ||
      !leavesPicture(part, p, parts[p]!, cells, rim.length, w, h)
    )
      grounds.add(p);
  const areas = parts.slice(1).map((p, q) => ({ id: q + 1, size: p.area, ground: grounds.has(q + 1) }));
  const ground = new Uint8Array(w * h);
  for (let i = 0; i < w * h; i++) if (part[i] && grounds.has(part[i]!)) ground[i] = 1;
  return { part, areas, ground };
}

/** Whether an area that reaches the rim is a figure's neck or shoulders: it has no corner of the picture, or the two lower ones and
 *  is narrower above. */
function leavesPicture(
  part: Int32Array,
  id: number,
  { top, area }: Component,
  rim: readonly number[],
  all: number,
  w: number,
  h: number,
): boolean {
  if (rim.length > MOST_RIM * all || area < 0.01 * w * h) return false;
  const has = (i: number): boolean => part[i] === id;
  if (has(0) || has(w - 1)) return false;
  const [left, right] = [has((h - 1) * w), has(h * w - 1)];
  if (!left && !right) return true;
  if (left !== right) return false;
  const row = Math.round(top + 0.25 * (h - top));
  let wide = 0;
  for (let x = 0; x < w; x++) if (has(row * w + x)) wide++;
  return top < 0.55 * h && wide < 0.7 * w;
}
