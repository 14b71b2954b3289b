// A drawing of straight lines -> pieces. Takes an SVG's text, gives bare pieces for section/ and check/, the colours they are
// filled with, what was joined on the way, and what is wrong with the drawing itself: curves, lines that stop short, islands.
// Whether the pieces can be sewn is not judged here.
import { BLOCK_LIMITS } from '../block.ts';
import { lightness } from '../colour/difference.ts';
import type { Fault, Partition } from '../data.ts';
import {
  type Bounds,
  boundsOf,
  centroid,
  insideConvex,
  narrowestWidth,
  offLine,
  type Point,
  type Segment,
} from '../geometry/polygon.ts';
import { UserError } from '../problems/problem.ts';
import { type Faces, findFaces, type LooseEnd } from './faces.ts';
import { joinLines, type Net } from './lines.ts';
import { type Normalise, readSvg } from './read-svg.ts';

export interface DesignOptions {
  /** finished size in mm; default: as drawn */
  readonly size?: readonly [width: number, height: number];
  /** ends within this many mm are meant to meet; default 0.5 mm, a pencil line's width [house rule] */
  readonly near?: number;
  /** carry lines that stop short on to the next line, instead of reporting them */
  readonly repair?: boolean;
}

export interface Design {
  readonly partition: Partition;
  /** hex, light to dark; a piece's fabric is an index into it */
  readonly colours: readonly string[];
  readonly faults: readonly Fault[];
  /** ends that were moved to meet */
  readonly joined: number;
  /** every line as it was drawn, at the block's size */
  readonly lines: readonly Segment[];
  /** lines carried on because `repair` asked for it */
  readonly carriedOn: readonly Segment[];
  /** ends of lines that were left out, for carried on they would have cut off a sliver */
  readonly leftOut: readonly Point[];
  readonly notes: readonly string[];
}

/** mm; lines drawn with a snapping tool and written with two decimals meet within this. */
const EXACT = 0.02;

/** mm: a piece narrower than this is not worth a line (trade rule: refused under 1/4 in) */
const SLIVER = 6.35;

/** Places where lines meet: what a block of the most pieces has, with some to spare. */
const MOST_CORNERS = 4000;

/** Lines farther apart than this are meant to be apart. */
const MOST_NEAR_MM = 20;

/** What pieces without a fill are shown in. */
const UNFILLED = '#ffffff';

/** Reads a design. `normalise`: in another way than in a process of its own. The block's rectangle is the smallest one round all lines, or the one that is drawn and that lines run a
 *  hair over; it need not be drawn.
 *  Throws UserError for a file that is no drawing of lines or of no size. */
export async function readDesign(
  text: string,
  file: string,
  o: DesignOptions = {},
  normalise?: Normalise,
): Promise<Design> {
  const near = o.near ?? 0.5;
  if (!(near > 0 && near < MOST_NEAR_MM)) throw new UserError('near-out-of-range', { most: MOST_NEAR_MM }, 2);
  const drawing = await readSvg(text, file, normalise);
  const box = frameOf(drawing.lines, near);
  const drawn = [box.maxX - box.minX, box.maxY - box.minY] as const;
  if (Math.min(...drawn) < 10 * near)
    throw new UserError('drawing-too-small', { file, across: Math.round(Math.min(...drawn) * 10) / 10 });
  const size = (o.size ?? drawn).map((v) => Math.round(v * 1000) / 1000) as [number, number];
  if (!(Math.max(...size) <= BLOCK_LIMITS.side))
    throw new UserError('drawing-too-wide', { file, across: Math.round(Math.max(...size)), most: BLOCK_LIMITS.side });
  const within = (v: number, far: number): number => Math.min(far, Math.max(0, v));
  const place = (p: Point): Point => [
    within(((p[0] - box.minX) / drawn[0]) * size[0], size[0]),
    within(((p[1] - box.minY) / drawn[1]) * size[1], size[1]),
  ];
  const lines = drawing.lines.map(([a, b]): Segment => [place(a), place(b)]);
  // A drawing whose ends meet is taken as it is; only one that leaves ends loose is joined within the wider distance.
  let reach = Math.min(EXACT, near);
  const join = (all: readonly Segment[]): Net => {
    const joined = joinLines(all, size, reach, MOST_CORNERS);
    if (!joined) throw new UserError('too-many-crossings', { file, most: MOST_CORNERS });
    return joined;
  };
  let net = join(lines);
  let faces = findFaces(net, reach);
  if (faces.loose.length && reach < near) {
    reach = near;
    net = join(lines);
    faces = findFaces(net, reach);
  }
  const carriedOn: Segment[] = [];
  const leftOut: Point[] = [];
  const open = (): LooseEnd[] => faces.loose.filter((l) => l.to && !isNear(leftOut, l.at));
  const narrowest = (f: Faces): number => Math.min(...f.loops.map((loop) => narrowestWidth(outlineOf(f, loop))));
  // A line carried on may meet another that was loose itself: once more for each. One that would cut off a sliver is left out.
  for (let round = 0; o.repair && round < 5 && open().length; round++)
    for (const { at, to } of open()) {
      const on = findFaces(join([...lines, ...carriedOn, [at, to!]]), reach);
      if (narrowest(on) < Math.min(SLIVER, narrowest(faces)) - EXACT) leftOut.push(at);
      else {
        carriedOn.push([at, to!]);
        faces = on;
      }
    }
  const fills = drawing.fills.map((f) => ({ colour: f.colour, rings: f.rings.map((r) => r.map(place)) }));
  const { pieces: most, fabrics: mostColours } = BLOCK_LIMITS;
  if (faces.loops.length > most)
    throw new UserError('too-many-drawn-pieces', { file, pieces: faces.loops.length, most });
  const shapes = faces.loops.map((loop) => outlineOf(faces, loop));
  const shown = shapes.map((s) => fillAt(fills, insidePoint(s)) ?? UNFILLED);
  const colours = [...new Set(shown)].sort((a, b) => lightness(b) - lightness(a) || (a < b ? -1 : 1));
  if (colours.length > mostColours)
    throw new UserError('too-many-colours', { file, colours: colours.length, most: mostColours });
  const faults: Fault[] = drawing.faults.map((f) => ({ ...f, at: place(f.at) }));
  for (const { at, to } of faces.loose.filter((l) => !isNear(leftOut, l.at)))
    faults.push({
      kind: 'stops short',
      at,
      text: to
        ? `A line stops short here, ${Math.round(Math.hypot(to[0] - at[0], to[1] - at[1]) * 10) / 10} mm before the next one: carry it on, or take it away.`
        : 'A line ends here in nothing: carry it on to another line, or take it away.',
    });
  for (const at of faces.islands)
    faults.push({
      kind: 'island',
      at,
      text: 'Lines here touch no other line: a piece with another inside it cannot be sewn by straight seams. Carry a seam on from its corners to the pieces around it.',
    });
  const notes: string[] = [];
  if (net.joined)
    notes.push(
      `${net.joined} ${net.joined > 1 ? 'ends' : 'end'} within ${near} mm of another line ${net.joined > 1 ? 'were' : 'was'} joined to it.`,
    );
  const bare = shown.filter((c) => c === UNFILLED).length;
  if (!drawing.fills.length) notes.push('No shape is filled: all pieces are given one fabric.');
  else if (bare && !drawing.fills.some((f) => f.colour === UNFILLED))
    notes.push(`${bare} ${bare > 1 ? 'pieces are' : 'piece is'} not filled and shown white.`);
  const pieces = shapes.map((outline, i) => ({ outline, fabric: colours.indexOf(shown[i]!) }));
  return { partition: { size, pieces }, colours, faults, joined: net.joined, lines, carriedOn, leftOut, notes };
}

