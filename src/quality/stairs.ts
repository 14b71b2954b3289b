// Takes pieces and their shared edges; counts stairs: one straight edge of the picture sewn as three or more short seams.
import { distance, offLine, type Point } from '../geometry/polygon.ts';
import type { FlatPiece, SharedEdge } from './seams.ts';

/** mm in a 12 in block */
const SHORT = 19.05;
/** ends nearer than this are one place, mm */
const SAME = 0.1;

/** @param straight mm that the corners of one straight edge may lie off it: about one cell of the picture */
export function countStairs(
  pieces: readonly FlatPiece[],
  edges: readonly SharedEdge[],
  scale: number,
  straight: number,
): number {
  const short = edges.filter((e) => {
    const [p, q] = e.pieces;
    return pieces[p]!.fabric !== pieces[q]!.fabric && e.length < SHORT * scale;
  });
  const fabrics = (e: SharedEdge): string =>
    e.pieces
      .map((i) => pieces[i]!.fabric)
      .sort()
      .join();
  const near = (a: Point, b: Point): boolean => distance(a, b) < SAME;
  const used = new Set<SharedEdge>();
  let stairs = 0;
  for (const start of short) {
    if (used.has(start)) continue;
    // the chain of short borders of the same two fabrics through this one, as far as it stays straight
    const chain: SharedEdge[] = [start];
    let path: Point[] = [...start.ends];
    for (let grown = true; grown; ) {
      grown = false;
      for (const e of short) {
        if (chain.includes(e) || fabrics(e) !== fabrics(start)) continue;
        const [a, b] = e.ends;
        const last = path.at(-1)!;
        const next = near(a, last)
          ? [...path, b]
          : near(b, last)
            ? [...path, a]
            : near(a, path[0]!)
              ? [b, ...path]
              : near(b, path[0]!)
                ? [a, ...path]
                : undefined;
        if (!next) continue;
        const [from, to] = [next[0]!, next.at(-1)!];
        if (near(from, to) || next.some((q) => Math.abs(offLine(from, to, q)) > straight)) continue;
        chain.push(e);
        path = next;
        grown = true;
      }
    }
    const [from, to] = [path[0]!, path.at(-1)!];
    // one seam that several pieces lie along is no stairs
    const bent = path.some((q) => Math.abs(offLine(from, to, q)) > SAME);
    if (chain.length >= 3 && bent) {
      stairs++;
      for (const e of chain) used.add(e);
    }
  }
  return stairs;
}
