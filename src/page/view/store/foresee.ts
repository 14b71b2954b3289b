// What a change by hand will make of a block, worked out here by the same rules, so that it is drawn in the next frame. The server's
// answer takes its place.
import type { Block } from '../../../block.ts';
import { UserError } from '../../../problems/problem.ts';
import { changeFabric, renameFabric } from '../../../section/change-block.ts';
import { moveSeam } from '../../../section/move-seam.ts';
import { paintPieces } from '../../../section/new-fabric.ts';
import type { Change, HandLimits, Work } from '../../api.ts';

/** The block after a change; undefined for what only the server works out. Throws UserError where it cannot be. */
export function afterChange(block: Block, c: Change, limits: HandLimits): Block | undefined {
  switch (c.kind) {
    case 'fabric':
      return changeFabric(block, c.pieces, c.fabric);
    case 'paint':
      return paintPieces(block, c.pieces, c);
    case 'rename':
      return renameFabric(block, c.fabric, { name: c.name });
    case 'colour':
      return renameFabric(block, c.fabric, { colour: c.colour });
    case 'move':
      return moveSeam(block, c.seam, { by: c.by, turn: 0 }, limits);
    case 'swing':
      return moveSeam(block, c.seam, { by: 0, turn: c.degrees }, limits);
    case 'shift':
      return moveSeam(block, c.seam, { by: c.by, turn: c.degrees }, limits);
    default:
      return undefined;
  }
}

/** A work with changes that are on their way to the server. What cannot be is left to the server to refuse. */
export function foreseen(work: Work, pending: readonly Change[]): Work {
  const { block, limits } = work;
  if (!block || !limits || !pending.length) return work;
  const after = pending.reduce((b, c) => {
    try {
      return afterChange(b, c, limits) ?? b;
    } catch (e) {
      if (e instanceof UserError) return b;
      throw e;
    }
  }, block);
  return after === block ? work : { ...work, block: after };
}
