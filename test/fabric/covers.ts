// Lays a patch as a hand does and says whether it covers, from the rule alone: nothing here comes from src/fabric.
// Takes a piece, its section's outline, the patch's width and length; all mm.
import { convexHull } from '../../src/geometry/polygon.ts';

type P = readonly [number, number];

const sub = (a: P, b: P): P => [a[0] - b[0], a[1] - b[1]];
const dot = (a: P, b: P): number => a[0] * b[0] + a[1] * b[1];
const unit = (a: P): P => [a[0] / Math.hypot(...a), a[1] / Math.hypot(...a)];

/** Distance of q from the line a-b, above zero on the side of `inside`. */
const depth = (a: P, b: P, inside: P, q: P): number => {
  const n: P = [-(b[1] - a[1]), b[0] - a[0]];
  const d = dot(sub(q, a), unit(n));
  return dot(sub(inside, a), n) < 0 ? -d : d;
};

/** The piece and its share of the allowance strip, as many points: wherever on or outside the piece a point is nearer than the
 *  allowance to the section's edge line, and on the piece's side of all its seams prolonged, the patch must reach. */
export function neededPoints(
  piece: { outline: readonly P[] },
  section: { outline: readonly P[] },
  allowance: number,
): P[] {
  const S = section.outline;
  const O = piece.outline;
  const inside: P = [O.reduce((t, p) => t + p[0], 0) / O.length, O.reduce((t, p) => t + p[1], 0) / O.length];
  const edges = O.map((a, i): [P, P] => [a, O[(i + 1) % O.length]!]);
  const onRim = ([a, b]: [P, P]): boolean =>
    S.some((s, i) => [a, b].every((q) => Math.abs(depth(s, S[(i + 1) % S.length]!, inside, q)) < 0.02));
  const rims = edges.filter(onRim);
  const seams = edges.filter((e) => !onRim(e));
  const points: P[] = [...O];
  for (const [a, b] of rims) {
    const out = unit([-(b[1] - a[1]), b[0] - a[0]]);
    const away = dot(sub(inside, a), out) < 0 ? 1 : -1;
    const along = unit(sub(b, a));
    const length = Math.hypot(...sub(b, a));
    const reach = 4 * allowance;
    for (let t = -reach; t <= length + reach; t += 1)
      for (const h of [0.5, 1]) {
        const q: P = [
          a[0] + along[0] * t + out[0] * away * h * allowance,
          a[1] + along[1] * t + out[1] * away * h * allowance,
        ];
        const within = seams.every(([c, d]) => depth(c, d, inside, q) > 1e-6);
        const cut = rims.every(([c, d]) => depth(c, d, inside, q) > -allowance - 1e-6);
        // A section's own corner is cut off blunt: asked for is what lies within a square corner's reach of it.
        const past = t < 0 ? a : t > length ? b : undefined;
        const corner =
          past && rims.filter(([c, d]) => [c, d].some((e) => Math.hypot(...sub(e, past)) < 0.01)).length > 1;
        const near = !corner || Math.hypot(...sub(q, past)) <= Math.SQRT2 * allowance * 0.999;
        if (within && cut && near) points.push(q);
      }
  }
  // a rectangle that covers these covers what lies between them
  return convexHull(points);
}

export interface Laying {
  /** mm, along and across the seam */
  readonly off: P;
  /** degrees */
  readonly turned: number;
  readonly about: 'middle' | 'seam side';
}

/** Whether a rectangle that lies with one side along the seam, under the folded paper (on the far side of it, as everything there is
 *  the reflection), covers every point when it is opened. `lift`: how far it was laid deeper so that a long seam turned with it
 *  still catches it, mm. */
export function covers(
  points: readonly P[],
  seam: readonly [P, P],
  inside: P,
  width: number,
  length: number,
  allowance: number,
  laying: Laying,
): boolean {
  const u = unit(sub(seam[1], seam[0]));
  const n0: P = [-u[1], u[0]];
  const n: P = dot(sub(inside, seam[0]), n0) < 0 ? [-n0[0], -n0[1]] : n0;
  // Reflected across the seam: the depth into the piece becomes a depth on the other side, where the patch lies.
  const flat = points.map((q): P => [dot(sub(q, seam[0]), u), -dot(sub(q, seam[0]), n)]);
  const us = flat.map((q) => q[0]);
  const middle = (Math.min(...us) + Math.max(...us)) / 2;
  const pivot: P = [middle, laying.about === 'middle' ? allowance - width / 2 : allowance];
  const r = (laying.turned * Math.PI) / 180;
  const seen = flat.map((q): P => {
    const d = sub(sub(q, pivot), laying.off);
    return [d[0] * Math.cos(r) + d[1] * Math.sin(r), d[1] * Math.cos(r) - d[0] * Math.sin(r) + pivot[1]];
  });
  // The hand that turned it sees the folded edge uncovered at one end and moves it on until the whole seam is caught.
  const lift = Math.max(0, ...seen.map((q) => q[1] - allowance));
  return seen.every((q) => Math.abs(q[0]) <= length / 2 + 1e-6 && q[1] - lift >= allowance - width - 1e-6);
}

