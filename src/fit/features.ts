// Takes the parts of a face that a shading names; gives the shapes that are to be cut: in mm, an eye with its pupil as a strip through
// it, on a mirrored block the same on both sides. And makes them simpler, step by step, where they cannot all be cut.
import type { Feature, Shading } from '../data.ts';
import { areaOf, boundsOf, centroid, narrowestWidth, type Point, type Polygon } from '../geometry/polygon.ts';

export interface Shape {
  readonly kind: Exclude<Feature['kind'], 'pupil'>;
  /** convex, clockwise as seen, mm in the whole block; on a mirrored one the left of a pair */
  readonly outline: Polygon;
  readonly fabric: number;
  readonly pair?: number | undefined;
  /** the pupil: its fabric, and from where to where across the block it lies, mm */
  readonly pupil?: { readonly fabric: number; readonly from: number; readonly to: number } | undefined;
  /** left of the axis of a mirrored block: its right edge lies on it, and it is one shape with its mirror image */
  readonly onAxis?: boolean;
  /** which of the shading's features it stands for, pupils too */
  readonly of: readonly number[];
}

/** A feature this much smaller than the smallest width is grown to it; a smaller one is a mark to stitch. */
const NEARLY_WIDE = 0.8;
/** mm by which a shape is wider than it must be */
const SPARE = 0.03;

/** Shapes, and which features are too small to be cut. `smallest`: mm. */
export function shapesOf(
  { features = [] }: Shading,
  size: readonly [number, number],
  smallest: number,
): { shapes: Shape[]; marks: number[] } {
  const shapes: Shape[] = [];
  const marks: number[] = [];
  features.forEach(({ kind, outline, fabric, pair }, i) => {
    if (kind === 'pupil') return;
    const drawn = outline.map(([x, y]): Point => [x * size[0], y * size[1]]);
    const pupil = features.findIndex((f) => f.kind === 'pupil' && f.within === i);
    const of = pupil < 0 ? [i] : [i, pupil];
    const least = smallest + SPARE;
    const wide = narrowestWidth(drawn);
    if (wide < NEARLY_WIDE * least) {
      marks.push(...of);
      return;
    }
    const shape = { kind, fabric, pair, of, outline: wide < least ? scaled(drawn, least / wide) : drawn };
    const strip = pupil < 0 ? undefined : pupilIn(shape.outline, features[pupil]!, size, least);
    shapes.push({ ...shape, ...(strip && { pupil: strip }) });
  });
  return { shapes, marks };
}

/** The strip that a pupil is cut as: as wide as it is, but so that it and what is left on both sides can be sewn; undefined where there
 *  is no room for that. */
function pupilIn(
  eye: Polygon,
  pupil: Feature,
  size: readonly [number, number],
  least: number,
): { fabric: number; from: number; to: number } | undefined {
  // where the eye's slanting sides are nearest to one another
  const { x0, x1 } = innerBounds(eye);
  if (x1 - x0 < 3 * least) return undefined;
  const xs = pupil.outline.map((p) => p[0] * size[0]);
  const [a, b] = [Math.min(...xs), Math.max(...xs)];
  const wide = Math.min(Math.max(b - a, least), x1 - x0 - 2 * least);
  const middle = Math.min(Math.max((a + b) / 2, x0 + least + wide / 2), x1 - least - wide / 2);
  return { fabric: pupil.fabric, from: middle - wide / 2, to: middle + wide / 2 };
}

/** The widest upright band that lies within the eye at the height of its middle half. */
function innerBounds(eye: Polygon): { x0: number; x1: number } {
  const { minY, maxY } = boundsOf(eye);
  const rows = [0.3, 0.7].map((t) => rowOf(eye, minY + t * (maxY - minY)));
  return { x0: Math.max(...rows.map((r) => r[0])), x1: Math.min(...rows.map((r) => r[1])) };
}

