// Takes flat art as a grid of its own colours; where it is drawn with dark outlines gives the grid with the fills meeting where the strokes
// were, eyes and other solid shapes kept, and the white of the figure told apart from the ground's.
import { type Lab, labDistance } from '../../colour/oklab.ts';
import { findRegions } from '../../geometry/label-regions.ts';
import { groundRegion } from '../../geometry/silhouette.ts';
import { chooseGround } from '../choose-ground.ts';
import { coveredByDisc } from '../regions.ts';
import { eachBeside } from './flood.ts';
import { maskWhere } from './masks.ts';

/** Share of the ground's border that an outline has at least, and of its cells that are thin; narrowest pieces wide that is still thin. */
const OF_BORDER = 0.7;
const THIN_SHARE = 0.6;
const THIN = 0.9;
/** An outline is darker than this (OKLab). */
const DARK = 0.75;
/** Share of its box that a kept solid shape fills, and how long it is at most. */
const LEAST_FULL = 0.5;
const LONGEST = 2.5;
/** Narrowest pieces' squares under which what is left of strokes is a knot of them. */
const KNOT = 2;
/** Fills that a figure has between its outlines at least, each with this share of it: else the dark is its marking. */
const FILLS = 2;
const FILL_SHARE = 0.03;
/** What is as near to the ground as this may not lie beside it, and from which share of the border on that decides. */
const LIKE_GROUND = 0.1;
const BESIDE = 0.05;
/** The hue of a ground that has to leave white: a quiet blue, against which fur and feathers stand out. */
const GROUND_HUE = [-0.02, -0.045] as const;

export interface Outlined {
  /** labels into `colours` */
  readonly labels: Uint8Array;
  readonly colours: readonly Lab[];
  readonly ground: number;
  /** cells of solid shapes of the outline's colour: eyes, a nose */
  readonly hold: Uint8Array;
  /** whether the ground left its own colour, because the figure has it too */
  readonly moved: boolean;
}

/** Undefined where the art has no outlines. `narrow`: the narrowest piece, in cells. */
export function dissolveOutlines(
  given: Uint8Array,
  own: readonly Lab[],
  ground: number,
  w: number,
  h: number,
  narrow: number,
): Outlined | undefined {
  const n = w * h;
  const outline = findOutline(given, own, w, h, narrow);
  if (outline === undefined) return undefined;
  const labels = Uint8Array.from(given);
  const colours = [...own];
  const open = groundRegion(labels, w, h);
  // enclosed parts of the ground's colour, or nearly, are the figure's own white
  const white = colours.length;
  colours.push(own[ground]!);
  for (const { label, cells } of findRegions(labels, w, h).list)
    if (label === ground && !open[cells[0]!] && mostlyBeside(cells, labels, outline, w, h))
      for (const i of cells) labels[i] = white;
  if (!hasFills(labels, [ground, outline], n)) return undefined;
  const solid = solidParts(labels, outline, w, h, narrow);
  const wide = coveredByDisc(labels, w, h, THIN * narrow);
  const loose = maskWhere(n, (i) => labels[i] === outline && !solid[i] && !wide[i]);
  // what is left of a stroke where two of them meet
  const left = Uint8Array.from(labels, (l, i) => (l === outline && !loose[i] && !solid[i] ? 1 : 0));
  for (const { label, cells } of findRegions(left, w, h).list)
    if (label && cells.length < KNOT * narrow ** 2) for (const i of cells) loose[i] = 1;
  fillFrom(labels, loose, open, w, h);
  const along = coloursBeside(labels, open, colours, w, h);
  const near = along.filter((a) => labDistance(a.colour, own[ground]!) < LIKE_GROUND);
  const moved = near.reduce((t, a) => t + a.share, 0) >= BESIDE;
  if (moved) colours[ground] = groundFor(labels, colours, ground, w, h);
  return { labels, colours, ground, hold: solid, moved };
}

/** A quiet colour for the ground that stands off from all that lies along it. */
export function groundFor(labels: Uint8Array, colours: readonly Lab[], ground: number, w: number, h: number): Lab {
  const along = coloursBeside(
    labels,
    maskWhere(w * h, (i) => labels[i] === ground),
    colours,
    w,
    h,
  );
  return chooseGround([colours[ground]![0], ...GROUND_HUE], along).colour;
}

