// A template as it lies on a sheet: turned, its convex parts as rings with the boxes around them, ready for Minkowski sums.
import { insetConvex } from '../drawing/clip.ts';
import { type Point, type Polygon, signedArea } from '../geometry/polygon.ts';
import { edgeTurns, type Shape } from './pack-boxes.ts';

/** x, y, x, y …; plain arrays, for small typed ones cost more to make than to use */
export type Flat = readonly number[];

/** A convex polygon and the box around it. */
export interface Ring {
  readonly ring: Flat;
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

export interface Turned {
  readonly turn: number;
  /** parts reversed through the origin, ready for Minkowski sums */
  readonly reversed: readonly Ring[];
  /** parts grown by the gap, about the same origin */
  readonly grown: readonly Ring[];
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
  /** middle of the main part */
  readonly cx: number;
  readonly cy: number;
}

const flat = (P: Polygon): Flat => {
  const ring = signedArea(P) < 0 ? [...P].reverse() : P;
  return ring.flatMap((q) => [q[0], q[1]]);
};

/** Starts at the lowest corner (then the leftmost), so that edges run in order of angle. */
function fromLowest(P: Flat): Flat {
  const n = P.length / 2;
  let at = 0;
  for (let i = 1; i < n; i++)
    if (P[2 * i + 1]! < P[2 * at + 1]! || (P[2 * i + 1] === P[2 * at + 1] && P[2 * i]! < P[2 * at]!)) at = i;
  return [...P.slice(2 * at), ...P.slice(0, 2 * at)];
}

const boxed = (ring: Flat): Ring => {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    x0 = Math.min(x0, ring[i]!);
    x1 = Math.max(x1, ring[i]!);
    y0 = Math.min(y0, ring[i + 1]!);
    y1 = Math.max(y1, ring[i + 1]!);
  }
  return { ring, x0, x1, y0, y1 };
};

export const moved = ({ ring, x0, x1, y0, y1 }: Ring, dx: number, dy: number): Ring => ({
  ring: ring.map((v, i) => v + (i % 2 ? dy : dx)),
  x0: x0 + dx,
  x1: x1 + dx,
  y0: y0 + dy,
  y1: y1 + dy,
});

/** A polygon on the sheet as a ring that Minkowski sums can be made of. */
export const ringOf = (P: Polygon): Ring => boxed(fromLowest(flat(P)));

function turnShape(parts: readonly Polygon[], turn: number, gap: number): Turned {
  const a = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  const turned = parts.map((P) =>
    P.map(([x, y]): Point => {
      const q: Point = [x * c - y * s, x * s + y * c];
      x0 = Math.min(x0, q[0]);
      x1 = Math.max(x1, q[0]);
      y0 = Math.min(y0, q[1]);
      y1 = Math.max(y1, q[1]);
      return q;
    }),
  );
  const main = turned[0]!;
  return {
    turn,
    grown: turned.map((P) => ringOf(insetConvex(P, -gap))),
    reversed: turned.map((P) => ringOf(P.map(([x, y]): Point => [-x, -y]))),
    x0,
    x1,
    y0,
    y1,
    cx: main.reduce((sum, q) => sum + q[0], 0) / main.length,
    cy: main.reduce((sum, q) => sum + q[1], 0) / main.length,
  };
}

/** The turns that lay an edge of the main part, `longer` mm or more, along a side of the sheet. */
export const turnsOf = ({ parts }: Shape, gap: number, longer: number): Turned[] =>
  edgeTurns(parts.slice(0, 1), longer).map((turn) => turnShape(parts, turn, gap));
