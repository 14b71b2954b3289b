// Does away with shades of which a block would hold too little to be worth a fabric of its own, unless an eye needs it.
import type { Lab } from '../colour/oklab.ts';
import { findRegions } from '../geometry/label-regions.ts';

/** House rule: a fabric with less of the block than this, or in fewer regions than three while small, is merged. */
const LEAST_SHARE = 0.015;

/** Changes `labels` in place; gives how many shades went. Shades that hold a landmark stay. */
export function mergeRareShades(
  labels: Uint8Array,
  colours: readonly Lab[],
  costs: Float32Array,
  w: number,
  h: number,
  hold: Uint8Array,
): number {
  const k = colours.length;
  let gone = 0;
  for (;;) {
    const counts = new Uint32Array(k);
    const held = new Uint8Array(k);
    for (let i = 0; i < w * h; i++) {
      counts[labels[i]!]!++;
      if (hold[i]) held[labels[i]!] = 1;
    }
    const used = colours.map((_, l) => l).filter((l) => counts[l]);
    const rare = used
      .filter((l) => !held[l] && counts[l]! < LEAST_SHARE * w * h)
      .sort((p, q) => counts[p]! - counts[q]!)[0];
    if (rare === undefined || used.length <= 2) return gone;
    const others = used.filter((l) => l !== rare);
    const { list } = findRegions(labels, w, h);
    for (const region of list) {
      if (region.label !== rare) continue;
      const nearest = (i: number): number => others.reduce((b, l) => (costs[i * k + l]! < costs[i * k + b]! ? l : b));
      const votes = new Uint32Array(k);
      for (const i of region.cells) votes[nearest(i)]!++;
      const to = others.reduce((b, l) => (votes[l]! > votes[b]! ? l : b));
      for (const i of region.cells) labels[i] = to;
    }
    gone++;
  }
}
