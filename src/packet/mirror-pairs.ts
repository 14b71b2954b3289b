// Sections that are mirror images of one another, as in a face seen from the front: they are sewn alike, so a sewer wants to know.
import type { Block, Section } from '../block.ts';
import { boundsOf, distance, type Point } from '../geometry/polygon.ts';

/** mm within which mirrored corners must lie on one another */
const SAME = 0.05;

/** id of each such section -> id of its mirror image. */
export function mirrorPairs(block: Block): ReadonlyMap<string, string> {
  const pairs = new Map<string, string>();
  block.sections.forEach((s, i) => {
    if (pairs.has(s.id)) return;
    const other = block.sections.slice(i + 1).find((t) => !pairs.has(t.id) && areMirrored(s, t));
    if (other) pairs.set(s.id, other.id).set(other.id, s.id);
  });
  return pairs;
}

/** Whether the same pieces in the same order stand mirrored about an upright line. */
function areMirrored(s: Section, t: Section): boolean {
  if (s.pieces.length !== t.pieces.length || s.outline.length !== t.outline.length) return false;
  const [a, b] = [boundsOf(s.outline), boundsOf(t.outline)];
  if (Math.abs(a.minY - b.minY) > SAME || Math.abs(a.maxY - b.maxY) > SAME) return false;
  const axis = a.minX + b.maxX;
  const flipped = ([x, y]: Point): Point => [axis - x, y];
  const match = (P: readonly Point[], Q: readonly Point[]): boolean =>
    P.length === Q.length && P.every((p) => Q.some((q) => distance(flipped(p), q) < SAME));
  return match(s.outline, t.outline) && s.pieces.every((p, i) => match(p.outline, t.pieces[i]!.outline));
}
