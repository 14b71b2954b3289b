// What is said of the narrow pieces of a drawn design.
import type { Partition } from '../data.ts';
import { narrowestWidth } from '../geometry/polygon.ts';
import { REFUSED_WIDTH, WARNED_WIDTH } from '../levels.ts';

/** What a hand-drawn design may ask for and a fitted one never does. */
export function narrowNotes(partition: Partition): string[] {
  const widths = partition.pieces.map((p) => narrowestWidth(p.outline));
  const under = (limit: number): number => widths.filter((w) => w < limit - 1e-6).length;
  const count = (n: number): string => (n === 1 ? '1 piece is' : `${n} pieces are`);
  if (under(REFUSED_WIDTH))
    return [
      `${count(under(REFUSED_WIDTH))} narrower than 1/4 in (6.4 mm) at this size and can hardly be sewn: make the block larger, or take lines away.`,
    ];
  if (under(WARNED_WIDTH))
    return [`${count(under(WARNED_WIDTH))} narrower than 3/8 in (1 cm) at this size: take small stitches there.`];
  return [];
}
