// Takes features as shapes; cuts the block so that each is a piece of its own, before anything else is cut. Straight cuts run from
// edge to edge, so what is cut first parts features from one another: a line through the room between them, or an edge of one. Which
// goes is found by trying: depth first, taken back where the rest cannot be sewn.
import { centroid, clipHalf, type Point } from '../geometry/polygon.ts';
import type { Cutting } from './cutting.ts';
import type { Shape } from './features.ts';

/** mm of room in which a line between two features may still be moved: twice the edge of a piece */
const ROOM = 19.2;
/** lines tried before it is given up */
const MOST_TRIES = 600;
/** degrees that a line between features may run at, from upright */
const WAYS = [0, 90, 15, -15, 75, -75, 45, -45];
/** mm: an edge this near to the block's, or to the axis, is no cut */
const ON_EDGE = 0.01;

interface Line {
  readonly nx: number;
  readonly ny: number;
  readonly d: number;
  /** the feature and its edge that it runs along */
  readonly edge?: readonly [shape: number, edge: number, from: number, to: number];
}

/** `size`: of what is cut, mm. False, with the block in one piece again, where not all can be cut. */
export function seedFeatures(cutting: Cutting, shapes: readonly Shape[], size: readonly [number, number]): boolean {
  for (const { outline } of shapes) cutting.protect(outline);
  const middles = shapes.map((s) => centroid(s.outline));
  const edges = shapes.map(({ outline }, shape) =>
    outline.flatMap((a, i) => {
      const line = edgeLine(a, outline[(i + 1) % outline.length]!, shape, i);
      return onRim(a, outline[(i + 1) % outline.length]!, size) ? [] : [line];
    }),
  );
  const done = new Set<string>();
  let tries = 0;
  const nameOf = ({ edge }: Line): string => `${edge![0]} ${edge![1]}`;
  const attempt = (at: Point, line: Line, then: () => boolean, inside = false): boolean => {
    if (++tries > MOST_TRIES) return false;
    const piece = cutting.seed(at, line, inside);
    if (piece < 0) return false;
    if (line.edge) done.add(nameOf(line));
    if (then()) return true;
    if (line.edge) done.delete(nameOf(line));
    cutting.unseed(piece);
    return false;
  };
  const span = (shape: number, { nx, ny }: Line): [number, number] => {
    const along = shapes[shape]!.outline.map(([x, y]) => nx * x + ny * y);
    return [Math.min(...along), Math.max(...along)];
  };
  /** Lines that leave some of the set on either side and cross none. */
  const partings = (set: readonly number[]): Line[] => {
    const free = WAYS.flatMap((way) => {
      const [nx, ny] = [Math.cos((way * Math.PI) / 180), Math.sin((way * Math.PI) / 180)];
      const spans = set.map((s) => span(s, { nx, ny, d: 0 })).sort((a, b) => a[0] - b[0]);
      let reach = -Infinity;
      return spans.flatMap(([from, to]) => {
        const before = reach;
        reach = Math.max(reach, to);
        return from - before >= ROOM && before > -Infinity
          ? [{ nx, ny, d: (from + before) / 2, gap: from - before }]
          : [];
      });
    });
    free.sort((a, b) => b.gap - a.gap);
    const along = set.flatMap((s) =>
      edges[s]!.filter((line) => {
        if (done.has(nameOf(line))) return false;
        const sides = set.map((o) => (o === s ? 1 : sideOf(span(o, line), line.d)));
        return !sides.includes(0) && sides.includes(-1);
      }),
    );
    return [...free, ...along];
  };
  /** Cuts what is in the first set off from one another, then out; then the other sets. */
  const place = (sets: readonly (readonly number[])[]): boolean => {
    const [set, ...rest] = sets;
    if (!set) return true;
    if (set.length === 1) return cutOut(set[0]!, () => place(rest));
    return partings(set).some((line) => {
      const [near, far] = [-1, 1].map((side) => set.filter((s) => sideOf(span(s, line), line.d) === side));
      return attempt(middles[set[0]!]!, line, () => place([near!, far!, ...rest]));
    });
  };
  const cutOut = (shape: number, then: () => boolean): boolean => {
    const open = edges[shape]!.filter((line) => !done.has(nameOf(line)));
    if (open.length === 0) return cutPupil(shape, then);
    return open.some((line) => attempt(middles[shape]!, line, () => cutOut(shape, then)));
  };
  const cutPupil = (shape: number, then: () => boolean): boolean => {
    const { pupil } = shapes[shape]!;
    if (!pupil) return then();
    const middle: Point = [(pupil.from + pupil.to) / 2, middles[shape]![1]];
    const sides = [pupil.from, pupil.to].map((d): Line => ({ nx: 1, ny: 0, d }));
    return attempt(middle, sides[0]!, () => attempt(middle, sides[1]!, then, true), true);
  };
  if (!place(shapes.length === 0 ? [] : [shapes.map((_, i) => i)])) return false;
  // what is left of an eye beside its pupil is not to be cut further either
  for (const { outline, pupil } of shapes)
    if (pupil) {
      cutting.protect(clipHalf(outline, [pupil.from, 0], [pupil.from, 1], 1));
      cutting.protect(clipHalf(outline, [pupil.to, 0], [pupil.to, 1], -1));
    }
  return true;
}

const sideOf = ([least, most]: readonly [number, number], d: number): -1 | 0 | 1 =>
  least >= d - ON_EDGE ? 1 : most <= d + ON_EDGE ? -1 : 0;

/** The line along an edge; the feature lies where nx·x + ny·y is larger than d. */
function edgeLine(a: Point, b: Point, shape: number, edge: number): Line {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length = Math.hypot(dx, dy);
  const [nx, ny] = [-dy / length, dx / length];
  const [s, t] = [a, b].map(([x, y]) => nx * y - ny * x) as [number, number];
  return { nx, ny, d: nx * a[0] + ny * a[1], edge: [shape, edge, Math.min(s, t), Math.max(s, t)] };
}

const onRim = (a: Point, b: Point, size: readonly [number, number]): boolean =>
  [0, 1].some((k) => [0, size[k]!].some((at) => Math.abs(a[k]! - at) < ON_EDGE && Math.abs(b[k]! - at) < ON_EDGE));
