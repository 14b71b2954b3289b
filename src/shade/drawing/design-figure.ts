// Takes a drawing and its figure; gives the design of the block: the figure filled, its strokes dissolved into what they bound or kept
// as fabric, its eyes and nose as shapes of their own.

import { clusterColours } from '../../colour/cluster.ts';
import { type Lab, labDistance, oklabOfHex } from '../../colour/oklab.ts';
import type { Cells } from '../cells.ts';
import { costsOf, dropThin, mergeSpecks } from '../label-cells.ts';
import { distanceInside } from '../opencv.ts';
import { coveredByDisc, discOffsets } from '../regions.ts';
import type { Shaded, ShadeSettings } from '../shaded.ts';
import { paletteOf, type Role, type RoleColours, rolesOf, standApart } from './choose-tones.ts';
import { findFace, findSpots } from './find-features.ts';
import type { Figure } from './find-figure.ts';
import { findMasses, findRooms, type Rooms } from './find-rooms.ts';
import { maskWhere, outsideOf } from './masks.ts';
import { measureFills } from './measure-fills.ts';
import { mirrorFigure } from './mirror-figure.ts';
import { eachCellIn } from './paint.ts';
import { type Drawn, halve } from './read-drawing.ts';
import { type FeatureShape, shapeFeatures } from './shape-features.ts';
import { findStitchLines } from './stitch-lines.ts';

/** What becomes of a drawing's strokes. */
export type Design = 'fill' | 'keep';

/** Most colours that are taken from the drawing's own fills. */
const MOST_OWN = 3;
/** Colours nearer than this are one fill. */
const ALIKE = 0.05;

export async function designFigure(
  drawn: Drawn,
  figure: Figure,
  w: number,
  h: number,
  settings: ShadeSettings,
  design: Design,
  given: RoleColours = {},
): Promise<Shaded> {
  const { narrow } = settings;
  const { w: W, h: H } = drawn;
  const stroke = figure.fine;
  const masses = await findMasses(drawn.ink, W, H, stroke, 2 * narrow);
  const small = await findMasses(drawn.ink, W, H, stroke, 2 * narrow, true);
  const face = findFace(findSpots(figure, drawn.ink, masses, small, W, H, stroke));
  const spots = [...face.eyes, ...(face.nose ? [face.nose] : [])];
  const absorbed = new Uint8Array(W * H);
  for (const s of spots) for (const i of s.cells) absorbed[i] = 1;
  const rooms = findRooms(figure, masses, absorbed, W, H, 2 * narrow);
  const away = await distanceInside(outsideOf(drawn.ink), W, H);
  const { colours, of } = chooseColours(drawn, rooms, away, settings, design, given);
  const ink = colours.length - 1;
  const fine = new Uint8Array(W * H);
  for (let i = 0; i < W * H; i++) if (rooms.room[i]! >= 0) fine[i] = of[rooms.room[i]!]!;
  const labels = mostOfFour(fine, w, h);
  const costs0 = paintedCosts(labels, colours, w, h);
  dropThin(labels, costs0.costs, w, h, colours.length, Math.max(2, 0.4 * narrow));
  mergeSpecks(labels, costs0.costs, w, h, colours.length, { least: 0.5 * narrow ** 2, wanted: 0 });
  const inked = design === 'keep' ? layStrokes(labels, drawn, figure, w, h, narrow, ink) : new Uint8Array(w * h);
  const inside = (x: number, y: number): boolean => {
    const [u, v] = [Math.floor(x), Math.floor(y)];
    return u >= 0 && v >= 0 && u < w && v < h && labels[v * w + u] !== 0;
  };
  const drawnShapes = eyesThatShow(shapeFeatures(face, 0.5, w, h, narrow, inside), labels, w, h, lightestOf(colours));
  const mirrored = mirrorFigure(labels, drawnShapes, w, h);
  const shapes = mirrored?.shapes ?? drawnShapes;
  const hold = paintFeatures(labels, shapes, w, h, { ink, white: lightestOf(colours) });
  const { cells, costs } = paintedCosts(labels, colours, w, h);
  const onBorder = nearBorders(labels, w, h, Math.max(2, drawn.stroke / 2 + 1.5));
  const strokes = findStitchLines(figure.strokes, W, H, (x, y) => {
    const i = Math.min(h - 1, y >> 1) * w + Math.min(w - 1, x >> 1);
    return onBorder[i] === 1 || hold[i] === 1 || inked[i] === 1 || masses[y * W + x] === 1;
  });
  return {
    labels,
    colours,
    costs,
    cells,
    notes: [],
    hold,
    features: shapes.map(({ role: _, outline, ...rest }) => ({
      ...rest,
      outline: outline.map(([x, y]) => [x / w, y / h] as const),
    })),
    strokes,
    ...(mirrored && { axis: mirrored.axis / w }),
  };
}

