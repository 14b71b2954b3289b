// Whether a piece is still the one that it was, in the block that took the place of another.
import type { Block } from '../../../block.ts';
import { factsOf } from './facts.ts';

/** mm: a seam that is moved a little leaves its piece what it is; another fit gives other pieces */
const MOVED = 8;

/** By its name: there, and where it was. */
export function samePieces(before: Block | undefined, after: Block | undefined): (name: string) => boolean {
  if (!before || !after) return () => false;
  if (before === after) return () => true;
  const [old, now] = [before, after].map((b) => new Map(factsOf(b).map((f) => [f.name, f.middle]))) as [
    Map<string, readonly [number, number]>,
    Map<string, readonly [number, number]>,
  ];
  // where most pieces are others, one that happens to be alike is another too
  const kept = [...now].filter(([name, at]) => near(old.get(name), at)).length;
  if (2 * kept < now.size) return () => false;
  return (name) => {
    const at = now.get(name);
    return at !== undefined && near(old.get(name), at);
  };
}

const near = (a: readonly [number, number] | undefined, b: readonly [number, number]): boolean =>
  a !== undefined && Math.hypot(a[0] - b[0], a[1] - b[1]) < MOVED;
