// The rectangle to cut for a piece. Takes a block, gives one patch a piece, large enough to cover the piece when it has been
// laid under the folded paper as its reflection across the seam, sewn and opened, also a little off and turned.
// Assumes a block that can be sewn. Frame of a patch: u along the side it is laid by, v square to it into the piece.
import type { Block, Piece, Section } from '../block.ts';
import type { Patch } from '../data.ts';
import { areaOf, centroid, clipHalf, distance, offLine, type Point, type Polygon } from '../geometry/polygon.ts';
import { UserError } from '../problems/problem.ts';
import { cutStep, type FabricOptions } from './options.ts';

/** mm within which a corner lies on a line; corners are on a grid of 1 µm. */
const ON_LINE = 0.02;
/** A seam that meets the section's edge at a tiny angle runs on no farther than this many allowances (5° asks for 11.5). */
const LONGEST_TIP = 12;

type EdgeKind = 'own' | 'later' | 'outer';

/** What a patch has to cover once it is sewn and opened, mm on the finished face. */
export interface Cover {
  /** the piece and its share of the allowance strip, with its seams prolonged to the cut line */
  readonly laid: readonly Point[];
  /** the allowance along the seams of later pieces, and along its own */
  readonly trimmed: readonly Point[];
  readonly own: readonly Point[];
}

/** Corners that fall together are one. Throws UserError where what is left has no area. */
function corners(section: Section, { outline, number }: Piece): Point[] {
  const own = outline.filter((q, i) => distance(q, outline[(i + 1) % outline.length]!) > ON_LINE / 2);
  if (own.length < 3 || areaOf(own) < ON_LINE)
    throw new UserError('piece-without-area', { piece: `${section.id}${number}` });
  return own;
}

/** The points that the patch of a piece must cover. The allowance strip's share runs, where a seam meets the section's edge at
 *  angle t, along the seam by allowance / sin t: 30° .50 in, 20° .73, 15° .97. A section's own corner is blunt, as it is cut. */
export function whatToCover(section: Section, piece: Piece, allowance: number): Cover {
  const P = corners(section, piece);
  const inside = centroid(P);
  const onSegment = (q: Point, a: Point, b: Point): boolean =>
    Math.abs(offLine(a, b, q)) < ON_LINE && distance(a, q) + distance(q, b) < distance(a, b) + ON_LINE;
  const kindOf = (a: Point, b: Point): EdgeKind => {
    if (piece.seam && [a, b].every((q) => onSegment(q, piece.seam![0], piece.seam![1]))) return 'own';
    const S = section.outline;
    return S.some((s, i) => [a, b].every((q) => onSegment(q, s, S[(i + 1) % S.length]!))) ? 'outer' : 'later';
  };
  const n = P.length;
  const edges = P.map((a, i) => {
    const b = P[(i + 1) % n]!;
    const side = Math.sign(offLine(a, b, inside)) || 1;
    const length = distance(a, b);
    const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    return { a, b, along, out: [along[1] * side, -along[0] * side] as Point, kind: kindOf(a, b) };
  });
  const move = (p: Point, d: Point, by: number): Point => [p[0] + d[0] * by, p[1] + d[1] * by];
  const keep = (shape: Point[], a: Point, b: Point): Point[] =>
    shape.length ? clipHalf(shape, a, b, offLine(a, b, inside) > 0 ? 1 : -1) : shape;
  const laid: Point[] = [...P];
  const trimmed: Point[] = [];
  const own: Point[] = [];
  for (const e of edges) {
    if (e.kind !== 'outer') {
      (e.kind === 'own' ? own : trimmed).push(move(e.a, e.out, allowance), move(e.b, e.out, allowance));
      continue;
    }
    const reach = LONGEST_TIP * allowance;
    const [a, b] = [move(e.a, e.along, -reach), move(e.b, e.along, reach)];
    let share: Point[] = [a, b, move(b, e.out, allowance), move(a, e.out, allowance)];
    for (const f of edges) {
      if (f.kind !== 'outer') share = keep(share, f.a, f.b);
      else if (f !== e) share = keep(share, move(f.a, f.out, allowance), move(f.b, f.out, allowance));
      // Two edges of the section meet: no farther out than a square corner's tip.
      if (f.kind !== 'outer' || f === e || distance(f.out, e.out) < 1e-3) continue;
      const corner = [e.a, e.b].find((q) => distance(q, f.a) < ON_LINE || distance(q, f.b) < ON_LINE);
      if (!corner) continue;
      const bisector: Point = [e.out[0] + f.out[0], e.out[1] + f.out[1]];
      const length = Math.hypot(...bisector);
      const tip = move(corner, bisector, (Math.SQRT2 * allowance) / length);
      share = keep(share, tip, [tip[0] - bisector[1], tip[1] + bisector[0]]);
    }
    laid.push(...share);
  }
  return { laid, trimmed, own };
}

export interface Rectangle {
  readonly width: number;
  readonly length: number;
  /** corners on the finished face */
  readonly lies: readonly Point[];
}

interface Range {
  readonly low: number;
  readonly high: number;
}

