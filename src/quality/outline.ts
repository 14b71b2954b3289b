// Takes the posterised picture and the block's pieces; judges how well the animal's silhouette is kept.
import type { Shading } from '../data.ts';
import { pieceOfCells } from '../geometry/cells.ts';
import { findSilhouette } from '../geometry/silhouette.ts';
import type { RuleFound } from './rule.ts';
import type { FlatPiece } from './seams.ts';

/** least overlap of the two silhouettes (their common area over that of both together), at so many pieces; even between */
const FEW = { pieces: 40, overlap: 0.92 };
const MANY = { pieces: 80, overlap: 0.95 };

/** What of the animal shows the ground's fabric, and what of the ground does not. Inside the animal a patch of the ground's own colour
 *  may be that of the ground. No rule where the animal does not stand on one ground. Ear tips are not looked at by themselves. */
export function judgeOutline(
  { labels, width, height }: Shading,
  size: readonly [number, number],
  pieces: readonly FlatPiece[],
): RuleFound[] {
  const subject = findSilhouette(labels, width, height);
  if (!subject) return [];
  const ground = labels[subject.indexOf(0)]!;
  const outlines = pieces.map((p) => p.outline);
  let [both, either] = [0, 0];
  pieceOfCells(outlines, width, height, size).forEach((piece, i) => {
    const asGround = pieces[piece]?.fabric === ground;
    const shown = subject[i] === 1 ? !asGround || labels[i] === ground : !asGround;
    if (subject[i] === 1 && shown) both++;
    if (subject[i] === 1 || shown) either++;
  });
  const overlap = both / either;
  const share = Math.max(0, Math.min(1, (pieces.length - FEW.pieces) / (MANY.pieces - FEW.pieces)));
  const wanted = FEW.overlap + share * (MANY.overlap - FEW.overlap);
  return [{ rule: 1, name: 'outline', holds: overlap >= wanted, figures: { overlap, wanted } }];
}
