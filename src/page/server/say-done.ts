// A change by hand in the few words that the way back has room for.
import type { Block } from '../../block.ts';
import type { Change } from '../api.ts';

const MOST_NAMED = 3;

export function sayDone(change: Change, { fabrics }: Pick<Block, 'fabrics'>): string {
  const called = (fabric: string): string => fabrics.find((f) => f.id === fabric || f.code === fabric)?.name ?? fabric;
  switch (change.kind) {
    case 'fabric': {
      const { pieces, fabric } = change;
      const named = pieces.length > MOST_NAMED ? `${pieces.length} pieces` : pieces.join(', ');
      return `${named} in ${called(fabric)}`;
    }
    case 'paint':
      return `${change.pieces.length > MOST_NAMED ? `${change.pieces.length} pieces` : change.pieces.join(', ')} in ${change.name}`;
    case 'merge':
      return `${change.first} and ${change.second} made one piece`;
    case 'divide':
      return `${change.piece} divided`;
    case 'move':
    case 'shift':
      return `${sayTarget(change.seam)} moved`;
    case 'swing':
      return `${sayTarget(change.seam)} swung`;
    case 'unite':
      return `sections ${change.first} and ${change.second} on one paper`;
    case 'part':
      return `section ${change.section} parted`;
    case 'rename':
      return `${called(change.fabric)} called ${change.name}`;
    case 'colour':
      return `${called(change.fabric)} in another colour`;
    case 'cloth':
      return `${called(change.fabric)} in your cloth`;
  }
}

const sayTarget = (seam: string): string => (/^\d+$/.test(seam) ? `join ${seam}` : `the seam of ${seam}`);