/** The fabrics, the ground first and the ink last, and which each room has. */
function chooseColours(
  drawn: Drawn,
  rooms: Rooms,
  away: Float32Array,
  { shades, most, seed }: ShadeSettings,
  design: Design,
  given: RoleColours,
): { colours: Lab[]; of: number[] } {
  const solid = rooms.list.map((r) => r.solid);
  const fills = measureFills(drawn, rooms.room, rooms.list.length, solid, away);
  const base = paletteOf(drawn.paper, drawn.pen);
  const named = (role: Role): Lab => (given[role] ? oklabOfHex(given[role]) : base[role]);
  const ground = named('ground');
  const room = (shades === 'auto' ? (most ?? 6) : shades) - 2;
  const filled = rooms.list.flatMap((r, a) => (fills[a] ? [{ a, fill: fills[a]!, area: r.area }] : []));
  const own = groupFills(filled, Math.max(0, Math.min(MOST_OWN, room)), seed);
  const shown: Lab[] = [];
  for (const c of own.colours) shown.push(standApart(c, ground, shown));
  const roles = rolesOf(rooms, own.of(rooms.list.length));
  const left = Math.max(shown.length ? 0 : 1, room - shown.length);
  // kept strokes part the figure from the ground, so it can be a step lighter
  const step = {
    body: design === 'keep' ? 'belly' : 'body',
    belly: design === 'keep' ? 'body' : 'belly',
    back: 'back',
  } as const;
  const family: ('body' | 'belly' | 'back')[] = (['body', 'back', 'belly'] as const).slice(0, left);
  const colours: Lab[] = [ground, ...shown];
  const labelOf = new Map<string, number>();
  const ink = -1;
  const of = rooms.list.map((r, a): number => {
    const mine = own.of(rooms.list.length)[a]!;
    if (mine >= 0) return 1 + mine;
    if (r.solid || roles[a] === 'ink') return ink;
    const role = roles[a] as 'body' | 'belly' | 'back';
    const has = family.includes(role) ? role : family[0];
    if (!has) return 1;
    let label = labelOf.get(has);
    if (label === undefined) {
      label = colours.length;
      labelOf.set(has, label);
      colours.push(standApart(named(given[has] ? has : step[has]), ground, colours.slice(1)));
    }
    return label;
  });
  colours.push(standApart(named('ink'), ground, []));
  return { colours, of: of.map((l) => (l < 0 ? colours.length - 1 : l)) };
}

function groupFills(
  filled: readonly { a: number; fill: Lab; area: number }[],
  most: number,
  seed: number,
): { colours: Lab[]; of: (count: number) => number[] } {
  if (!filled.length || most < 1) return { colours: [], of: (count) => new Array<number>(count).fill(-1) };
  const cloud = {
    points: Float64Array.from(filled.flatMap((f) => [...f.fill])),
    weights: Float64Array.from(filled, (f) => f.area),
  };
  let colours = clusterColours(cloud, Math.min(most, filled.length), seed) as Lab[];
  for (let k = colours.length; k > 1; k--) {
    if (colours.every((c, i) => colours.every((d, j) => i === j || labDistance(c, d) >= ALIKE))) break;
    colours = clusterColours(cloud, k - 1, seed) as Lab[];
  }
  const nearest = (fill: Lab): number =>
    colours.reduce((b, c, l) => (labDistance(c, fill) < labDistance(colours[b]!, fill) ? l : b), 0);
  return {
    colours,
    of: (count) => {
      const list = new Array<number>(count).fill(-1);
      for (const { a, fill } of filled) list[a] = nearest(fill);
      return list;
    },
  };
}

