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
  const levels = along
    .filter((a) => a.share >= 0.1)
    .map((a) => ({ level: lightness(hexOfOklab(a.colour)), share: a.share }));
  const look = (c: Lab): { gap: number; weak: number } => {
    const L = lightness(hexOfOklab(c));
    const gaps = levels.map(({ level, share }) => ({ gap: Math.abs(level - L), share }));
    return {
      gap: gaps.reduce((t, { gap }) => Math.min(t, gap), 100),
      weak: gaps.reduce((t, { gap, share }) => t + share * Math.max(0, 1 - gap / GAP), 0),
    };
  };
  const first = look(own);
  if (first.gap >= GAP) return { colour: own, gap: first.gap, moved: false };
  // the same hue, calmer, at every lightness: the nearest that is far enough, else the one on which least of the outline goes
  let best: GroundColour = { colour: own, gap: first.gap, moved: false };
  let least = first.weak;
  let nearest = Infinity;
  for (let L = 0.2; L <= 0.98; L += 0.02) {
    const colour: Lab = [L, 0.6 * own[1], 0.6 * own[2]];
    const { gap, weak } = look(colour);
    const far = Math.abs(L - own[0]);
    // one that is hardly better is not worth leaving the picture's own for
    if (gap >= GAP ? far < nearest : nearest === Infinity && weak < least - 0.03) {
      best = { colour, gap, moved: true };
      least = weak;
      if (gap >= GAP) nearest = far;
    }
  }
  return best;
}
