// One background for all blocks of a class, with fabrics of its own for each picture.
import type { Fabric } from '../block.ts';
import { hexOfOklab, oklabOfHex } from '../colour/oklab.ts';
import type { Landmark, Shading } from '../data.ts';

/** The picture with the common background in its own one's place. Own codes carry the block's number, so that no two blocks
 *  call two cloths by one code: "7fa". */
export function onOwnGround(shading: Shading, ground: number, common: Fabric, number: number): Shading {
  const own = shading.fabrics.map((fabric, label) => ({ fabric, label })).filter(({ label }) => label !== ground);
  // the background is the first of the list, the others keep their order
  const to = new Map([[ground, 0], ...own.map(({ label }, i) => [label, i + 1] as const)]);
  const landmark = (m: Landmark): Landmark => ({ ...m, fabric: to.get(m.fabric)! });
  return {
    ...shading,
    labels: shading.labels.map((l) => to.get(l)!),
    fabrics: [
      common,
      ...own.map(({ fabric }, i) => ({
        ...fabric,
        id: `b${number}${fabric.id}`,
        code: `${number}${fabric.code}`,
        hatch: i + 1,
      })),
    ],
    grown: shading.grown.map(landmark),
    lost: shading.lost.map(landmark),
    ...(shading.features && { features: shading.features.map((f) => ({ ...f, fabric: to.get(f.fabric)! })) }),
  };
}

/** The background that serves all: the colour asked for, or the middle one of the pictures' own. */
export function commonGround(colours: readonly string[], asked?: string): Fabric {
  const labs = colours.map(oklabOfHex);
  const middle = (k: 0 | 1 | 2): number => labs.map((c) => c[k]).sort((a, b) => a - b)[Math.floor(labs.length / 2)]!;
  const colour = asked?.toLowerCase() ?? hexOfOklab([middle(0), middle(1), middle(2)]);
  return { id: 'ground', code: 'ground', name: 'background', colour, hatch: 0 };
}
