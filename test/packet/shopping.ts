// A cutting list for tests of pages: plausible figures, one patch a piece.
import type { Block } from '../../src/block.ts';
import type { Shopping } from '../../src/data.ts';

export function plainShopping(block: Block): Shopping {
  return {
    patches: block.sections.flatMap((s) =>
      s.pieces.map((p) => ({
        block: block.name,
        section: s.id,
        piece: p.number,
        fabric: p.fabric,
        width: 63.5,
        length: 101.6,
      })),
    ),
    fabrics: block.fabrics.map((f) => ({
      id: f.id,
      strips: [
        {
          width: 63.5,
          length: 812.8,
          patches: block.sections.flatMap((s) =>
            s.pieces.filter((p) => p.fabric === f.id).map((p) => `${s.id}${p.number}`),
          ),
        },
      ],
      yards: 0.25,
      metres: 0.25,
      bound: 100,
      buy: '1 fat quarter',
    })),
  };
}