/** From where to where a convex outline lies at this height. */
function rowOf(P: Polygon, y: number): [number, number] {
  const at: number[] = [];
  P.forEach((a, i) => {
    const b = P[(i + 1) % P.length]!;
    if (a[1] <= y !== b[1] <= y) at.push(a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
  });
  return [Math.min(...at), Math.max(...at)];
}

function scaled(P: Polygon, by: number): Point[] {
  const [cx, cy] = centroid(P);
  return P.map(([x, y]): Point => [cx + by * (x - cx), cy + by * (y - cy)]);
}

const flipped = (P: Polygon, axis: number): Point[] => P.map(([x, y]): Point => [2 * axis - x, y]).reverse();

/** The shapes of a block that is mirrored about x = axis: those left of it, each for two; what lies across it as a level trapezoid,
 *  the left half of it. `smallest`: mm. */
export function mirrorShapes(shapes: readonly Shape[], axis: number, smallest: number): Shape[] {
  const out: Shape[] = [];
  const taken = new Set<Shape>();
  for (const s of shapes) {
    if (taken.has(s)) continue;
    const { minX, maxX } = boundsOf(s.outline);
    const partner = shapes.find((o) => o !== s && o.kind === s.kind && s.pair !== undefined && o.pair === s.pair);
    if (!partner && minX < axis && maxX > axis) {
      out.push({ ...s, outline: halfTrapezoid(s.outline, axis, smallest), pupil: undefined, onAxis: true });
      continue;
    }
    if (partner) taken.add(partner);
    const [left, right] = [s, partner].map(
      (o) => o && { ...o, outline: centroid(o.outline)[0] > axis ? flipped(o.outline, axis) : o.outline },
    );
    const outline = right ? averaged(left!.outline, right.outline) : left!.outline;
    const room = axis - smallest / 2;
    const over = Math.max(0, boundsOf(outline).maxX - room);
    const pupil = (s.pupil ?? partner?.pupil) && middleStrip(outline, s.pupil ?? partner!.pupil!, smallest);
    out.push({
      ...s,
      outline: outline.map(([x, y]): Point => [x - over, y]),
      pupil: pupil && { ...pupil, from: pupil.from - over, to: pupil.to - over },
      of: [...s.of, ...(partner?.of ?? [])],
    });
  }
  return out;
}

/** A strip of this one's width in the middle of an eye. */
function middleStrip(
  eye: Polygon,
  { fabric, from, to }: NonNullable<Shape['pupil']>,
  smallest: number,
): Shape['pupil'] | undefined {
  const { x0, x1 } = innerBounds(eye);
  const least = smallest + SPARE;
  if (x1 - x0 < 3 * least) return undefined;
  const wide = Math.min(Math.max(to - from, least), x1 - x0 - 2 * least);
  return { fabric, from: (x0 + x1 - wide) / 2, to: (x0 + x1 + wide) / 2 };
}

/** Of two outlines alike the one between them; else the larger. */
function averaged(a: Polygon, b: Polygon): Polygon {
  if (a.length !== b.length) return areaOf(a) >= areaOf(b) ? a : b;
  const [ca, cb] = [centroid(a), centroid(b)];
  const off = (turn: number): number =>
    a.reduce((t, p, i) => {
      const q = b[(i + turn) % b.length]!;
      return t + Math.hypot(p[0] - ca[0] - q[0] + cb[0], p[1] - ca[1] - q[1] + cb[1]);
    }, 0);
  const turns = a.map((_, i) => i).sort((i, j) => off(i) - off(j));
  return a.map((p, i): Point => {
    const q = b[(i + turns[0]!) % b.length]!;
    return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
  });
}

/** The left half of the level trapezoid that is as large as the outline, its middle on the axis. */
function halfTrapezoid(P: Polygon, axis: number, smallest: number): Point[] {
  const { minY, maxY } = boundsOf(P);
  const high = maxY - minY;
  const [at, past] = [0.15, 0.85].map((t) => {
    const [from, to] = rowOf(P, minY + t * high);
    return to - from;
  }) as [number, number];
  const slope = (past - at) / 0.7;
  const least = smallest + SPARE;
  let top = Math.max(at - 0.15 * slope, 0.45 * past, least);
  let bottom = Math.max(past + 0.15 * slope, 0.45 * at, 0.7 * least);
  const by = (2 * areaOf(P)) / (high * (top + bottom));
  if (by > 1) [top, bottom] = [by * top, by * bottom];
  return [
    [axis - top / 2, minY],
    [axis, minY],
    [axis, maxY],
    [axis - bottom / 2, maxY],
  ];
}

/** The four-cornered shape of an outline's place, area, length and tilt. */
function fourCornered(P: Polygon): Point[] {
  const [cx, cy] = centroid(P);
  const n = P.length;
  let [xx, yy, xy] = [0, 0, 0];
  for (const [x, y] of P) {
    xx += (x - cx) ** 2 / n;
    yy += (y - cy) ** 2 / n;
    xy += ((x - cx) * (y - cy)) / n;
  }
  const tilt = Math.atan2(2 * xy, xx - yy) / 2;
  const [u, v] = [Math.cos(tilt), Math.sin(tilt)];
  const along = P.map(([x, y]) => (x - cx) * u + (y - cy) * v);
  const across = P.map(([x, y]) => (y - cy) * u - (x - cx) * v);
  const [a, b] = [along, across].map((row) => (Math.max(...row) - Math.min(...row)) / 2) as [number, number];
  const by = Math.sqrt(areaOf(P) / (4 * a * b));
  return [
    [-a, -b],
    [a, -b],
    [a, b],
    [-a, b],
  ].map(([s, t]): Point => [cx + by * (s! * u - t! * v), cy + by * (s! * v + t! * u)]);
}

/** An eye's upper side beside its lower one, where it has four corners. */
const LIDDED = 0.68;
/** Radians by which an eye may be tilted and still be drawn level. */
const LEVEL = 0.26;

/** An eye that is hardly longer one way than the other has no tilt. */
const ROUND = 0.1;

/** An eye of four corners in an outline's place, as wide, high and large, narrower above: a square one stares. A tilted one as it is. */
function lidded(P: Polygon): Point[] {
  const { minX, maxX, minY, maxY } = boundsOf(P);
  const [cx, cy] = [(minX + maxX) / 2, (minY + maxY) / 2];
  let [xx, yy, xy] = [0, 0, 0];
  for (const [x, y] of P) {
    xx += (x - cx) ** 2;
    yy += (y - cy) ** 2;
    xy += (x - cx) * (y - cy);
  }
  const tilt = Math.abs(Math.atan2(2 * xy, xx - yy) / 2);
  const round = Math.hypot(xx - yy, 2 * xy) < ROUND * (xx + yy);
  if (!round && Math.min(tilt, Math.PI / 2 - tilt) > LEVEL) return fourCornered(P);
  const by = Math.sqrt((2 * areaOf(P)) / ((1 + LIDDED) * (maxX - minX) * (maxY - minY)));
  const [a, b] = [(by * (maxX - minX)) / 2, (by * (maxY - minY)) / 2];
  return [
    [cx - LIDDED * a, cy - b],
    [cx + LIDDED * a, cy - b],
    [cx + a, cy + b],
    [cx - a, cy + b],
  ];
}

/** Eyes are given up last. */
const WORTH: Record<Shape['kind'], number> = { eye: 3, nose: 2, beak: 2, mouth: 1 };

export interface Wish {
  /** to be cut as they are */
  readonly held: readonly Shape[];
  /** given up as shapes: they weigh more, and show where they fall into a piece */
  readonly weighed: readonly Shape[];
}

/** What to try, one after the other, until all that is held can be cut: as drawn; with four corners, eyes narrower above; as
 *  boxes; eyes without pupils, in the fabric that stands out more (`pupilOrIris`); then without the least of them. The last holds nothing. */
export function* wishes(shapes: readonly Shape[], pupilOrIris: (eye: Shape) => number): Generator<Wish> {
  yield { held: shapes, weighed: [] };
  const corners = (eye: (P: Polygon) => Point[]): Shape[] =>
    shapes.map((s) =>
      s.outline.length > 4 ? { ...s, outline: (s.kind === 'eye' && !s.pupil ? eye : fourCornered)(s.outline) } : s,
    );
  if (shapes.some((s) => s.kind === 'eye' && !s.pupil && s.outline.length > 4))
    yield { held: corners(lidded), weighed: [] };
  const plain = corners(fourCornered);
  if (plain.some((s, i) => s !== shapes[i])) yield { held: plain, weighed: [] };
  const whole = plain.map((s) => (s.pupil ? { ...s, pupil: undefined, fabric: pupilOrIris(s) } : s));
  if (whole.some((s, i) => s !== plain[i])) yield { held: whole, weighed: [] };
  const order = [...whole].sort((a, b) => WORTH[a.kind] - WORTH[b.kind] || areaOf(a.outline) - areaOf(b.outline));
  // any one of them alone may be what is in the others' way: the least first
  for (const s of order) yield { held: whole.filter((o) => o !== s), weighed: [s] };
  for (let n = 2; n <= order.length; n++)
    yield { held: whole.filter((o) => order.indexOf(o) >= n), weighed: order.slice(0, n) };
}
