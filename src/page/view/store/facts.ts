// What is said of a piece: worked out from the block alone, once for each block.
import type { Block } from '../../../block.ts';
import { centroid, distance, narrowestWidth, type Point } from '../../../geometry/polygon.ts';
import { formatLength, type System } from '../../../units.ts';

export type BlockFabric = Block['fabrics'][number];
export type BlockSection = Block['sections'][number];
export type BlockPiece = BlockSection['pieces'][number];

export interface PieceFacts {
  readonly name: string;
  readonly section: BlockSection;
  readonly piece: BlockPiece;
  readonly fabric: BlockFabric;
  /** narrowest width, mm */
  readonly width: number;
  /** length of its seam, mm; absent for a first piece */
  readonly seam?: number;
  readonly middle: Point;
}

const known = new WeakMap<Block, readonly PieceFacts[]>();

export function factsOf(block: Block): readonly PieceFacts[] {
  const old = known.get(block);
  if (old) return old;
  const fabrics = new Map(block.fabrics.map((f) => [f.id, f]));
  const facts = block.sections.flatMap((section) =>
    section.pieces.map(
      (piece): PieceFacts => ({
        name: `${section.id}${piece.number}`,
        section,
        piece,
        fabric: fabrics.get(piece.fabric)!,
        width: narrowestWidth(piece.outline),
        ...(piece.seam && { seam: distance(piece.seam[0], piece.seam[1]) }),
        middle: centroid(piece.outline),
      }),
    ),
  );
  known.set(block, facts);
  return facts;
}

const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth'];
export const ordinal = (n: number): string => ORDINALS[n - 1] ?? `as number ${n}`;

/** "B3, charcoal, 1 1/8 in wide, sewn third of section B" */
export function sayPiece(f: PieceFacts, units: System): string {
  const turn =
    f.section.pieces.length === 1
      ? `the only piece of section ${f.section.id}`
      : `sewn ${ordinal(f.piece.number)} of section ${f.section.id}`;
  return `${f.name}, ${f.fabric.name}, ${formatLength(f.width, units)} wide, ${turn}`;
}

/** The next piece as seen from one, in a direction of the arrow keys; undefined where there is none. */
export function neighbourTowards(
  facts: readonly PieceFacts[],
  from: PieceFacts,
  dx: number,
  dy: number,
): PieceFacts | undefined {
  let best: PieceFacts | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const f of facts) {
    if (f === from) continue;
    const [x, y] = [f.middle[0] - from.middle[0], f.middle[1] - from.middle[1]];
    const along = x * dx + y * dy;
    const aside = Math.abs(x * dy - y * dx);
    // what lies more to the side than ahead belongs to another arrow
    if (along <= 0.01 || aside > along * 1.2) continue;
    const cost = along + 2 * aside;
    if (cost < least) [best, least] = [f, cost];
  }
  return best;
}