const lightestOf = (colours: readonly Lab[]): number =>
  colours.reduce((b, c, l) => (l > 0 && (b === 0 || c[0] > colours[b]![0]) ? l : b), 0);

/** An eye with a pupil whose white would lie on the same fabric is all pupil. */
function eyesThatShow(
  shapes: readonly FeatureShape[],
  labels: Uint8Array,
  w: number,
  h: number,
  white: number,
): readonly FeatureShape[] {
  const same = shapes.some(({ role, outline }) => {
    if (role !== 'white') return false;
    let [all, alike] = [0, 0];
    eachCellIn(outline, w, h, (i) => {
      all++;
      if (labels[i] === white) alike++;
    });
    return alike > 0.5 * all;
  });
  return same
    ? shapes.filter((s) => s.kind !== 'pupil').map((s) => (s.role === 'white' ? { ...s, role: 'ink' as const } : s))
    : shapes;
}

/** For each cell the label that most of its four steps have. */
function mostOfFour(fine: Uint8Array, w: number, h: number): Uint8Array {
  const W = 2 * w;
  const labels = new Uint8Array(w * h);
  for (let i = 0; i < w * h; i++) {
    const o = 2 * (Math.floor(i / w) * W + (i % w));
    const four = [fine[o]!, fine[o + 1]!, fine[o + W]!, fine[o + W + 1]!];
    labels[i] = four.reduce((b, l) =>
      four.filter((v) => v === l).length > four.filter((v) => v === b).length ? l : b,
    );
  }
  return labels;
}

function paintedCosts(
  labels: Uint8Array,
  colours: readonly Lab[],
  w: number,
  h: number,
): { cells: Cells; costs: Float32Array } {
  const lab = new Float32Array(w * h * 3);
  labels.forEach((l, i) => {
    lab.set(colours[l]!, 3 * i);
  });
  const cells: Cells = { width: w, height: h, lab };
  return { cells, costs: costsOf(cells, colours) };
}

/** Lays the figure's strokes over its rooms, the thin ones widened to what can be sewn; gives the cells they took. */
function layStrokes(
  labels: Uint8Array,
  drawn: Drawn,
  figure: Figure,
  w: number,
  h: number,
  narrow: number,
  ink: number,
): Uint8Array {
  const inked = halve(
    maskWhere(drawn.ink.length, (i) => drawn.ink[i] === 1 && figure.mask[i] === 1),
    w,
    h,
    2,
  );
  const least = Math.max(2, 0.6 * narrow);
  const covered = coveredByDisc(inked, w, h, least);
  const laid = Uint8Array.from(inked);
  for (let i = 0; i < w * h; i++) {
    if (!inked[i] || covered[i]) continue;
    for (const [dx, dy] of discOffsets(least - 1)) {
      const x = (i % w) + dx;
      const y = Math.floor(i / w) + dy;
      if (x >= 0 && y >= 0 && x < w && y < h) laid[y * w + x] = 1;
    }
  }
  for (let i = 0; i < w * h; i++) if (laid[i]) labels[i] = ink;
  return laid;
}

/** Paints the features into the labels; gives the cells that later steps leave alone. */
function paintFeatures(
  labels: Uint8Array,
  shapes: readonly FeatureShape[],
  w: number,
  h: number,
  label: { readonly ink: number; readonly white: number },
): Uint8Array {
  const hold = new Uint8Array(w * h);
  for (const { outline, role } of shapes)
    eachCellIn(outline, w, h, (i) => {
      labels[i] = label[role];
      hold[i] = 1;
    });
  return hold;
}

/** 1 where a cell of another label lies within `reach`. */
function nearBorders(labels: Uint8Array, w: number, h: number, reach: number): Uint8Array {
  const near = new Uint8Array(w * h);
  const disc = discOffsets(2 * reach);
  const mark = (i: number): void => {
    for (const [dx, dy] of disc) {
      const x = (i % w) + dx;
      const y = Math.floor(i / w) + dy;
      if (x >= 0 && y >= 0 && x < w && y < h) near[y * w + x] = 1;
    }
  };
  for (let i = 0; i < w * h; i++) {
    if (i % w < w - 1 && labels[i] !== labels[i + 1]) mark(i);
    if (i + w < w * h && labels[i] !== labels[i + w]) mark(i);
  }
  return near;
}