function rangeOf(points: readonly Point[], k: 0 | 1): Range {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < points.length; i++) {
    const v = points[i]![k];
    if (v < low) low = v;
    if (v > high) high = v;
  }
  return { low, high };
}

/** What points cover when they have been turned about (m, v) by `turn` radians: u from m, and v. Gone through ten thousand times a
 *  block. */
function turnedAbout(points: readonly Point[], m: number, v: number, turn: number): { u: Range; v: Range } {
  const ct = Math.cos(turn);
  const st = Math.sin(turn);
  let a0 = Infinity;
  let a1 = -Infinity;
  let b0 = Infinity;
  let b1 = -Infinity;
  for (let i = 0; i < points.length; i++) {
    const x = points[i]![0] - m;
    const y = points[i]![1] - v;
    const a = x * ct + y * st;
    const b = y * ct - x * st + v;
    if (a < a0) a0 = a;
    if (a > a1) a1 = a;
    if (b < b0) b0 = b;
    if (b > b1) b1 = b;
  }
  return { u: { low: a0, high: a1 }, v: { low: b0, high: b1 } };
}

/** The smallest rectangle, in steps, with a side in direction `along` (radians): the piece + allowance + slack on each side, and
 *  whatever more it takes to cover also when it is laid off and turned. With `seam` its side lies one allowance behind it. */
export function fitRectangle(
  piece: Polygon,
  cover: Cover,
  along: number,
  seam: readonly [Point, Point] | null,
  o: FabricOptions,
  least: { readonly width: number; readonly length: number } = { width: 0, length: 0 },
): Rectangle {
  const origin: Point = seam ? seam[0] : piece[0]!;
  const inside = centroid(piece);
  const [c, s] = [Math.cos(along), Math.sin(along)];
  const flip = -(inside[0] - origin[0]) * s + (inside[1] - origin[1]) * c < 0 ? -1 : 1;
  const frame = (p: Point): Point => {
    const [x, y] = [p[0] - origin[0], p[1] - origin[1]];
    return [x * c + y * s, flip * (y * c - x * s)];
  };
  const back = ([u, v]: Point): Point => [origin[0] + u * c - flip * v * s, origin[1] + u * s + flip * v * c];
  const own = piece.map(frame);
  const laid = cover.laid.map(frame);
  const all = [...laid, ...cover.trimmed.map(frame), ...cover.own.map(frame)];
  const step = cutStep(o.system);
  const up = (v: number): number => Math.round(Math.ceil(v / step - 1e-6) * step * 1000) / 1000;
  const [ownLong, ownWide] = [rangeOf(own, 0), rangeOf(own, 1)];
  const [long, wide] = [rangeOf(all, 0), rangeOf(all, 1)];
  const middle = (long.low + long.high) / 2;
  const size = ({ low, high }: Range, slack: number): number => high - low + 2 * (o.allowance + slack);
  const slack =
    Math.max(size(ownLong, o.slack), size(ownWide, o.slack)) > o.large + 1e-6
      ? Math.max(o.slack, o.largeSlack)
      : o.slack;
  let length = up(Math.max(size(ownLong, slack), long.high - long.low, least.length));
  let width = up(Math.max(size(ownWide, slack), wide.high - (seam ? -o.allowance : wide.low), least.width));
  const bottom = (): number => (seam ? -o.allowance : (wide.low + wide.high - width) / 2);
  // A hand lays it about the middle of all it sees, or of what it must cover: each has to do.
  const seen = rangeOf(laid, 0);
  const middles = [middle, (seen.low + seen.high) / 2];
  const turns = [-o.laidTurned, 0, o.laidTurned].map((degrees) => (degrees * Math.PI) / 180);
  // Each round looks at the patch turned both ways about its middle and about the middle of the side it is laid by.
  for (let round = 0; round < 20; round++) {
    const need = { length, width };
    const base = bottom();
    const half = base + width / 2;
    for (const m of middles)
      for (const v of [base, half])
        for (const turn of turns) {
          const { u, v: across } = turnedAbout(laid, m, v, turn);
          need.length = Math.max(need.length, 2 * (Math.max(-u.low, u.high) + o.laidOff));
          const low = across.low - o.laidOff;
          const high = across.high + o.laidOff;
          // Laid by a seam the side stays one allowance behind it: what a long seam lacks there when turned is taken off the far side.
          need.width = Math.max(need.width, seam ? high - Math.min(low, base) : 2 * Math.max(half - low, high - half));
        }
    if (up(need.length) <= length && up(need.width) <= width) break;
    length = up(need.length);
    width = up(need.width);
  }
  const [ua, ub, va, vb] = [middle - length / 2, middle + length / 2, bottom(), bottom() + width];
  return { width, length, lies: [back([ua, va]), back([ub, va]), back([ub, vb]), back([ua, vb])] };
}

/** A patch larger than so many times its piece is laid turned where that makes it smaller than this, or saves this share of it: a
 *  patch askew is harder to lay [house rule]. */
const LARGE = 8;
const SAVES = 0.4;
/** degrees between the directions that are tried, besides those of the piece's edges */
const TURN_STEP = 10;

