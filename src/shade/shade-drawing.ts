// Shades a line drawing. Strokes wide enough to sew become fabric; thin ones are dissolved into the areas they enclose,
// which get fabrics by what fills them, else so that neighbours differ; a dense web of strokes is taken for tone.
import { clusterColours, gatherColours } from '../colour/cluster.ts';
import { hexOfOklab, type Lab, labDistance, oklabOfHex, oklabOfRgb, rgbOfHex } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { averageCells, averagePixels, blurChannels, type Cells } from './cells.ts';
import { eraseRuling } from './erase-ruling.ts';
import { bordersOf, colourAreas, dissolveInk, joinSmallAreas, partPaper } from './find-areas.ts';
import { inkOf, otsuLevel } from './find-ink.ts';
import { fitColours, VIEW_BLUR } from './fit-colours.ts';
import { costsOf, dropThin, mergeSpecks } from './label-cells.ts';
import { distanceInside, findComponents } from './opencv.ts';
import { coveredByDisc, discOffsets } from './regions.ts';
import { shadePhoto } from './shade-photo.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';

/** What is done with strokes; by their width where absent. */
export type Lines = 'dissolve' | 'keep';

/** Fabrics for areas that the drawing leaves white: soft, far apart, and none of them near to paper or ink. */
const FILLS = ['#d8b48a', '#9fb8cf', '#b9c592', '#dd9f8e', '#b79fc4', '#8fbcb3', '#e2cf7d', '#a58d78'].map(oklabOfHex);

const meanColour = (picture: Picture, inside: (i: number) => boolean): Lab | undefined => {
  const sum = [0, 0, 0];
  let n = 0;
  for (let i = 0; i < picture.width * picture.height; i++) {
    if (!inside(i)) continue;
    for (let c = 0; c < 3; c++) sum[c]! += picture.pixels[3 * i + c]!;
    n++;
  }
  return n ? oklabOfRgb(Math.round(sum[0]! / n), Math.round(sum[1]! / n), Math.round(sum[2]! / n)) : undefined;
};

interface Drawn {
  /** each pixel's darkness against the paper around it */
  readonly dark: Float32Array;
  /** darkness over which it is ink */
  readonly level: number;
  /** two steps a cell: 1 where ink covers enough */
  readonly ink: Uint8Array;
  readonly w: number;
  readonly h: number;
  readonly paper: Lab;
  readonly pen: Lab;
  /** typical width of a stroke, in cells of the block's grid */
  readonly stroke: number;
  /** without the paper's ruling, and how many lines that had */
  readonly picture: Picture;
  readonly ruled: number;
}

/** Ink at two steps a cell, and how wide its strokes are: twice the usual depth of ink along its middle lines. */
async function readDrawing(given: Picture, w: number, h: number): Promise<Drawn> {
  const { picture, lines } = eraseRuling(given, inkOf(given));
  const ink = inkOf(picture);
  const level = Math.min(0.5, Math.max(0.12, otsuLevel(ink)));
  const black = Uint8Array.from({ length: 3 * ink.length }, (_, q) => (ink[Math.floor(q / 3)]! > level ? 255 : 0));
  const share = averagePixels(black, picture.width, picture.height, 2 * w, 2 * h);
  const mask = Uint8Array.from({ length: 4 * w * h }, (_, i) => (share[3 * i]! > 255 * 0.25 ? 1 : 0));
  // grain of the paper is no ink
  const { part, parts } = await findComponents(mask, 2 * w, 2 * h, 8);
  for (let i = 0; i < mask.length; i++) if (mask[i] && parts[part[i]!]!.area < LEAST_INK) mask[i] = 0;
  const depth = await distanceInside(mask, 2 * w, 2 * h);
  // ridges of the depth: no neighbour lies deeper
  const ridges: number[] = [];
  const W = 2 * w;
  for (let y = 1; y < 2 * h - 1; y++)
    for (let x = 1; x < W - 1; x++) {
      const i = y * W + x;
      const d = depth[i]!;
      if (d > 0 && d >= depth[i - 1]! && d >= depth[i + 1]! && d >= depth[i - W]! && d >= depth[i + W]!) ridges.push(d);
    }
  ridges.sort((a, b) => a - b);
  const typical = ridges[Math.floor(ridges.length * 0.6)] ?? 1;
  return {
    dark: ink,
    level,
    ink: mask,
    w: W,
    h: 2 * h,
    paper: meanColour(picture, (i) => ink[i]! <= level) ?? [1, 0, 0],
    pen: meanColour(picture, (i) => ink[i]! > level) ?? [0, 0, 0],
    stroke: Math.max(0.5, (2 * typical - 1) / 2),
    picture,
    ruled: lines,
  };
}

