// Takes the ink of a drawing; gives the figure: what the ground cannot reach when gaps in the outline are closed, the narrowest
// first, and strokes that bound nothing are left out.

import { type Component, distanceInside, findComponents } from '../opencv.ts';
import { eachBeside, growMarked, growWithin } from './flood.ts';
import { drawLink, findLinks, type Link } from './link-gaps.ts';
import { countIn, maskWhere, outsideOf } from './masks.ts';
import { openAreas } from './open-areas.ts';
import { openMask } from './open-mask.ts';
import { looseEnds, type Stroke, thinStrokes, traceStrokes } from './thin-strokes.ts';

export interface Figure {
  /** w x h: 1 in the figure */
  readonly mask: Uint8Array;
  /** ink, and the links that closed gaps */
  readonly walls: Uint8Array;
  /** middle lines of all strokes */
  readonly strokes: readonly Stroke[];
  /** distance of ink to paper */
  readonly depth: Float32Array;
  /** width of the finer strokes */
  readonly fine: number;
  /** widest gap that was closed, as a share of the drawing */
  readonly gap: number;
}

/** Gaps that are closed, as shares of the drawing's longer side: narrow ones first. The last are for outlines that are mostly open. */
const GAPS = [0.015, 0.03, 0.045, 0.06, 0.07];
const WIDE_GAPS = [0.09, 0.12];
/** Share of an enclosed area's border that is drawn at least; and of what is drawn, that had ground on both sides until then: the
 *  space between two legs is bounded by legs that are bounded already. */
const DRAWN = 0.72;
const NEW = 0.4;
/** 4 pi times its area over its border's square, 1 for a disc: what lies between two whiskers is long and thin. */
const COMPACT = 0.1;
const SMALL_COMPACT = 0.3;
/** Share of what is inside already, under which an area is small. */
const SMALL = 0.1;
/** Share of the ink that bounds something, under which a drawing is mostly open. */
const BOUND = 0.5;
/** Loose ends over which strokes are a texture. */
const MOST_ENDS = 120;
/** Share of the largest part that another figure has at least. */
const LEAST_PART = 0.015;

interface Sheet {
  readonly ink: Uint8Array;
  readonly w: number;
  readonly h: number;
  /** usual width of a stroke */
  readonly stroke: number;
  /** fewest cells of an area */
  readonly least: number;
}

/** `stroke`: usual width of a stroke, `narrow`: of the narrowest piece, both in cells of the mask. Undefined where there is none. */
export async function findFigure(
  ink: Uint8Array,
  w: number,
  h: number,
  stroke: number,
  narrow: number,
): Promise<Figure | undefined> {
  const n = w * h;
  const depth = await distanceInside(ink, w, h);
  const strokes = traceStrokes(thinStrokes(ink, w, h), w, depth);
  const span = spanOf(ink, w, h);
  if (!span) return undefined;
  const sheet: Sheet = { ink, w, h, stroke, least: 0.15 * narrow ** 2 };
  const walls = Uint8Array.from(ink);
  const inside = new Uint8Array(n);
  const ends = looseEnds(strokes, w, depth);
  // among so many ends no link means anything
  const links = ends.length > MOST_ENDS ? [] : findLinks(ends, ink, w, h, GAPS.at(-1)! * span);
  let gap = 0;
  await takeEnclosed(sheet, walls, inside, []);
  for (const share of GAPS) if (await closeGaps(sheet, walls, inside, links, share * span)) gap = share;
  if (boundShare(sheet, inside) < BOUND)
    for (const share of WIDE_GAPS) if (await closeGaps(sheet, walls, inside, links, share * span)) gap = share;
  const { ground } = await openAreas(
    maskWhere(n, (i) => !walls[i] && !inside[i]),
    w,
    h,
    countIn(inside),
  );
  // what the ground does not reach: the figure, its ink, and strokes that stand free
  const whole = outsideOf(ground);
  const thickest = Math.max(3, Math.min(1.5 * stroke + 1, 0.6 * narrow));
  const firm = await openMask(whole, w, h, thickest);
  for (let i = 0; i < n; i++) if (inside[i]) firm[i] = 1;
  const mask = growWithin(firm, whole, w, h, Math.ceil(thickest / 2) + 1);
  const { part, parts } = await findComponents(mask, w, h, 4);
  const largest = Math.max(0, ...parts.slice(1).map((p) => p.area));
  if (largest < 0.005 * n) return undefined;
  const stays = parts.map((p) => p.area >= LEAST_PART * largest && (p.area === largest || !liesAtRim(p, w, h)));
  for (let i = 0; i < n; i++) if (part[i] && !stays[part[i]!]) mask[i] = 0;
  // rings inside the figure that are not quite closed
  for (const link of [...links.filter((l) => l.length <= RING_GAP * span), ...ringLinks(strokes, w, depth)])
    if (liesIn(link, mask, w)) drawLink(walls, w, h, link);
  return { mask, walls, strokes, depth, fine: fineWidth(strokes, depth), gap };
}

