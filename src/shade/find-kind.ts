// Tells photos, line drawings and flat art apart by their pixels. Takes a Picture, gives the kind and why.
import { oklabOfRgb } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { labOfPixels, shrinkPixels } from './cells.ts';
import { inkOf } from './find-ink.ts';

export type Kind = 'photo' | 'drawing' | 'flat';

export interface KindFound {
  readonly kind: Kind;
  /** one clause for the person: "few even colours with sharp edges" */
  readonly reason: string;
  readonly measures: Readonly<Record<string, number>>;
}

/** What the pixels of a small copy show once uneven light is taken off the paper. */
function measurePaper(picture: Picture): { paper: number; ink: number; middle: number; tinted: number } {
  const scale = Math.min(1, SMALL / Math.max(picture.width, picture.height));
  const [w, h] = [Math.max(1, Math.round(picture.width * scale)), Math.max(1, Math.round(picture.height * scale))];
  const pixels = shrinkPixels(picture.pixels, picture.width, picture.height, w, h);
  const dark = inkOf({ width: w, height: h, pixels });
  const n = w * h;
  const lab = labOfPixels(pixels);
  const [ink, offPaper] = [countFrom(dark, INK), countFrom(dark, PAPER)];
  return {
    paper: (n - offPaper) / n,
    ink: ink / n,
    middle: (offPaper - ink) / n,
    tinted: countTinted(lab, middleOf(lab, 1, dark), middleOf(lab, 2, dark)) / n,
  };
}

/** The median of channel `c` over what is paper. */
function middleOf(lab: Float32Array, c: number, dark: Float32Array): number {
  const list = new Float32Array(dark.length);
  let m = 0;
  for (let i = 0; i < dark.length; i += 4) if (dark[i]! < PAPER) list[m++] = lab[3 * i + c]!;
  return m ? list.subarray(0, m).sort()[m >> 1]! : 0;
}

function countFrom(values: Float32Array, least: number): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (values[i]! >= least) count++;
  return count;
}

function countTinted(lab: Float32Array, a: number, b: number): number {
  let count = 0;
  for (let i = 0; i < lab.length; i += 3)
    if (Math.sqrt((lab[i + 1]! - a) ** 2 + (lab[i + 2]! - b) ** 2) > TINT) count++;
  return count;
}

/** Longer side of the copy that is looked at. */
const SMALL = 320;
/** Darker than the paper around by less than PAPER is paper, by more than INK is ink. */
const PAPER = 0.1;
const INK = 0.3;
/** OKLab distance from the paper's tint, over which a pixel has a colour of its own. */
const TINT = 0.045;

/** Sum of the channels' differences between neighbours at an edge that was drawn, and how many pixels lie at one at least: a
 *  blurred photo is as even as flat art, but has none. */
const STEEP = 45;
const LEAST_STEEP = 0.001;

/** How many pixels were looked at, how many of them are like their neighbours, how many steep steps there are, and the even
 *  ones' colours, five bits a channel. */
function countEven({ width, height, pixels }: Picture): {
  n: number;
  even: number;
  steep: number;
  bins: Uint32Array;
} {
  const bins = new Uint32Array(1 << 15);
  let [even, n] = [0, 0];
  const row = 3 * width;
  let steep = 0;
  const unlike = (i: number, j: number): boolean => {
    const d =
      Math.abs(pixels[j]! - pixels[i]!) +
      Math.abs(pixels[j + 1]! - pixels[i + 1]!) +
      Math.abs(pixels[j + 2]! - pixels[i + 2]!);
    if (d > STEEP) steep++;
    return d > 6;
  };
  // of a large picture every other pixel tells as much, taken as on a chessboard
  const step = Math.min(width, height) > 512 ? 2 : 1;
  for (let y = 1; y < height - 1; y++)
    for (let x = step > 1 ? 1 + (y & 1) : 1; x < width - 1; x += step) {
      const i = 3 * (y * width + x);
      n++;
      if (unlike(i, i - 3) || unlike(i, i + 3) || unlike(i, i - row) || unlike(i, i + row)) continue;
      even++;
      bins[((pixels[i]! >> 3) << 10) | ((pixels[i + 1]! >> 3) << 5) | (pixels[i + 2]! >> 3)]!++;
    }
  return { n, even, steep, bins };
}

/** The thresholds were set on a labelled set of 74 pictures; tests keep the list. Measures, shares of the picture: `even`
 *  pixels like their neighbours; `colours` main colours of those, `covered` what they cover of them; `steep` at edges; `paper`, `ink` and what
 *  lies between in darkness once uneven light is off; `tinted` what has another colour than the paper. */
export function findKind(picture: Picture): KindFound {
  const { n, even, steep, bins } = countEven(picture);
  // colours that the even pixels show, greatest first; neighbours in colour space count as one
  const main: { lab: readonly [number, number, number]; count: number }[] = [];
  let covered = 0;
  const keys: number[] = [];
  for (let key = 0; key < bins.length; key++) if (bins[key]) keys.push(key);
  keys.sort((p, q) => bins[q]! - bins[p]! || p - q);
  for (const key of keys.slice(0, 400)) {
    const count = bins[key]!;
    const lab = oklabOfRgb(((key >> 10) << 3) + 4, (((key >> 5) & 31) << 3) + 4, ((key & 31) << 3) + 4);
    const like = main.find((m) => Math.hypot(m.lab[0] - lab[0], m.lab[1] - lab[1], m.lab[2] - lab[2]) < 0.05);
    if (like) like.count += count;
    else if (main.length < 24) main.push({ lab, count });
    else continue;
    covered += count;
  }
  const colours = main.filter((m) => m.count > 0.003 * n).length;
  const light = measurePaper(picture);
  const measures = { even: even / n, steep: steep / n, colours, covered: covered / Math.max(1, even), ...light };
  const { paper, ink, middle, tinted } = light;
  // drawn with a program: two tones and hardly anything between; on real paper: no colour but the paper's and little between
  const clean = measures.even > 0.9;
  const drawn = clean
    ? colours <= 2 && tinted < 0.01 && middle < 0.03
    : tinted < 0.05 && paper > 0.7 && paper + ink > 0.9;
  if (drawn) return { kind: 'drawing', reason: 'dark strokes on plain paper', measures };
  if (measures.even > 0.8 && measures.covered > 0.85 && measures.steep > LEAST_STEEP)
    return { kind: 'flat', reason: `${colours} even colours with sharp edges`, measures };
  return { kind: 'photo', reason: 'colours that shade into one another', measures };
}
