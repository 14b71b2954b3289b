// Light cloth over dark: an allowance lies under the piece that is added last, and shows through it where that is much lighter.
import type { Block, Section } from '../block.ts';
import { lightness } from '../colour/difference.ts';
import { distance, offLine, type Point } from '../geometry/polygon.ts';
import { fabricsById } from './block-picture.ts';

/** L* by which the piece on top is lighter than what lies under it before it shows (trade rule) */
const SHOWS = 25;
const ON_LINE = 0.02;
/** mm: shorter contacts do not show (house rule) */
const SHORT = 6;

export interface Shadow {
  readonly section: string;
  /** the light piece, on top */
  readonly piece: number;
  /** the dark ones whose allowance lies under it */
  readonly over: readonly number[];
}

/** The seams of a section at which dark allowance lies under a light piece, in sewing order. */
export function findShadows(block: Block, s: Section): Shadow[] {
  const shade = new Map([...fabricsById(block)].map(([id, f]) => [id, lightness(f.colour)]));
  return s.pieces.flatMap((p): Shadow[] => {
    if (!p.seam) return [];
    const [a, b] = p.seam;
    const over = s.pieces
      .filter((o) => o.number < p.number && shade.get(p.fabric)! - shade.get(o.fabric)! > SHOWS)
      .filter((o) => lengthOn(o.outline, a, b) > SHORT)
      .map((o) => o.number);
    return over.length ? [{ section: s.id, piece: p.number, over }] : [];
  });
}

/** mm of a piece's edges that lie on a line. */
function lengthOn(P: readonly Point[], a: Point, b: Point): number {
  return P.reduce((sum, q, i) => {
    const r = P[(i + 1) % P.length]!;
    const on = Math.abs(offLine(a, b, q)) < ON_LINE && Math.abs(offLine(a, b, r)) < ON_LINE;
    return on ? sum + distance(q, r) : sum;
  }, 0);
}

/** "A4 over A2 and A3" */
export function shadowWords({ section, piece, over }: Shadow): string {
  const names = over.map((n) => `${section}${n}`);
  const last = names.pop()!;
  return `${section}${piece} over ${names.length ? `${names.join(', ')} and ${last}` : last}`;
}