/** Gaps in rings inside the figure, as a share of the drawing. */
const RING_GAP = 0.025;

/** Free strokes whose ends lie nearer to each other than this share of their length are rings. */
const RING_OPEN = 0.34;

function ringLinks(strokes: readonly Stroke[], w: number, depth: Float32Array): Link[] {
  return strokes.flatMap(({ cells, loose }) => {
    if (!loose[0] || !loose[1]) return [];
    const [from, to] = [cells[0]!, cells.at(-1)!].map((i): [number, number] => [i % w, Math.floor(i / w)]) as [
      [number, number],
      [number, number],
    ];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    return length < RING_OPEN * cells.length ? [{ from, to, length, radius: depth[cells[0]!]! }] : [];
  });
}

/** Whether a part lies wholly along one side: the edge of the paper in a photo of it. */
const RIM_BAND = 0.06;
const liesAtRim = ({ left, top, width, height }: Component, w: number, h: number): boolean =>
  top + height < RIM_BAND * h || top > (1 - RIM_BAND) * h || left + width < RIM_BAND * w || left > (1 - RIM_BAND) * w;

const liesIn = ({ from, to }: Link, mask: Uint8Array, w: number): boolean =>
  [0, 0.5, 1].every(
    (t) => mask[Math.round(from[1] + t * (to[1] - from[1])) * w + Math.round(from[0] + t * (to[0] - from[0]))] === 1,
  );

/** The width that a fifth of the strokes' length does not reach. */
function fineWidth(strokes: readonly Stroke[], depth: Float32Array): number {
  const depths = Float32Array.from(strokes.flatMap((s) => s.cells.map((i) => depth[i]!))).sort();
  return Math.max(1, 2 * (depths[Math.floor(0.2 * depths.length)] ?? 1) - 1);
}

