// The colour of the one ground behind an animal: apart in lightness from every fabric along the outline, light or middle before dark.
import { lightness } from '../colour/difference.ts';
import { hexOfOklab, type Lab } from '../colour/oklab.ts';
import { OUTLINE_GAP } from './outline-gap.ts';

/** Cells inside the outline at which the fabrics along it are read. */
const INSIDE = 2;

/** How much of the outline's inner side each label has, 0..1. The block's own edge is no outline. */
export function alongOutline(labels: Uint8Array, mask: Uint8Array, w: number, h: number, k: number): number[] {
  const shares = new Array<number>(k).fill(0);
  let n = 0;
  const look = (i: number, step: number, inner: boolean): void => {
    if (!inner || !mask[i] || mask[i + step]) return;
    const j = i - INSIDE * step;
    if (j < 0 || j >= w * h || !mask[j]) return;
    shares[labels[j]!]!++;
    n++;
  };
  for (let i = 0; i < w * h; i++) {
    const x = i % w;
    const y = (i - x) / w;
    look(i, 1, x + 1 < w && x >= INSIDE);
    look(i, -1, x >= 1 && x + INSIDE < w);
    look(i, w, y + 1 < h && y >= INSIDE);
    look(i, -w, y >= 1 && y + INSIDE < h);
  }
  return shares.map((v) => v / Math.max(1, n));
}

/** Lightness that a ground is wished to have at least and at most, L*; and what being outside them costs, as a share of the outline. */
const WISHED = [50, 92] as const;
const DARK_COSTS = 0.005;
/** What leaving the picture's own lightness costs a step of L*, and how much of the hue is kept. */
const LEAVING = 0.0006;
const HUE_KEPT = 0.75;
const MOST_CHROMA = 0.09;

export interface GroundChosen {
  readonly colour: Lab;
  /** share of the outline along which the L* gap is OUTLINE_GAP or more */
  readonly shows: number;
}

/** `own` is the picture's own ground; `along` the fabrics along the outline with their shares of it. */
export function groundFor(own: Lab, along: readonly { readonly colour: Lab; readonly share: number }[]): GroundChosen {
  const levels = along.map(({ colour, share }) => ({ level: lightness(hexOfOklab(colour)), share }));
  const chroma = Math.hypot(own[1], own[2]);
  const k = Math.min(HUE_KEPT, MOST_CHROMA / Math.max(1e-6, chroma));
  const level0 = lightness(hexOfOklab(own));
  let best: (GroundChosen & { worth: number }) | undefined;
  for (let L = 0.16; L <= 0.975; L += 0.01) {
    const fade = L > 0.9 ? 0.4 : 1;
    const colour: Lab = [L, own[1] * k * fade, own[2] * k * fade];
    const level = lightness(hexOfOklab(colour));
    let [shows, gap] = [0, 0];
    for (const f of levels) {
      const apart = Math.abs(f.level - level);
      if (apart >= OUTLINE_GAP) shows += f.share;
      gap += f.share * Math.min(1, apart / 35);
    }
    const outside = Math.max(0, WISHED[0] - level, level - WISHED[1]);
    // past 95 % more of the outline is worth no worse a ground
    const worth = Math.min(0.97, shows) + 0.15 * gap - DARK_COSTS * outside - LEAVING * Math.abs(level - level0);
    if (!best || worth > best.worth + 1e-9) best = { colour, shows, worth };
  }
  return { colour: best!.colour, shows: best!.shows };
}
