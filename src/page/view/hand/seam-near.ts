// The seam under a hand, and where a hand leads it: moved along by its middle, swung about its far end by an end, and drawn to the
// corners of its neighbours when it comes near them.
import type { Block } from '../../../block.ts';
import { distance, type Point } from '../../../geometry/polygon.ts';
import { type MovableSeam, seamOf } from './seam-of.ts';

export type Grip = 'middle' | 'start' | 'end';

export interface SeamHold {
  readonly seam: MovableSeam;
  readonly grip: Grip;
}

/** Where a seam has been led to: as `move` and `swing` have it. */
export interface SeamLed {
  readonly by: number;
  readonly degrees: number;
}

/** share of a seam at each end that is taken for the end */
const END = 0.22;

const known = new WeakMap<Block, { readonly seams: readonly MovableSeam[]; readonly corners: readonly Point[] }>();

function seamsOf(block: Block) {
  const old = known.get(block);
  if (old) return old;
  const names = [
    ...block.sections.flatMap((s) => s.pieces.filter((p) => p.seam).map((p) => `${s.id}${p.number}`)),
    ...block.joins.map((j) => String(j.number)),
  ];
  const corners = new Map<string, Point>();
  for (const s of block.sections) for (const p of s.pieces) for (const q of p.outline) corners.set(q.join(), q);
  const found = {
    seams: names.map((n) => seamOf(block, n)).filter((s) => s !== undefined),
    corners: [...corners.values()],
  };
  known.set(block, found);
  return found;
}

/** How far along a seam (0..1) and how far from it (mm) a place is. */
function besideSeam({ seam: [a, b], along }: MovableSeam, at: Point): readonly [number, number] {
  const length = distance(a, b);
  const t = ((at[0] - a[0]) * along[0] + (at[1] - a[1]) * along[1]) / length;
  const held = Math.max(0, Math.min(1, t));
  const foot: Point = [a[0] + along[0] * length * held, a[1] + along[1] * length * held];
  return [held, distance(foot, at)];
}

/** The seam nearest to a place, if it is within reach (mm). */
export function seamNear(block: Block, at: Point, reach: number): SeamHold | undefined {
  let best: SeamHold | undefined;
  let least = reach;
  for (const seam of seamsOf(block).seams) {
    const [share, away] = besideSeam(seam, at);
    if (away >= least) continue;
    least = away;
    best = { seam, grip: share < END ? 'start' : share > 1 - END ? 'end' : 'middle' };
  }
  return best;
}

/** Where a hand leads a seam that took it at `from` and is at `to` now. */
export function led(block: Block, { seam, grip }: SeamHold, from: Point, to: Point, reach: number): SeamLed {
  const [a, b] = seam.seam;
  const { corners } = seamsOf(block);
  if (grip === 'middle') {
    const off = (p: Point, o: Point): number => (p[0] - o[0]) * seam.outward[0] + (p[1] - o[1]) * seam.outward[1];
    const by = off(to, from);
    const moved = (p: Point): Point => [p[0] + seam.outward[0] * by, p[1] + seam.outward[1] * by];
    const ends = [moved(a), moved(b)];
    const near = corners
      .filter((c) => Math.abs(off(c, a)) > 0.05 && ends.some((e) => distance(e, c) < 2 * reach))
      .map((c) => off(c, a))
      .sort((p, q) => Math.abs(p - by) - Math.abs(q - by))[0];
    return { by: near !== undefined && Math.abs(near - by) < reach ? near : by, degrees: 0 };
  }
  const [still, own] = grip === 'end' ? [a, b] : [b, a];
  const wished: Point = [own[0] + to[0] - from[0], own[1] + to[1] - from[1]];
  const corner = corners
    .filter((c) => distance(c, own) > 0.05 && distance(c, still) > reach)
    .sort((p, q) => distance(p, wished) - distance(q, wished))[0];
  const end = corner && distance(corner, wished) < reach ? corner : wished;
  const way: Point = grip === 'end' ? [end[0] - still[0], end[1] - still[1]] : [still[0] - end[0], still[1] - end[1]];
  const angle = (v: Point): number => (Math.atan2(v[1], v[0]) * 180) / Math.PI;
  const turned = angle(way) - angle(seam.along);
  const degrees = turned > 180 ? turned - 360 : turned < -180 ? turned + 360 : turned;
  const cross = (p: Point, q: Point): number => p[0] * q[1] - p[1] * q[0];
  const across = cross(seam.outward, way);
  const middle: Point = [still[0] - seam.middle[0], still[1] - seam.middle[1]];
  return { by: Math.abs(across) < 1e-6 ? 0 : cross(middle, way) / across, degrees };
}

/** Whether a place is inside a loop. */
export function isInside(loop: readonly Point[], [x, y]: Point): boolean {
  let inside = false;
  loop.forEach((a, i) => {
    const b = loop[(i + 1) % loop.length]!;
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  });
  return inside;
}