/** The longer side of the box about all ink. */
function spanOf(ink: Uint8Array, w: number, h: number): number {
  let [x0, x1, y0, y1] = [w, -1, h, -1];
  for (let i = 0; i < w * h; i++) {
    if (!ink[i]) continue;
    const x = i % w;
    const y = (i - x) / w;
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  return Math.max(0, x1 - x0 + 1, y1 - y0 + 1);
}

/** One step: links up to `most` long, then strokes thickened by half of it. Gives whether anything more is inside now. */
async function closeGaps(
  sheet: Sheet,
  walls: Uint8Array,
  inside: Uint8Array,
  links: readonly Link[],
  most: number,
): Promise<boolean> {
  const short = links.filter((l) => l.length <= most);
  const linked = await takeEnclosed(sheet, walls, inside, short);
  return (await takeThickened(sheet, walls, inside, most / 2)) || linked;
}

/** Takes the areas that ink and these links enclose and that bear the tests; their links become walls. */
async function takeEnclosed(
  sheet: Sheet,
  walls: Uint8Array,
  inside: Uint8Array,
  links: readonly Link[],
): Promise<boolean> {
  const { w, h } = sheet;
  const trial = Uint8Array.from(walls);
  for (const link of links) drawLink(trial, w, h, link);
  const open = maskWhere(w * h, (i) => !trial[i] && !inside[i]);
  const { part, areas } = await openAreas(open, w, h, countIn(inside));
  const worth = areas.filter((a) => !a.ground && (!links.length || a.size >= sheet.least));
  if (!worth.length) return false;
  const cells = cellsOf(part, worth);
  const away = await awayFrom(inside, w, h);
  const taken = cells.filter((own) => !links.length || bears(own, sheet, inside, away));
  if (!taken.length) return false;
  const fresh = new Uint8Array(w * h);
  for (const own of taken) for (const i of own) inside[i] = fresh[i] = 1;
  for (const link of links) if (touches(link, walls, fresh, w, h)) drawLink(walls, w, h, link);
  return true;
}

/** Whether a link that is no wall yet runs along something that was just taken. */
function touches(link: Link, walls: Uint8Array, fresh: Uint8Array, w: number, h: number): boolean {
  const steps = Math.ceil(Math.hypot(link.to[0] - link.from[0], link.to[1] - link.from[1]));
  const reach = Math.ceil(Math.min(3, Math.max(1, link.radius))) + 1;
  for (let s = 0; s <= steps; s++) {
    const x = Math.round(link.from[0] + ((link.to[0] - link.from[0]) * s) / Math.max(1, steps));
    const y = Math.round(link.from[1] + ((link.to[1] - link.from[1]) * s) / Math.max(1, steps));
    if (walls[y * w + x]) continue;
    for (let v = Math.max(0, y - reach); v <= Math.min(h - 1, y + reach); v++)
      for (let u = Math.max(0, x - reach); u <= Math.min(w - 1, x + reach); u++) if (fresh[v * w + u]) return true;
  }
  return false;
}

/** Takes the areas whose middle is cut off from the ground when strokes are `reach` thicker on every side. */
async function takeThickened(sheet: Sheet, walls: Uint8Array, inside: Uint8Array, reach: number): Promise<boolean> {
  const { w, h } = sheet;
  const closed = maskWhere(w * h, (i) => !walls[i] && !inside[i]);
  const distance = await distanceInside(closed, w, h);
  const { part, areas } = await openAreas(
    maskWhere(w * h, (i) => distance[i]! > reach),
    w,
    h,
    countIn(inside),
  );
  const worth = areas.filter((a) => !a.ground && a.size >= sheet.least / 4);
  if (!worth.length) return false;
  const number = new Map(worth.map((a, q) => [a.id, q + 1]));
  const grounds = new Set(areas.filter((a) => a.ground).map((a) => a.id));
  const marks = new Int32Array(w * h).fill(-1);
  for (let i = 0; i < w * h; i++) if (part[i]) marks[i] = grounds.has(part[i]!) ? 0 : (number.get(part[i]!) ?? -1);
  const area = growMarked(marks, distance, w, h);
  const grown: number[][] = worth.map(() => []);
  for (let i = 0; i < w * h; i++) if (area[i]! > 0) grown[area[i]! - 1]!.push(i);
  const away = await awayFrom(inside, w, h);
  let taken = false;
  for (const cells of grown) {
    if (cells.length < sheet.least || !bears(cells, sheet, inside, away)) continue;
    for (const i of cells) inside[i] = 1;
    taken = true;
  }
  return taken;
}

/** Distance to what is inside; undefined where nothing is. */
const awayFrom = async (inside: Uint8Array, w: number, h: number): Promise<Float32Array | undefined> =>
  inside.includes(1) ? distanceInside(outsideOf(inside), w, h) : undefined;

function cellsOf(part: Int32Array, areas: readonly { id: number }[]): number[][] {
  const at = new Map(areas.map((a, q) => [a.id, q]));
  const cells: number[][] = areas.map(() => []);
  for (let i = 0; i < part.length; i++) {
    const q = part[i] ? at.get(part[i]!) : undefined;
    if (q !== undefined) cells[q]!.push(i);
  }
  return cells;
}

/** Whether most of an area's border is drawn, and enough of that bounds nothing yet. `away`: distance to what is inside. */
function bears(cells: readonly number[], sheet: Sheet, inside: Uint8Array, away?: Float32Array): boolean {
  const { ink, w, h, stroke } = sheet;
  const own = new Uint8Array(w * h);
  for (const i of cells) own[i] = 1;
  const held = countIn(inside);
  let [drawn, open, fresh] = [0, 0, 0];
  for (const i of cells)
    eachBeside(i, w, w * h, (j) => {
      if (own[j] || inside[j]) return;
      if (ink[j]) {
        drawn++;
        if (!away || away[j]! > 1.4 * stroke + 2) fresh++;
      } else open++;
    });
  const compact = (4 * Math.PI * cells.length) / (drawn + open) ** 2;
  return (
    drawn >= DRAWN * (drawn + open) &&
    fresh >= NEW * drawn &&
    compact >= (cells.length < SMALL * held ? SMALL_COMPACT : COMPACT)
  );
}

/** Share of the ink that lies beside something inside, or is a mass of its own. */
function boundShare({ ink, w, h, stroke }: Sheet, inside: Uint8Array): number {
  const reach = Math.ceil(1.2 * stroke) + 1;
  const near = growWithin(
    inside,
    maskWhere(ink.length, (i) => ink[i] === 1 || inside[i] === 1),
    w,
    h,
    reach,
  );
  let [all, bound] = [0, 0];
  for (let i = 0; i < ink.length; i++)
    if (ink[i]) {
      all++;
      if (near[i]) bound++;
    }
  return all ? bound / all : 1;
}
