// Takes the picture of a drawing; gives its ink on a grid of two steps a cell, how wide its strokes are, and its paper and pen.
import { type Lab, oklabOfRgb } from '../../colour/oklab.ts';
import type { Picture } from '../../data.ts';
import { averageCells, averagePixels, blurChannels, type Cells } from '../cells.ts';
import { eraseRuling } from '../erase-ruling.ts';
import { inkOf, otsuLevel } from '../find-ink.ts';
import { VIEW_BLUR } from '../fit-colours.ts';
import { distanceInside, findComponents, reshapeMask } from '../opencv.ts';
import { countIn, maskWhere } from './masks.ts';

/** Half cells of ink under which a spot is grain. */
const LEAST_INK = 10;
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

export interface Drawn {
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

/** OKLab lightness between the darker and the lighter parts of the paper, from which light is uneven. */
const UNEVEN = 0.06;
/** Half cells across of what a stroke is narrower than; share of ink's least darkness that it has against both its sides; darkness of a
 *  mass, which no shadow has. */
const STROKE_WIDE = 29;
const BOTH_SIDES = 0.5;
const MASS_DARK = 0.6;
/** Length of a shadow's edge as a share of the picture, and share of all ink that such edges are, at least. */
const SHADOW_LONG = 0.15;
const SHADOW_SHARE = 0.06;

/** Takes off the mask what is dark against the paper on one side only: the edge of a shadow. What is darker than any shadow stays. */
async function dropShadowEdges(
  mask: Uint8Array,
  picture: Picture,
  dark: Float32Array,
  level: number,
  w: number,
  h: number,
): Promise<void> {
  const { lab } = averageCells(picture.pixels, picture.width, picture.height, w, h);
  const paper: number[] = [];
  for (let i = 0; i < w * h; i += 7) if (!mask[i]) paper.push(lab[3 * i]!);
  paper.sort((a, b) => a - b);
  if (!paper.length || paper[Math.floor(0.9 * paper.length)]! - paper[Math.floor(0.1 * paper.length)]! < UNEVEN) return;
  const grey = new Uint8Array(w * h);
  for (let i = 0; i < w * h; i++) grey[i] = Math.round(255 * Math.max(0, Math.min(1, lab[3 * i]!)));
  // what is darker than all around it within a disc is filled up to that (a closing of grey values)
  const closed = await reshapeMask(grey, w, h, 'close', STROKE_WIDE);
  const oneSided = maskWhere(w * h, (i) => {
    if (!mask[i] || 1 - grey[i]! / Math.max(1, closed[i]!) > BOTH_SIDES * level) return false;
    const px = Math.min(picture.width - 1, Math.floor((((i % w) + 0.5) * picture.width) / w));
    const py = Math.min(picture.height - 1, Math.floor(((Math.floor(i / w) + 0.5) * picture.height) / h));
    return dark[py * picture.width + px]! < MASS_DARK;
  });
  const { part, parts } = await findComponents(oneSided, w, h, 8);
  // a shadow's edge is long, and a good part of what was taken for ink; specks are grain in a mass
  const long = parts.map((p, q) => q > 0 && Math.max(p.width, p.height) > SHADOW_LONG * Math.max(w, h));
  const area = parts.reduce((t, p, q) => (long[q] ? t + p.area : t), 0);
  if (area < SHADOW_SHARE * countIn(mask)) return;
  for (let i = 0; i < w * h; i++) if (part[i] && long[part[i]!]) mask[i] = 0;
}

/** Ink at two steps a cell, and how wide its strokes are: twice the usual depth of ink along its middle lines. */
export async function readDrawing(given: Picture, w: number, h: number): Promise<Drawn> {
  const { picture, lines } = eraseRuling(given, inkOf(given));
  const ink = inkOf(picture);
  const level = Math.min(0.5, Math.max(0.12, otsuLevel(ink)));
  const black = new Uint8Array(3 * ink.length);
  for (let i = 0; i < ink.length; i++) if (ink[i]! > level) black.fill(255, 3 * i, 3 * i + 3);
  const share = averagePixels(black, picture.width, picture.height, 2 * w, 2 * h);
  const mask = maskWhere(4 * w * h, (i) => share[3 * i]! > 255 * 0.25);
  await dropShadowEdges(mask, picture, ink, level, 2 * w, 2 * h);
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
export const halve = (mask: Uint8Array, w: number, h: number, least: number): Uint8Array =>
  maskWhere(w * h, (i) => {
    const o = 2 * (Math.floor(i / w) * 2 * w + (i % w));
    return mask[o]! + mask[o + 1]! + mask[o + 2 * w]! + mask[o + 2 * w + 1]! >= least;
  });

/** The picture's own cells as they look from a little way off. */
export function seenCells({ pixels, width, height }: Picture, w: number, h: number): Cells {
  const cells = averageCells(pixels, width, height, w, h);
  return { ...cells, lab: blurChannels(cells.lab, w, h, 3, VIEW_BLUR) };
}