const isNear = (places: readonly Point[], [x, y]: Point): boolean =>
  places.some((q) => Math.hypot(q[0] - x, q[1] - y) < EXACT);

/** The bounds of all lines; on a side where lines run over a drawn edge of the block by less than `near`, that edge. */
function frameOf(lines: readonly Segment[], near: number): Bounds {
  const box = boundsOf(lines.flat());
  /** The outermost position within reach of `end` at which lines along the side cover most of it. */
  const edge = (end: number, across: 0 | 1, span: number): number => {
    const covered = new Map<number, { at: number; length: number }>();
    for (const [a, b] of lines)
      if (Math.abs(a[across] - b[across]) < EXACT && Math.abs(a[across] - end) <= near) {
        const key = Math.round(a[across] / EXACT);
        const seen = covered.get(key) ?? { at: a[across], length: 0 };
        seen.length += Math.abs(a[1 - across]! - b[1 - across]!);
        covered.set(key, seen);
      }
    const drawn = [...covered.values()].filter((c) => c.length > 0.8 * span).map((c) => c.at);
    return drawn.sort((p, q) => Math.abs(p - end) - Math.abs(q - end))[0] ?? end;
  };
  const [w, h] = [box.maxX - box.minX, box.maxY - box.minY];
  return {
    minX: edge(box.minX, 0, h),
    maxX: edge(box.maxX, 0, h),
    minY: edge(box.minY, 1, w),
    maxY: edge(box.maxY, 1, w),
  };
}

/** mm: corners of a face nearer to the line between their neighbours are T junctions of the pieces across. */
const STRAIGHT = 0.004;

/** A face's outline without the corners that only its neighbours have. */
function outlineOf(faces: Faces, loop: readonly number[]): Point[] {
  const points = loop.map((c) => faces.corners[c]!);
  const out: Point[] = [];
  points.forEach((p, i) => {
    const before = out.at(-1) ?? points[(i + points.length - 1) % points.length]!;
    const after = points[(i + 1) % points.length]!;
    if (Math.abs(offLine(before, after, p)) > STRAIGHT || !Number.isFinite(offLine(before, after, p))) out.push(p);
  });
  return out.length >= 3 ? out : points;
}

/** A point inside a face: its centroid, or the middle of one of its corners' triangles where it is not convex. */
function insidePoint(shape: readonly Point[]): Point {
  const middle = centroid(shape);
  if (insideConvex(shape, middle) || inRings([shape], middle)) return middle;
  for (let i = 0; i < shape.length; i++) {
    const [a, b, c] = [shape[i]!, shape[(i + 1) % shape.length]!, shape[(i + 2) % shape.length]!];
    const q: Point = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3];
    if (inRings([shape], q)) return q;
  }
  return middle;
}

/** The fill on top at a point. */
function fillAt(
  fills: readonly { readonly colour: string; readonly rings: readonly (readonly Point[])[] }[],
  q: Point,
): string | undefined {
  return fills.findLast((f) => inRings(f.rings, q))?.colour;
}

/** Even-odd rule over all rings. */
function inRings(rings: readonly (readonly Point[])[], q: Point): boolean {
  let inside = false;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [a, b] = [ring[i]!, ring[j]!];
      if (a[1] > q[1] !== b[1] > q[1] && q[0] < ((b[0] - a[0]) * (q[1] - a[1])) / (b[1] - a[1]) + a[0])
        inside = !inside;
    }
  return inside;
}