/** The dark colour that parts the ground from the rest, in strokes. */
function findOutline(
  labels: Uint8Array,
  own: readonly Lab[],
  w: number,
  h: number,
  narrow: number,
): number | undefined {
  const beside = new Float64Array(own.length);
  let border = 0;
  const open = groundRegion(labels, w, h);
  for (let i = 0; i < w * h; i++)
    if (open[i])
      eachBeside(i, w, w * h, (j) => {
        if (open[j]) return;
        beside[labels[j]!]!++;
        border++;
      });
  const outline = beside.indexOf(Math.max(...beside));
  if (!border || beside[outline]! < OF_BORDER * border || own[outline]![0] > DARK) return undefined;
  const wide = coveredByDisc(labels, w, h, THIN * narrow);
  let [all, thin] = [0, 0];
  for (let i = 0; i < w * h; i++)
    if (labels[i] === outline) {
      all++;
      if (!wide[i]) thin++;
    }
  return thin >= THIN_SHARE * all ? outline : undefined;
}

function hasFills(labels: Uint8Array, but: readonly number[], n: number): boolean {
  const counts = new Map<number, number>();
  for (let i = 0; i < n; i++) if (!but.includes(labels[i]!)) counts.set(labels[i]!, (counts.get(labels[i]!) ?? 0) + 1);
  const all = [...counts.values()].reduce((t, v) => t + v, 0);
  return [...counts.values()].filter((v) => v >= FILL_SHARE * all).length >= FILLS;
}

/** Whether most of what lies beside these cells has this label. */
function mostlyBeside(cells: Int32Array, labels: Uint8Array, label: number, w: number, h: number): boolean {
  const mine = labels[cells[0]!]!;
  let [all, on] = [0, 0];
  for (const i of cells)
    eachBeside(i, w, w * h, (j) => {
      if (labels[j] === mine) return;
      all++;
      if (labels[j] === label) on++;
    });
  return on >= 0.6 * all;
}

/** Compact shapes of the outline's colour that stand alone, and that have some size. */
function solidParts(labels: Uint8Array, outline: number, w: number, h: number, narrow: number): Uint8Array {
  const kept = new Uint8Array(w * h);
  for (const { label, cells } of findRegions(labels, w, h).list) {
    if (label !== outline || cells.length < 0.1 * narrow ** 2) continue;
    let [x0, x1, y0, y1] = [w, 0, h, 0];
    for (const i of cells) {
      const x = i % w;
      const y = (i - x) / w;
      [x0, x1, y0, y1] = [Math.min(x0, x), Math.max(x1, x), Math.min(y0, y), Math.max(y1, y)];
    }
    const [bw, bh] = [x1 - x0 + 1, y1 - y0 + 1];
    if (cells.length < LEAST_FULL * bw * bh || Math.max(bw, bh) > LONGEST * Math.min(bw, bh)) continue;
    for (const i of cells) kept[i] = 1;
  }
  return kept;
}

/** Gives the marked cells the label of the nearest cell that is neither marked nor ground, step by step. */
function fillFrom(labels: Uint8Array, marked: Uint8Array, ground: Uint8Array, w: number, h: number): void {
  let front: number[] = [];
  for (let i = 0; i < w * h; i++) if (!marked[i] && !ground[i]) front.push(i);
  while (front.length) {
    const next: number[] = [];
    for (const i of front)
      eachBeside(i, w, w * h, (j) => {
        if (!marked[j]) return;
        marked[j] = 0;
        labels[j] = labels[i]!;
        next.push(j);
      });
    front = next;
  }
}

/** Which colours lie beside the ground, with their share of its border. */
function coloursBeside(
  labels: Uint8Array,
  ground: Uint8Array,
  colours: readonly Lab[],
  w: number,
  h: number,
): { colour: Lab; share: number }[] {
  const counts = new Float64Array(colours.length);
  let all = 0;
  for (let i = 0; i < w * h; i++)
    if (ground[i])
      eachBeside(i, w, w * h, (j) => {
        if (ground[j]) return;
        counts[labels[j]!]!++;
        all++;
      });
  return colours.flatMap((colour, l) => (counts[l] ? [{ colour, share: counts[l]! / Math.max(1, all) }] : []));
}
