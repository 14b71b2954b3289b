// Chooses the colour of the one fabric that takes the background's place, so that the subject's outline shows on it.
import { lightness } from '../colour/difference.ts';
import { hexOfOklab, type Lab } from '../colour/oklab.ts';
import { OUTLINE_GAP } from './outline-gap.ts';

const GAP = OUTLINE_GAP;

export interface GroundColour {
  readonly colour: Lab;
  /** least L* gap to a fabric along the outline */
  readonly gap: number;
  /** whether it had to leave the picture's own background colour */
  readonly moved: boolean;
}

/** `along` are the fabrics at the outline with their share of it; those under a tenth of it do not decide. */
export function chooseGround(own: Lab, along: readonly { colour: Lab; share: number }[]): GroundColour {
  const levels = along.filter((a) => a.share >= 0.1).map((a) => lightness(hexOfOklab(a.colour)));
  const gapOf = (c: Lab): number => {
    const L = lightness(hexOfOklab(c));
    return levels.reduce((t, l) => Math.min(t, Math.abs(l - L)), 100);
  };
  const first = gapOf(own);
  if (first >= GAP) return { colour: own, gap: first, moved: false };
  // the same hue, calmer, at every lightness: the nearest that is far enough, else the farthest from the outline
  let best: GroundColour = { colour: own, gap: first, moved: false };
  let nearest = Infinity;
  for (let L = 0.2; L <= 0.98; L += 0.02) {
    const colour: Lab = [L, 0.6 * own[1], 0.6 * own[2]];
    const gap = gapOf(colour);
    const far = Math.abs(L - own[0]);
    if (gap >= GAP ? far < nearest : nearest === Infinity && gap > best.gap) {
      best = { colour, gap, moved: true };
      if (gap >= GAP) nearest = far;
    }
  }
  return best;
}
