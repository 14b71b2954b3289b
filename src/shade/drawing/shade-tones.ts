// Takes a drawing that is a web of strokes (engravings, woodcuts); gives its tones, seen from where the strokes run together.
import { clusterColours, gatherColours } from '../../colour/cluster.ts';
import { hexOfOklab, type Lab, labDistance, rgbOfHex } from '../../colour/oklab.ts';
import type { Picture } from '../../data.ts';
import { averageCells, blurChannels } from '../cells.ts';
import { fitColours } from '../fit-colours.ts';
import { mergeSpecks } from '../label-cells.ts';
import { coveredByDisc } from '../regions.ts';
import { shadePhoto } from '../shade-photo.ts';
import type { Shaded, ShadeSettings } from '../shaded.ts';
import { type Drawn, seenCells } from './read-drawing.ts';

/** OKLab: tones of a drawing nearer to each other are one; from its lightest to its darkest in lightness at least; the darkest. */
const TONES_APART = 0.035;
const TONE_RANGE = 0.33;
const DARKEST = 0.2;

/** Share of ink's least darkness under which a tone is a crease or grain of the paper. */
const CREASE = 0.5;

/** The drawing as its strokes would look under even light on even paper: a shadow on the paper is no tone. */
function evenPaper({ dark, level, paper, picture }: Drawn): Picture {
  const tones = Array.from({ length: 256 }, (_, v) =>
    rgbOfHex(hexOfOklab([paper[0] * (1 - v / 255), paper[1], paper[2]])),
  );
  const pixels = new Uint8Array(3 * dark.length);
  for (let i = 0; i < dark.length; i++)
    pixels.set(tones[dark[i]! < CREASE * level ? 0 : Math.round(255 * dark[i]!)]!, 3 * i);
  return { ...picture, pixels };
}

/** Tones at most, and where the white of a figure becomes one with the palest. */
const MOST_TONES = 4;
const MOST_WITH_FIGURE = 5;

/** A web of strokes seen from where they run together: a few tones, shaded as a photo is. */
export async function shadeTones(
  drawn: Drawn,
  w: number,
  h: number,
  settings: ShadeSettings,
  figure: Uint8Array,
): Promise<Shaded> {
  const { shades, narrow } = settings;
  const most = shades === 'auto' ? (settings.most ?? MOST_WITH_FIGURE) : shades;
  const tones = findTones(drawn, w, h, settings, Math.min(MOST_TONES, most));
  if (tones.colours.length < 3) return tones;
  if (!hasWhite(tones, figure, w, h, narrow)) return tones;
  const more = most > MOST_TONES ? findTones(drawn, w, h, settings, MOST_WITH_FIGURE) : tones;
  return tintFigure(more, figure, drawn, w, h, narrow);
}

function findTones(drawn: Drawn, w: number, h: number, settings: ShadeSettings, most: number): Shaded {
  const even = evenPaper(drawn);
  const cells = averageCells(even.pixels, even.width, even.height, w, h);
  const blurred = blurChannels(cells.lab, w, h, 3, Math.max(1, 0.25 * settings.narrow));
  const cloud = gatherColours(blurred);
  let count = most;
  // grain of the paper is no tone
  for (; count > 2; count--) {
    const tones = clusterColours(cloud, count, settings.seed).sort((a, b) => b[0] - a[0]);
    if (tones.every((c, i) => i === 0 || labDistance(c, tones[i - 1]!) >= TONES_APART)) break;
  }
  const calm = { width: w, height: h, lab: blurred };
  const shaded = shadePhoto(even, cells, [], { ...settings, shades: count, background: 'keep' }, { smoothed: calm });
  const colours = deepened(fitColours(shaded.labels, seenCells(drawn.picture, w, h), shaded.colours));
  return { ...shaded, colours, notes: ['The strokes are so close that they were taken for tones.'] };
}

/** OKLab lightness by which the white of a figure is darker than the paper around it at least: pale, for it is white. */
const TINT = 0.08;
/** Share of the block that the white of a figure has at least, to be shown. */
const LEAST_WHITE = 0.03;
/** OKLab lightness under the paper's from which a tone is black. With half as much of it as of white, wide enough to sew,
 *  the animal is what is black, and what the strokes enclose beside it is land. */
const BLACK = 0.35;
const MUCH_BLACK = 0.5;

/** Labels from the lightest, the paper, to the darkest. */
const byLightness = (colours: readonly Lab[]): number[] =>
  colours.map((_, l) => l).sort((p, q) => colours[q]![0] - colours[p]![0]);

/** Whether a good part of a figure is white, so that on white paper only its stripes would be seen. */
function hasWhite({ labels, colours }: Shaded, figure: Uint8Array, w: number, h: number, narrow: number): boolean {
  const paper = byLightness(colours)[0]!;
  const white = labels.reduce((t, l, i) => (l === paper && figure[i] ? t + 1 : t), 0);
  if (white < LEAST_WHITE * w * h) return false;
  const black = Uint8Array.from(labels, (l) => (colours[paper]![0] - colours[l]![0] >= BLACK ? 1 : 0));
  const wide = coveredByDisc(black, w, h, narrow);
  return black.reduce((t, v, i) => t + v * wide[i]!, 0) <= MUCH_BLACK * white;
}

/** The white of a figure that is drawn in strokes gets the fabric of the palest of them, the paper around it keeps its own. */
function tintFigure(shaded: Shaded, figure: Uint8Array, drawn: Drawn, w: number, h: number, narrow: number): Shaded {
  const k = shaded.colours.length;
  const [paper, pale] = byLightness(shaded.colours) as [number, number];
  const labels = Uint8Array.from(shaded.labels, (l, i) => (l === paper && figure[i] ? pale : l));
  const costs = Float32Array.from(shaded.costs);
  for (let i = 0; i < w * h; i++) {
    if (!figure[i]) continue;
    const white = costs[i * k + paper]!;
    costs[i * k + pale] = Math.min(white, costs[i * k + pale]!);
    costs[i * k + paper] = white + TINT;
  }
  mergeSpecks(labels, costs, w, h, k, { least: 0.5 * narrow ** 2, wanted: 0 });
  const colours = deepened(fitColours(labels, seenCells(drawn.picture, w, h), shaded.colours));
  const [L, a, b] = colours[pale]!;
  colours[pale] = [Math.min(L, colours[paper]![0] - TINT), a, b];
  return { ...shaded, labels, colours, costs };
}

/** Tones of pale strokes run together with the paper; in cloth they are to be told apart: the same steps, made longer. */
function deepened(tones: readonly Lab[]): Lab[] {
  const lightest = Math.max(...tones.map((t) => t[0]));
  const range = lightest - Math.min(...tones.map((t) => t[0]));
  const longer = range > 0 ? Math.max(1, Math.min(TONE_RANGE, lightest - DARKEST) / range) : 1;
  return tones.map(([L, a, b]) => [lightest - longer * (lightest - L), a, b]);
}
