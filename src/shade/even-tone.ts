// Draws the tones of black or white fur apart, so that it gets shades of its own. Takes cells and the subject's mask; gives
// cells whose fur has the range that cloth needs, by one tone curve that keeps the order of light and dark.
import { lightness } from '../colour/difference.ts';
import { hexOfOklab } from '../colour/oklab.ts';
import { blurChannels, type Cells } from './cells.ts';

/** Whether tones are drawn apart. */
export type Tone = 'even' | 'keep';

export interface ToneDrawn {
  readonly part: 'dark' | 'light';
  /** share of the subject */
  readonly share: number;
  /** CIE L* of the part's darkest and lightest tenth, before and after */
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

/** OKLab lightness under which fur is black and over which it is white (CIE L* 33 and 76). */
const BLACK = 0.42;
const WHITE = 0.79;
/** Share of the subject that black or white fur has, to be worth shades of its own: less than that is a blaze or a sock. */
const LARGE = 0.4;
/** OKLab lightness from the darkest tenth to the lightest that three shades of cloth need to be told apart (some 25 L*). */
const WANTED = 0.25;
/** Most that a step of tone is lengthened: more would show noise as form. */
const MOST = 2.5;
/** Cells of blur at which tone is read: the form of the body, not its hairs. */
const FORM = 2;
/** Lightness that is left as it is: nothing is made blacker or whiter than cloth is. */
const LOW = 0.16;
const HIGH = 0.97;

/** Each lightness in [0, 1] at 256 steps, after the part's tones [a, b] were laid on [to[0], to[1]]. */
function curveFor(a: number, b: number, to: readonly [number, number]): (L: number) => number {
  const knots: [number, number][] = [
    [0, Math.min(0, to[0])],
    [a, to[0]],
    [b, to[1]],
    [1, Math.max(1, to[1])],
  ];
  return (L) => {
    const at = L < a ? 0 : L < b ? 1 : 2;
    const [p, q] = [knots[at]!, knots[at + 1]!];
    return p[1] + ((q[1] - p[1]) * (L - p[0])) / Math.max(1e-6, q[0] - p[0]);
  };
}

const star = (L: number): number => Math.round(lightness(hexOfOklab([L, 0, 0])));

/** What is to be drawn apart in the subject; nothing where black and white fur have their tones already, or there is none. */
export function planTone(
  { width: w, height: h, lab }: Cells,
  mask: Uint8Array,
): { drawn: ToneDrawn[]; curve: (L: number) => number } {
  const seen = blurChannels(lab, w, h, 3, FORM);
  const own: number[] = [];
  for (let i = 0; i < w * h; i++) if (mask[i]) own.push(seen[3 * i]!);
  own.sort((p, q) => p - q);
  const drawn: ToneDrawn[] = [];
  let curve = (L: number): number => L;
  for (const part of ['dark', 'light'] as const) {
    const few = own.filter((L) => (part === 'dark' ? L < BLACK : L > WHITE));
    const share = few.length / Math.max(1, own.length);
    if (share < LARGE) continue;
    const at = (q: number): number => few[Math.floor(q * (few.length - 1))]!;
    const [a, b] = [at(0.1), at(0.9)];
    if (b - a >= WANTED) continue;
    const range = Math.min(WANTED, MOST * (b - a));
    const to: [number, number] =
      part === 'dark' ? [Math.max(LOW, a), Math.max(LOW, a) + range] : [Math.min(HIGH, b) - range, Math.min(HIGH, b)];
    const [before, more] = [curve, curveFor(a, b, to)];
    curve = (L) => more(before(L));
    drawn.push({ part, share, from: [star(a), star(b)], to: [star(to[0]), star(to[1])] });
  }
  return { drawn, curve };
}

/** The cells with the subject's tones after `curve`: each is shifted as the form around it is, so that noise does not grow. */
export function evenTone(cells: Cells, mask: Uint8Array, curve: (L: number) => number): Cells {
  const { width: w, height: h } = cells;
  const seen = blurChannels(cells.lab, w, h, 3, FORM);
  const lab = Float32Array.from(cells.lab);
  for (let i = 0; i < w * h; i++) {
    if (!mask[i]) continue;
    const L = seen[3 * i]!;
    lab[3 * i] = Math.max(0, Math.min(1, lab[3 * i]! + curve(L) - L));
  }
  return { ...cells, lab };
}
