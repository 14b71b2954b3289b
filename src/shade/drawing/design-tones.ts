// Takes a drawing that is a web of strokes (engravings, woodcuts) and the figure's mask; gives the figure's tones, seen from where the strokes
// run together, as a few large masses on one ground.
import { type Lab, oklabOfHex } from '../../colour/oklab.ts';
import { averagePixels, blurChannels, type Cells } from '../cells.ts';
import { calmLabels, cheapestLabels, costsOf, dropThin, mergeSpecks } from '../label-cells.ts';
import type { Shaded, ShadeSettings } from '../shaded.ts';
import { paletteOf, type RoleColours, standApart } from './choose-tones.ts';
import { type Drawn, halve } from './read-drawing.ts';

/** Cells of blur, as a share of the narrowest piece: what lies nearer together than a piece is wide is one tone. */
const BLUR = 0.3;
/** Tones of darkness that are nearer than this are one. */
const APART = 0.1;
/** Darkness that a cell's length of border costs. */
const CALM = 0.18;
const MOST = 3;
/** Mean darkness from which a tone is ink. */
const INK = 0.6;

export function designTones(
  drawn: Drawn,
  figure: Uint8Array,
  w: number,
  h: number,
  settings: ShadeSettings,
  given: RoleColours = {},
): Shaded {
  const { narrow, shades, most = MOST + 1 } = settings;
  const mask = halve(figure, w, h, 2);
  const dark = darkness(drawn, mask, w, h, BLUR * narrow);
  const levels = splitLevels(dark, mask, Math.max(1, Math.min(MOST, (shades === 'auto' ? most : shades) - 1)));
  const base = paletteOf(drawn.paper, drawn.pen);
  const named = (role: 'ground' | 'belly' | 'body' | 'back' | 'ink'): Lab =>
    given[role] ? oklabOfHex(given[role]) : base[role];
  const roles = rolesOfLevels(levels);
  const ground = named('ground');
  const colours: Lab[] = [ground];
  for (const role of roles) colours.push(standApart(named(role), ground, colours.slice(1)));
  const k = colours.length;
  const labels = new Uint8Array(w * h);
  // among the tones by darkness; the ground is settled
  const steps = new Float32Array(w * h * (k - 1));
  for (let i = 0; i < w * h; i++)
    for (let l = 1; l < k; l++) steps[i * (k - 1) + l - 1] = mask[i] ? Math.abs(dark[i]! - levels[l - 1]!) : 0;
  const tones = cheapestLabels(steps, k - 1);
  calmLabels(tones, steps, w, h, k - 1, CALM);
  for (let i = 0; i < w * h; i++) labels[i] = mask[i] ? 1 + tones[i]! : 0;
  const lab = new Float32Array(3 * w * h);
  labels.forEach((l, i) => {
    lab.set(colours[l]!, 3 * i);
  });
  const cells: Cells = { width: w, height: h, lab };
  const costs = costsOf(cells, colours);
  // what is too small goes to a tone of the figure, never to the ground
  for (let i = 0; i < w * h; i++) if (mask[i]) costs[i * k]! += 1;
  dropThin(labels, costs, w, h, k, Math.max(2, 0.45 * narrow));
  mergeSpecks(labels, costs, w, h, k, { least: narrow ** 2, wanted: 0 });
  return {
    ...{ labels, colours, costs, cells },
    notes: ['The strokes are so close that they were taken for tones.'],
  };
}

/** One tone is the body; of several the palest is the belly and the darkest the back, or ink where it is nearly black. */
function rolesOfLevels(levels: readonly number[]): ('belly' | 'body' | 'back' | 'ink')[] {
  const darkest = levels.at(-1)! >= INK ? 'ink' : 'back';
  if (levels.length < 2) return ['body'];
  return levels.length === 2 ? ['belly', darkest] : ['belly', 'body', darkest];
}

/** Mean darkness of each cell, blurred within the figure. */
function darkness(drawn: Drawn, mask: Uint8Array, w: number, h: number, sigma: number): Float32Array {
  const { dark, picture } = drawn;
  const bytes = new Uint8Array(3 * dark.length);
  for (let i = 0; i < dark.length; i++) bytes[3 * i] = Math.round(255 * dark[i]!);
  const mean = averagePixels(bytes, picture.width, picture.height, w, h);
  const both = new Float32Array(2 * w * h);
  for (let i = 0; i < w * h; i++)
    if (mask[i]) {
      both[2 * i] = mean[3 * i]! / 255;
      both[2 * i + 1] = 1;
    }
  const blurred = blurChannels(both, w, h, 2, sigma);
  const out = new Float32Array(w * h);
  for (let i = 0; i < w * h; i++) if (mask[i]) out[i] = blurred[2 * i]! / Math.max(1e-6, blurred[2 * i + 1]!);
  return out;
}

/** Middles of at most `most` groups of darkness, light to dark (k-means on one line, from evenly spread quantiles). */
function splitLevels(dark: Float32Array, mask: Uint8Array, most: number): number[] {
  const values = dark.filter((_, i) => mask[i]).sort();
  for (let k = most; k > 1; k--) {
    let middles = Array.from({ length: k }, (_, q) => values[Math.floor(((q + 0.5) / k) * values.length)]!);
    for (let round = 0; round < 20; round++) {
      const sums = middles.map(() => [0, 0]);
      for (const v of values) {
        let best = 0;
        for (let q = 1; q < k; q++) if (Math.abs(v - middles[q]!) < Math.abs(v - middles[best]!)) best = q;
        sums[best]![0]! += v;
        sums[best]![1]!++;
      }
      middles = sums.map(([t, n], q) => (n ? t! / n : middles[q]!));
    }
    if (middles.every((m, q) => q === 0 || m - middles[q - 1]! >= APART)) return middles;
  }
  return [values[values.length >> 1] ?? 0];
}