/** All ways a hand lays a patch: 1/8 in off in eight directions, 3 degrees either way, about its middle or the seam's side. */
export const layings: readonly Laying[] = (['middle', 'seam side'] as const).flatMap((about) =>
  [-3, 0, 3].flatMap((turned) =>
    [0, 45, 90, 135, 180, 225, 270, 315].map((d): Laying => {
      const by = 25.4 / 8;
      return { about, turned, off: [by * Math.cos((d * Math.PI) / 180), by * Math.sin((d * Math.PI) / 180)] };
    }),
  ),
);

type Sewn = { number: number; outline: readonly P[]; seam: readonly [P, P] | null };

export interface LaidPatch {
  readonly section: string;
  readonly piece: number;
  readonly width: number;
  readonly length: number;
  readonly along?: string;
  readonly lies?: readonly P[];
}

/** A patch that is laid askew: in the direction in which the plan's picture shows it. */
export const coversAskew = (points: readonly P[], patch: Pick<LaidPatch, 'width' | 'length' | 'lies'>): boolean =>
  flatCovers(points, [patch.lies![0]!, patch.lies![1]!], patch);

/** Names of the pieces whose patch does not cover, laid in any of those ways. Piece 1 is laid right side up by any of its edges. */
export function uncoveredPieces(
  block: { sections: readonly { id: string; outline: readonly P[]; pieces: readonly Sewn[] }[] },
  patches: readonly LaidPatch[],
  allowance: number,
): string[] {
  const missed: string[] = [];
  for (const s of block.sections)
    for (const p of s.pieces) {
      const patch = patches.find((q) => q.section === s.id && q.piece === p.number);
      const name = `${s.id}${p.number}`;
      if (!patch) {
        missed.push(name);
        continue;
      }
      const points = neededPoints(p, s, allowance);
      const n = p.outline.length;
      const inside: P = [p.outline.reduce((t, q) => t + q[0], 0) / n, p.outline.reduce((t, q) => t + q[1], 0) / n];
      const holds = (seam: readonly [P, P]): boolean =>
        layings.every((l) => covers(points, seam, inside, patch.width, patch.length, allowance, l));
      const askew = patch.along === 'turned';
      if (askew) {
        if (!coversAskew(points, patch)) missed.push(name);
      } else if (
        p.seam ? !holds(p.seam) : !p.outline.some((a, i) => flatCovers(points, [a, p.outline[(i + 1) % n]!], patch))
      )
        missed.push(name);
    }
  return missed;
}

/** Piece 1: a rectangle with a side in the direction of an edge, about the middle of what it must cover, off and turned. */
function flatCovers(points: readonly P[], edge: readonly [P, P], patch: { width: number; length: number }): boolean {
  const u = unit(sub(edge[1], edge[0]));
  const flat = points.map((q): P => [dot(q, u), dot(q, [-u[1], u[0]])]);
  const middle = (k: 0 | 1): number => (Math.min(...flat.map((q) => q[k])) + Math.max(...flat.map((q) => q[k]))) / 2;
  const c: P = [middle(0), middle(1)];
  return [
    [patch.length, patch.width],
    [patch.width, patch.length],
  ].some(([l, w]) =>
    layings.every(({ off, turned }) => {
      const r = (turned * Math.PI) / 180;
      return flat.every((q) => {
        const d = sub(sub(q, c), off);
        const x = d[0] * Math.cos(r) + d[1] * Math.sin(r);
        const y = d[1] * Math.cos(r) - d[0] * Math.sin(r);
        return Math.abs(x) <= l! / 2 + 1e-6 && Math.abs(y) <= w! / 2 + 1e-6;
      });
    }),
  );
}