/** One patch a piece, sections in the block's order. Source of the rule: the patch laid under the folded paper must cover the
 *  piece's reflection plus at least 1/4 in all round (paperpanache.com/howto/butterfly.htm; common practice). */
export function planPatches(block: Block, o: FabricOptions): Patch[] {
  return block.sections.flatMap((section) =>
    [...section.pieces].sort((a, b) => a.number - b.number).map((piece) => patchOf(block, section, piece, o)),
  );
}

const angleOf = (a: Point, b: Point): number => Math.atan2(b[1] - a[1], b[0] - a[0]);

function patchOf(block: Block, section: Section, piece: Piece, o: FabricOptions): Patch {
  const plain = section.pieces.length === 1;
  const base = { block: block.name, section: section.id, piece: piece.number, fabric: piece.fabric, plain };
  const P = corners(section, piece);
  const cover = whatToCover(section, piece, o.allowance);
  if (o.upright.includes(piece.fabric)) return { ...base, along: 'upright', ...fitRectangle(P, cover, 0, null, o) };
  const straight = layStraight(block, piece, P, cover, o);
  const size = straight.width * straight.length;
  if (!piece.seam || size <= LARGE * areaOf(P)) return { ...base, ...straight };
  const enough = Math.max(LARGE * areaOf(P), (1 - SAVES) * size);
  const turned = smallestTurned(P, cover, o, enough);
  if (!turned || turned.width * turned.length > enough) return { ...base, ...straight };
  return { ...base, along: 'turned', ...turned };
}

/** The smallest rectangle however it is turned: a slanting spike lies along it. Undefined where none can be smaller than `enough`. */
function smallestTurned(P: Polygon, cover: Cover, o: FabricOptions, enough: number): Rectangle | undefined {
  const edges = P.map((a, i) => angleOf(a, P[(i + 1) % P.length]!));
  const steps = Array.from({ length: 180 / TURN_STEP }, (_, k) => (k * TURN_STEP * Math.PI) / 180);
  const around = 2 * (o.allowance + o.slack);
  // no patch in a direction is smaller than the piece with allowance and slack about it
  const least = (angle: number): number => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const turned = P.map(([x, y]): Point => [x * c + y * s, y * c - x * s]);
    const [u, v] = [rangeOf(turned, 0), rangeOf(turned, 1)];
    return (u.high - u.low + around) * (v.high - v.low + around);
  };
  const [best] = [...edges, ...steps]
    .map((angle) => ({ angle, bound: least(angle) }))
    .sort((a, b) => a.bound - b.bound);
  return best && best.bound < enough ? fitRectangle(P, cover, best.angle, null, o) : undefined;
}

/** Laid by its seam, or parallel to the block's outer edge. */
function layStraight(
  block: Block,
  piece: Piece,
  P: readonly Point[],
  cover: Cover,
  o: FabricOptions,
): Rectangle & { readonly along: 'seam' | 'edge' } {
  const edges = P.map((a, i): [Point, Point] => [a, P[(i + 1) % P.length]!]);
  const rectangle = (angle: number, seam: [Point, Point] | null): Rectangle => fitRectangle(P, cover, angle, seam, o);
  const bySeam = piece.seam
    ? rectangle(angleOf(...piece.seam), piece.seam)
    : edges
        .map((e) => rectangle(angleOf(...e), null))
        .reduce((a, b) => (b.width * b.length < a.width * a.length ? b : a));
  const rim = edges.find(([a, b]) =>
    [0, 1].some((k) => [0, block.size[k]!].some((v) => [a, b].every((q) => Math.abs(q[k]! - v) < ON_LINE))),
  );
  if (o.grain === 'seam' || !rim) return { along: 'seam', ...bySeam };
  const byEdge = rectangle(angleOf(...rim), null);
  if (!piece.seam) return { along: 'edge', ...byEdge };
  const turn = angleOf(...piece.seam) - angleOf(...rim);
  // Square to the edge already: one rectangle is both.
  if (Math.abs(Math.sin(2 * turn)) < 1e-3) return { along: 'edge', ...bySeam };
  // On the grain of the edge, and large enough to be laid along the seam, should a hand do so. A larger patch turns about another
  // middle, so each is fitted again until one size does for both.
  const tries = [true, false].map((straight) => {
    let seam = bySeam;
    let edge = byEdge;
    for (let round = 0; round < 8; round++) {
      const [w, l] = straight ? [edge.width, edge.length] : [edge.length, edge.width];
      if (w === seam.width && l === seam.length) break;
      seam = fitRectangle(P, cover, angleOf(...piece.seam!), piece.seam, o, { width: w, length: l });
      const least = straight ? seam : { width: seam.length, length: seam.width };
      edge = fitRectangle(P, cover, angleOf(...rim), null, o, least);
    }
    return { width: seam.width, length: seam.length, lies: edge.lies };
  });
  const best = tries.reduce((a, b) => (b.width * b.length < a.width * a.length ? b : a));
  return { along: 'edge', ...best };
}
