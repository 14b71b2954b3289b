// How large an eye or a nose is, and its colours, where its middle is known: what differs from what lies round it.
import { hexOfOklab, type Lab, labDistance, oklabOfRgb } from '../colour/oklab.ts';
import type { WholePicture } from './look.ts';

export interface PartFound {
  /** middle, width and height in pixels of the upright picture; width along the eyes' line */
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  readonly dark: string;
  /** the light or coloured part of an eye, where it has one */
  readonly iris?: string;
}

/** Share of a part's width and height, from its middle, within which its colours are read. */
const CORE = 0.36;
/** Steps across the patch that is looked at. */
const STEPS = 41;
/** OKLab lightness between pupil and iris from which an iris is to be seen, or its chroma over the pupil's. */
const IRIS = 0.14;
const IRIS_CHROMA = 0.05;

/** The level that parts values best in two (Otsu 1979), over 64 steps. */
function partLevel(values: readonly number[]): number {
  const most = Math.max(1e-6, ...values);
  const bins = new Float64Array(64);
  for (const v of values) bins[Math.min(63, Math.floor((64 * v) / most))]!++;
  const all = values.length;
  const sum = bins.reduce((t, n, i) => t + n * i, 0);
  let [below, belowSum, best, level] = [0, 0, -1, 32];
  for (let i = 0; i < 63; i++) {
    below += bins[i]!;
    belowSum += i * bins[i]!;
    if (!below || below === all) continue;
    const between = below * (all - below) * (belowSum / below - (sum - belowSum) / (all - below)) ** 2;
    if (between > best) [best, level] = [between, i + 1];
  }
  return (level / 64) * most;
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** `x`, `y` in pixels of the upright picture, `reach` how far the part may reach from there, `tilt` of the face in radians.
 *  Undefined where nothing stands out there or it runs out of the patch. */
export function measurePart(
  { width, height, rgb, pixels }: WholePicture,
  x: number,
  y: number,
  reach: number,
  tilt: number,
): PartFound | undefined {
  const scale = width / pixels[0];
  const [c, s] = [Math.cos(tilt), Math.sin(tilt)];
  const n = STEPS;
  const labs: Lab[] = [];
  const blur = Math.max(0, Math.round((reach * scale) / n / 1.5));
  for (let j = 0; j < n; j++)
    for (let i = 0; i < n; i++) {
      const [p, q] = [((i + 0.5) / n - 0.5) * 2 * reach, ((j + 0.5) / n - 0.5) * 2 * reach];
      const X = Math.round((x + p * c - q * s) * scale - 0.5);
      const Y = Math.round((y + p * s + q * c) * scale - 0.5);
      let [r, g, b, count] = [0, 0, 0, 0];
      for (let dy = -blur; dy <= blur; dy++)
        for (let dx = -blur; dx <= blur; dx++) {
          const o = 3 * (Math.max(0, Math.min(height - 1, Y + dy)) * width + Math.max(0, Math.min(width - 1, X + dx)));
          r += rgb[o]!;
          g += rgb[o + 1]!;
          b += rgb[o + 2]!;
          count++;
        }
      labs.push(oklabOfRgb(Math.round(r / count), Math.round(g / count), Math.round(b / count)));
    }
  const radius = (k: number): number => Math.hypot((k % n) - (n - 1) / 2, Math.floor(k / n) - (n - 1) / 2) / (n / 2);
  const border = labs.filter((_, k) => radius(k) > 0.78 && radius(k) < 1);
  const round: Lab = [0, 1, 2].map((d) => median(border.map((l) => l[d]!))) as unknown as Lab;
  const away = labs.map((l) => labDistance(l, round));
  const level = partLevel(away.filter((_, k) => radius(k) < 0.9));
  if (level < 0.03) return undefined;
  // the part is what hangs together with its middle
  const middle = labs.map((_, k) => k).filter((k) => radius(k) < 0.3 && away[k]! > level);
  if (!middle.length) return undefined;
  const own = new Uint8Array(n * n);
  const stack = [...middle];
  for (const k of middle) own[k] = 1;
  while (stack.length) {
    const k = stack.pop()!;
    for (const o of [k - 1, k + 1, k - n, k + n])
      if (o >= 0 && o < n * n && !own[o] && away[o]! > level && radius(o) < 0.95 && Math.abs((o % n) - (k % n)) <= 1) {
        own[o] = 1;
        stack.push(o);
      }
  }
  const cells = labs.map((_, k) => k).filter((k) => own[k]);
  const mean = (f: (k: number) => number): number => cells.reduce((t, k) => t + f(k), 0) / cells.length;
  const [mx, my] = [mean((k) => k % n), mean((k) => Math.floor(k / n))];
  // an even ellipse is four times its spread across
  const w = 4 * Math.sqrt(mean((k) => ((k % n) - mx) ** 2) + 1 / 12);
  const h = 4 * Math.sqrt(mean((k) => (Math.floor(k / n) - my) ** 2) + 1 / 12);
  const pitch = (2 * reach) / n;
  const [p, q] = [(mx - (n - 1) / 2) * pitch, (my - (n - 1) / 2) * pitch];
  const inside = cells.map((k) => labs[k]!).sort((p, q) => p[0] - q[0]);
  // lids and fur at the part's rim are no iris
  const core = cells
    .filter((k) => (((k % n) - mx) / (CORE * w)) ** 2 + ((Math.floor(k / n) - my) / (CORE * h)) ** 2 <= 1)
    .map((k) => labs[k]!)
    .sort((p, q) => p[0] - q[0]);
  const some = (of: readonly Lab[], from: number, to: number): Lab => {
    const part = of.slice(Math.floor(from * of.length), Math.max(1, Math.ceil(to * of.length)));
    return [0, 1, 2].map((d) => part.reduce((t, l) => t + l[d]!, 0) / Math.max(1, part.length)) as unknown as Lab;
  };
  const dark = some(inside, 0, 0.2);
  const chroma = (l: Lab): number => Math.hypot(l[1], l[2]);
  // neither pupil nor glint, and of the rest what has most colour
  const ring = core.slice(Math.floor(0.3 * core.length), Math.ceil(0.92 * core.length));
  ring.sort((p, q) => chroma(q) - chroma(p));
  const light = ring.length ? some(ring, 0, 0.5) : dark;
  const iris = light[0] - dark[0] > IRIS || chroma(light) - chroma(dark) > IRIS_CHROMA;
  return {
    ...{ x: x + p * c - q * s, y: y + p * s + q * c, w: w * pitch, h: h * pitch },
    ...{ dark: hexOfOklab(dark), ...(iris && { iris: hexOfOklab(light) }) },
  };
}