/** Cells of a two-step mask that have at least `least` of their four steps in it. */
const halve = (mask: Uint8Array, w: number, h: number, least: number): Uint8Array =>
  Uint8Array.from({ length: w * h }, (_, i) => {
    const o = 2 * (Math.floor(i / w) * 2 * w + (i % w));
    return mask[o]! + mask[o + 1]! + mask[o + 2 * w]! + mask[o + 2 * w + 1]! >= least ? 1 : 0;
  });

/** The picture's own cells as they look from a little way off. */
function seenCells({ pixels, width, height }: Picture, w: number, h: number): Cells {
  const cells = averageCells(pixels, width, height, w, h);
  return { ...cells, lab: blurChannels(cells.lab, w, h, 3, VIEW_BLUR) };
}

/** Strokes as fabric, the thin ones widened to what can be sewn. */
function keepStrokes(drawn: Drawn, w: number, h: number, narrow: number): Shaded {
  const inked = halve(drawn.ink, w, h, 2);
  const stroke = Math.max(2, 0.6 * narrow);
  const covered = coveredByDisc(inked, w, h, stroke);
  const labels = Uint8Array.from(inked);
  for (let i = 0; i < w * h; i++) {
    if (!inked[i] || covered[i]) continue;
    for (const [dx, dy] of discOffsets(stroke - 1)) {
      const x = (i % w) + dx;
      const y = Math.floor(i / w) + dy;
      if (x >= 0 && y >= 0 && x < w && y < h) labels[y * w + x] = 1;
    }
  }
  // the paper as most of it is: a mean of light and shadow is neither
  const seen = seenCells(drawn.picture, w, h);
  const bare = Array.from({ length: w * h }, (_, i) => i).filter((i) => !labels[i]);
  const middle = [0, 1, 2].map((c) => Float32Array.from(bare, (i) => seen.lab[3 * i + c]!).sort()[bare.length >> 1]);
  const paper = bare.length ? (middle as unknown as Lab) : drawn.paper;
  const colours = fitColours(labels, seen, [paper, drawn.pen], [false, true]);
  const lab = new Float32Array(w * h * 3);
  for (let i = 0; i < w * h; i++) lab.set(colours[inked[i]!]!, 3 * i);
  const cells: Cells = { width: w, height: h, lab };
  const costs = costsOf(cells, colours);
  mergeSpecks(labels, costs, w, h, 2, { least: 0.3 * narrow ** 2, wanted: 0.3 * narrow ** 2 });
  return { labels, colours, costs, cells, notes: [] };
}

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
async function shadeTones(drawn: Drawn, w: number, h: number, settings: ShadeSettings): Promise<Shaded> {
  const { shades, narrow } = settings;
  const most = shades === 'auto' ? (settings.most ?? MOST_WITH_FIGURE) : shades;
  const tones = findTones(drawn, w, h, settings, Math.min(MOST_TONES, most));
  if (tones.colours.length < 3) return tones;
  const figure = await figureOf(drawn, w, h);
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

/** Cells that the strokes enclose, gaps closed: all that is no paper reaching the frame. */
async function figureOf(drawn: Drawn, w: number, h: number): Promise<Uint8Array> {
  const { w: W, h: H } = drawn;
  const distance = await distanceInside(
    Uint8Array.from(drawn.ink, (v) => 1 - v),
    W,
    H,
  );
  const { area, count } = partPaper(distance, W, H, GAP * Math.max(W, H));
  const ground = findGround(area, W, H, count);
  dissolveInk(area, W, H, new Uint8Array(W * H));
  return halve(
    Uint8Array.from(area, (a) => (a === ground ? 0 : 1)),
    w,
    h,
    3,
  );
}

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

/** What fills each area between the strokes: the mean colour of its paper. */
function fillsOf(drawn: Drawn, area: Int32Array, depth: Float32Array, count: number): (Lab | undefined)[] {
  const step = averageCells(drawn.picture.pixels, drawn.picture.width, drawn.picture.height, drawn.w, drawn.h);
  const sums = new Float64Array(4 * count);
  for (let i = 0; i < area.length; i++) {
    if (area[i]! < 0 || depth[i]! < 2.5) continue; // beside a stroke its ink still shows
    const o = 4 * area[i]!;
    for (let c = 0; c < 3; c++) sums[o + c]! += step.lab[3 * i + c]!;
    sums[o + 3]!++;
  }
  return Array.from({ length: count }, (_, a) => {
    const m = sums[4 * a + 3]!;
    return m ? [sums[4 * a]! / m, sums[4 * a + 1]! / m, sums[4 * a + 2]! / m] : undefined;
  });
}

/** Standard deviation of the ground's lightness, away from strokes. */
function unevenness(drawn: Drawn, area: Int32Array, depth: Float32Array, ground: number): number {
  const { lab } = averageCells(drawn.picture.pixels, drawn.picture.width, drawn.picture.height, drawn.w, drawn.h);
  let [n, sum, squares] = [0, 0, 0];
  for (let i = 0; i < area.length; i++) {
    if (area[i] !== ground || depth[i]! < 2.5) continue;
    const L = lab[3 * i]!;
    n++;
    sum += L;
    squares += L * L;
  }
  return n ? Math.sqrt(Math.max(0, squares / n - (sum / n) ** 2)) : 0;
}

/** Gaps in strokes that are closed, as a share of the longer side. */
const GAP = 0.045;

/** The area that has most of the frame; every other that reaches far along it becomes one with it. */
function findGround(area: Int32Array, W: number, H: number, count: number): number {
  const along = new Uint32Array(count);
  for (let x = 0; x < W; x++) for (const i of [x, (H - 1) * W + x]) if (area[i]! >= 0) along[area[i]!]!++;
  for (let y = 0; y < H; y++) for (const i of [y * W, y * W + W - 1]) if (area[i]! >= 0) along[area[i]!]!++;
  let ground = 0;
  for (let a = 1; a < count; a++) if (along[a]! > along[ground]!) ground = a;
  for (let i = 0; i < area.length; i++) if (area[i]! >= 0 && along[area[i]!]! > 0.08 * W) area[i] = ground;
  return ground;
}

/** Strokes dissolved into the areas they enclose. Undefined where there are none but the ground. */
async function dissolveStrokes(
  drawn: Drawn,
  w: number,
  h: number,
  settings: ShadeSettings,
): Promise<Shaded | undefined> {
  const { narrow } = settings;
  const shades = settings.shades === 'auto' ? Math.min(AUTO_SHADES, settings.most ?? AUTO_SHADES) : settings.shades;
  const { w: W, h: H } = drawn;
  const distance = await distanceInside(
    Uint8Array.from(drawn.ink, (v) => 1 - v),
    W,
    H,
  );
  const { area, count } = partPaper(distance, W, H, GAP * Math.max(W, H));
  const fills = fillsOf(drawn, area, distance, count);
  // masses of ink that are wide enough to sew stay fabric, dots (eyes) too, widened to what can be sewn
  const keep = new Uint8Array(W * H);
  const thick = coveredByDisc(drawn.ink, W, H, Math.max(3, 0.9 * narrow, 4 * drawn.stroke));
  for (let i = 0; i < W * H; i++) keep[i] = drawn.ink[i] && thick[i] ? 1 : 0;
  const { part, parts } = await findComponents(drawn.ink, W, H, 8);
  const found: { id: number; worth: number }[] = [];
  parts.forEach((p, id) => {
    const across = Math.max(p.width, p.height);
    const full = p.area / (p.width * p.height);
    const round = across < 1.8 * Math.min(p.width, p.height) && full > LEAST_FULL;
    if (id > 0 && round && across <= 4.5 * narrow && p.area >= 1.4 * (2 * drawn.stroke) ** 2)
      found.push({ id, worth: full * Math.sqrt(p.area) });
  });
  found.sort((p, q) => q.worth - p.worth || p.id - q.id);
  // beside an eye, flecks of fur are none; many alike and small are fur or feathers too
  const sure = found.filter((d) => d.worth >= 0.5 * found[0]!.worth);
  const worthy = sure.length <= MOST_DOTS ? sure : sure.filter((d) => parts[d.id]!.area >= 3 * (2 * drawn.stroke) ** 2);
  const dots = new Set(worthy.slice(0, MOST_DOTS).map((d) => d.id));
  for (let i = 0; i < W * H; i++) if (dots.has(part[i]!)) keep[i] = 1;
  dissolveInk(area, W, H, keep);
  const ground = findGround(area, W, H, count);
  joinSmallAreas(area, W, H, count, 4 * 0.9 * narrow ** 2, ground);
  const sizes = new Uint32Array(count);
  for (const a of area) if (a >= 0) sizes[a]!++;
  if (sizes.every((v, a) => a === ground || !v)) return undefined;
  const paper = fills[ground] ?? drawn.paper;
  const hasInk = keep.some(Boolean);
  const most = Math.max(1, Math.min(FILLS.length, shades - 1 - (hasInk ? 1 : 0)));
  // on a screen's even paper a pale fill is a fill; on a photographed sheet it may be a shadow
  const tinted = unevenness(drawn, area, distance, ground) < EVEN_PAPER ? 0.025 : 0.06;
  // filled areas get their own colours, grouped; the others differ from their neighbours
  const coloured = [...sizes.keys()].filter(
    (a) => a !== ground && sizes[a] && fills[a] && labDistance(fills[a]!, paper) > tinted,
  );
  const own = coloured.length
    ? clusterColours(
        {
          points: Float64Array.from(coloured.flatMap((a) => [...fills[a]!])),
          weights: Float64Array.from(coloured, (a) => sizes[a]!),
        },
        Math.max(1, Math.min(coloured.length, most - (coloured.length < sizes.filter(Boolean).length - 1 ? 1 : 0))),
        settings.seed,
      )
    : [];
  const free = Math.max(0, most - own.length);
  // a fill that is hardly darker than the paper would not be seen in cloth
  const shown = own.map((c): Lab => (labDistance(c, paper) < OFF_PAPER ? [paper[0] - OFF_PAPER, c[1], c[2]] : c));
  const palette: Lab[] = [paper, ...shown, ...FILLS.slice(0, free)];
  const fixed = new Int32Array(count).fill(-1);
  fixed[ground] = 0;
  for (const a of coloured)
    fixed[a] = 1 + own.reduce((b, c, l) => (labDistance(c, fills[a]!) < labDistance(own[b]!, fills[a]!) ? l : b), 0);
  const borders = bordersOf(area, W, H, count);
  // only what lies inside one area alone, as the white of an eye does, may have the ground's fabric
  const ownFabric = Uint8Array.from(borders, (b) => (b.size > 1 || b.has(ground) ? 1 : 0));
  const colour = colourAreas(borders, sizes, fixed, palette.length, ownFabric);
  const colours = hasInk ? [...palette, drawn.pen] : palette;
  const k = colours.length;
  const fine = Uint8Array.from(area, (a) => (a < 0 ? k - 1 : colour[a]!));
  const labels = new Uint8Array(w * h);
  for (let i = 0; i < w * h; i++) {
    const o = 2 * (Math.floor(i / w) * W + (i % w));
    const four = [fine[o]!, fine[o + 1]!, fine[o + W]!, fine[o + W + 1]!];
    labels[i] = four.reduce((b, l) =>
      four.filter((v) => v === l).length > four.filter((v) => v === b).length ? l : b,
    );
  }
  const hold = new Uint8Array(w * h);
  for (const id of dots) {
    const p = parts[id]!;
    const [cx, cy] = [(p.left + p.width / 2) / 2, (p.top + p.height / 2) / 2];
    const r = Math.max(0.6 * narrow, Math.max(p.width, p.height) / 4);
    for (let y = Math.max(0, Math.floor(cy - r)); y < Math.min(h, cy + r); y++)
      for (let x = Math.max(0, Math.floor(cx - r)); x < Math.min(w, cx + r); x++)
        if (Math.hypot(x + 0.5 - cx, y + 0.5 - cy) <= r) {
          labels[y * w + x] = k - 1;
          hold[y * w + x] = 1;
        }
  }
  const lab = new Float32Array(w * h * 3);
  labels.forEach((l, i) => {
    lab.set(colours[l]!, 3 * i);
  });
  const cells: Cells = { width: w, height: h, lab };
  const costs = costsOf(cells, colours);
  dropThin(labels, costs, w, h, k, Math.max(2, 0.4 * narrow), hold);
  mergeSpecks(labels, costs, w, h, k, { least: 0.5 * narrow ** 2, wanted: 0 }, hold);
  return {
    labels,
    colours,
    costs,
    cells,
    notes: ['Thin strokes were dissolved into the areas that they enclose.'],
    hold,
  };
}

/** OKLab: a filled area's fabric is this far from the paper's at least. */
const OFF_PAPER = 0.14;
/** OKLab lightness by which drawn paper may vary and still be a screen's. */
const EVEN_PAPER = 0.006;
/** Most fabrics of a drawing that may choose for itself: paper, ink and four fills colour any map of areas. */
const AUTO_SHADES = 6;
/** Half cells of ink under which a spot is grain. */
const LEAST_INK = 10;
/** Share of its box that an eye or a nose fills at least: a triangle just under a half, a ring of a stroke less. */
const LEAST_FULL = 0.4;
/** Most eyes and noses that are widened. */
const MOST_DOTS = 4;

/** Pieces of paper too small to sew, over which strokes are tone rather than outline. */
const MOST_CRUMBS = 50;

export async function shadeDrawing(
  picture: Picture,
  w: number,
  h: number,
  settings: ShadeSettings,
  lines?: Lines,
): Promise<Shaded> {
  const drawn = await readDrawing(picture, w, h);
  const shaded = await shadeStrokes(drawn, w, h, settings, lines);
  return drawn.ruled ? { ...shaded, notes: [...shaded.notes, 'The ruling of the paper was left out.'] } : shaded;
}

async function shadeStrokes(
  drawn: Drawn,
  w: number,
  h: number,
  settings: ShadeSettings,
  lines?: Lines,
): Promise<Shaded> {
  const { narrow } = settings;
  if (lines === 'keep' || (!lines && drawn.stroke >= 0.45 * narrow)) return keepStrokes(drawn, w, h, narrow);
  const { parts } = await findComponents(
    Uint8Array.from(drawn.ink, (v) => 1 - v),
    drawn.w,
    drawn.h,
    4,
  );
  const crumbs = parts.filter((p, id) => id > 0 && p.area < 4 * 0.5 * narrow ** 2).length;
  const { parts: strokes } = await findComponents(drawn.ink, drawn.w, drawn.h, 8);
  if (!lines && crumbs + strokes.length / 2 > MOST_CRUMBS) return shadeTones(drawn, w, h, settings);
  return (await dissolveStrokes(drawn, w, h, settings)) ?? keepStrokes(drawn, w, h, narrow);
}
