// Takes a figure's ink; gives its eyes, nose and beak: small solid shapes and rings inside it that stand as a face does.

import type { Figure } from './find-figure.ts';
import { partsOf, reachFrom } from './flood.ts';
import { countIn, maskWhere } from './masks.ts';
import { partsOf8 } from './parts.ts';

/** One small shape inside the figure, in cells of the mask. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** its area with what it encloses */
  readonly area: number;
  /** share of its box that it fills */
  readonly full: number;
  /** share of it that is ink */
  readonly ink: number;
  /** how much of its area lies in its upper half, 0..1 */
  readonly upper: number;
  /** a smaller spot inside it */
  readonly pupil?: Spot;
  /** a short line: the eye of one that sleeps */
  readonly dash?: boolean;
  /** a small room between strokes */
  readonly hollow?: boolean;
  /** a mass that is part of a longer stroke, not a shape that stands alone */
  readonly bound: boolean;
  readonly cells: readonly number[];
}

export interface FaceParts {
  readonly eyes: readonly Spot[];
  readonly nose?: Spot;
}

/** Share of its box that an eye fills at least (a circle .79, a triangle .5), how much longer than wide it is at most, and its share
 *  of the figure at most. */
const LEAST_FULL = 0.48;
const LONGEST = 2.5;
const LARGEST = 0.05;
const SMALLEST = 0.0012;
/** Least worth of a single eye, as a share of the next best: several alike are spots. */
const ALONE = 1.5;

/** Every small shape inside the figure that could be an eye or a nose. `masses`: wide parts of the ink; `small`: those and such as are
 *  hardly wider than a stroke. */
export function findSpots(
  { mask, walls }: Figure,
  ink: Uint8Array,
  masses: Uint8Array,
  small: Uint8Array,
  w: number,
  h: number,
  stroke: number,
): Spot[] {
  const size = countIn(mask);
  const spots: Spot[] = [];
  const closed = maskWhere(w * h, (i) => walls[i] === 1 && mask[i] === 1);
  const atGround = (i: number): boolean => {
    const x = i % w;
    return (
      x === 0 || x === w - 1 || i < w || i + w >= w * h || !mask[i - 1] || !mask[i + 1] || !mask[i - w] || !mask[i + w]
    );
  };
  const add = (cells: readonly number[], bound: boolean): void => {
    const spot = measureSpot(cells, ink, w, h, bound);
    if (!bound && isDash(spot, size)) spots.push({ ...spot, dash: true });
    if (spot.full < LEAST_FULL || spot.area > LARGEST * size) return;
    if (Math.max(spot.width, spot.height) > LONGEST * Math.min(spot.width, spot.height)) return;
    if (spot.area < Math.max(9, 0.8 * stroke ** 2, SMALLEST * size)) return;
    spots.push(spot);
  };
  for (const cells of partsOf8(closed, w, h)) if (!cells.some(atGround)) add(cells, false);
  const free = new Uint8Array(w * h);
  for (const s of spots) for (const i of s.cells) free[i] = 1;
  for (const cells of partsOf8(small, w, h)) if (!cells.some((i) => free[i] || !mask[i])) add(cells, true);
  spots.push(...smallRooms(mask, walls, ink, masses, spots, size, w, h));
  return nested(spots);
}

/** Whether a free stroke is a short line that lies: not as round as an eye, and no longer than an eye may be. */
const isDash = (s: Spot, size: number): boolean =>
  (s.full < LEAST_FULL || s.width > LONGEST * s.height) &&
  s.width >= 1.3 * s.height &&
  s.width > 0.02 * Math.sqrt(size) &&
  s.width < 0.25 * Math.sqrt(size);

/** Small rooms between strokes: with a mass of ink at their side the whites of eyes that hang on the outline, else hollow. */
function smallRooms(
  mask: Uint8Array,
  walls: Uint8Array,
  ink: Uint8Array,
  masses: Uint8Array,
  free: readonly Spot[],
  size: number,
  w: number,
  h: number,
): Spot[] {
  const dark = partsOf8(masses, w, h).map((c) => measureSpot(c, ink, w, h, true));
  const found: Spot[] = [];
  const long = (s: Spot): boolean => Math.max(s.width, s.height) > LONGEST * Math.min(s.width, s.height);
  for (const cells of partsOf((i) => mask[i] === 1 && !walls[i], w, h).list) {
    if (cells.length > LARGEST * size || cells.length < 30) continue;
    const white = measureSpot(cells, ink, w, h, true);
    if (free.some((s) => !s.bound && Math.abs(s.x - white.x) < s.width / 2 && Math.abs(s.y - white.y) < s.height / 2))
      continue;
    const pupil = dark.find(
      (d) =>
        d.area > 0.1 * white.area &&
        d.area < 1.6 * white.area &&
        d.full > 0.55 &&
        Math.abs(d.x - white.x) < 0.6 * white.width &&
        Math.abs(d.y - white.y) < 0.6 * white.height,
    );
    const whole = pupil && measureSpot([...cells, ...pupil.cells], ink, w, h, false);
    if (whole && whole.full >= 0.6 && !long(whole)) found.push({ ...whole, pupil });
    else if (white.full >= 0.6 && !long(white) && white.area >= SMALLEST * size) found.push({ ...white, hollow: true });
  }
  return found;
}

/** Shapes that lie in others become their pupils. */
function nested(spots: readonly Spot[]): Spot[] {
  const inside = (p: Spot, q: Spot): boolean =>
    p !== q &&
    !p.dash &&
    !q.hollow &&
    p.area < q.area &&
    Math.abs(p.x - q.x) < q.width / 2 &&
    Math.abs(p.y - q.y) < q.height / 2;
  const outer = spots.filter((p) => !spots.some((q) => inside(p, q) && q.ink < 0.75));
  return outer
    .filter((p) => !spots.some((q) => inside(p, q) && q.ink >= 0.75))
    .map((q) => {
      const within = spots.filter((p) => inside(p, q)).sort((a, b) => b.area * b.ink - a.area * a.ink)[0];
      return within && q.ink < 0.75 ? { ...q, pupil: within } : q;
    });
}

function measureSpot(cells: readonly number[], ink: Uint8Array, w: number, h: number, bound: boolean): Spot {
  let [x0, x1, y0, y1] = [w, 0, h, 0];
  for (const i of cells) {
    const x = i % w;
    const y = (i - x) / w;
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  const [bw, bh] = [x1 - x0 + 3, y1 - y0 + 3];
  const own = new Uint8Array(bw * bh);
  for (const i of cells) own[(Math.floor(i / w) - y0 + 1) * bw + (i % w) - x0 + 1] = 1;
  const outside = reachFrom((i) => !own[i], [0], bw, bh);
  const all: number[] = [];
  let [inked, upper] = [0, 0];
  for (let v = 1; v < bh - 1; v++)
    for (let u = 1; u < bw - 1; u++) {
      if (outside[v * bw + u]) continue;
      const i = (v + y0 - 1) * w + u + x0 - 1;
      all.push(i);
      if (ink[i]) inked++;
      if (v < bh / 2) upper++;
    }
  const [width, height] = [x1 - x0 + 1, y1 - y0 + 1];
  return {
    ...{ x: (x0 + x1 + 1) / 2, y: (y0 + y1 + 1) / 2, width, height, bound, cells: all },
    area: all.length,
    full: all.length / (width * height),
    ink: inked / all.length,
    upper: upper / all.length,
  };
}

/** What a spot is worth as an eye: round, of some size; a ring less than a disc, a mass of a longer stroke less still. */
const worthOf = (s: Spot): number => {
  const round =
    Math.max(0.05, Math.min(1, (s.full - 0.42) / 0.33)) *
    Math.min(1, (1.6 * Math.min(s.width, s.height)) / Math.max(s.width, s.height));
  return round * Math.sqrt(s.area) * (s.pupil && s.pupil.full > 0.55 ? 1.5 : 1) * (s.bound ? 0.3 : 1);
};

/** The pair that stands as eyes do, else the one shape that stands out; and what lies below and between as a nose. */
export function findFace(spots: readonly Spot[]): FaceParts {
  let best: { pair: [Spot, Spot]; worth: number } | undefined;
  const likely = spots.filter((s) => !s.bound && !s.dash);
  likely.forEach((p, i) => {
    for (const q of likely.slice(i + 1)) {
      const worth = pairWorth(p, q);
      if (worth > (best?.worth ?? 0)) best = { pair: p.x < q.x ? [p, q] : [q, p], worth };
    }
  });
  const single = [...likely].sort((a, b) => worthOf(b) - worthOf(a));
  if (!best) {
    const hanging = boundPair(spots);
    // feet are a pair too: only where no eye stands alone, or it is one of them
    if (hanging && (!single[0] || hanging.pair.includes(single[0]))) best = hanging;
  }
  // a pair much smaller than another shape is two spots beside an eye
  if (
    best &&
    single[0] &&
    !best.pair.includes(single[0]) &&
    worthOf(single[0]) > 1.6 * Math.max(...best.pair.map(worthOf))
  ) {
    const nose = noseOf(best.pair, spots);
    if (nose !== single[0]) best = undefined;
  }
  if (best) {
    const nose = noseOf(best.pair, spots);
    return { eyes: best.pair, ...(nose && { nose }) };
  }
  const [first, second] = single;
  const asleep = dashPair(spots);
  if (asleep && (!first || noseOf(asleep, spots) === first)) {
    const nose = noseOf(asleep, spots);
    return { eyes: asleep, ...(nose && { nose }) };
  }
  if (!first || (second && worthOf(first) < ALONE * worthOf(second))) return { eyes: [] };
  return { eyes: [first] };
}

/** How alike and level two must be that hang on other strokes, or are lines. */
const ALIKE = 0.55;

/** The best pair of which one or both hang on other strokes. Two rooms are ears as likely as eyes. */
function boundPair(spots: readonly Spot[]): { pair: [Spot, Spot]; worth: number } | undefined {
  let best: { pair: [Spot, Spot]; worth: number } | undefined;
  const open = spots.filter((s) => !s.dash);
  open.forEach((p, i) => {
    for (const q of open.slice(i + 1)) {
      if (p.hollow && q.hollow) continue;
      const alike = Math.min(p.area, q.area) / Math.max(p.area, q.area);
      if (alike < ALIKE || Math.abs(p.y - q.y) > 0.25 * Math.abs(p.x - q.x)) continue;
      if (Math.abs(p.x - q.x) > 3 * (p.width + q.width)) continue;
      const worth = pairWorth(p, q);
      if (worth > (best?.worth ?? 0)) best = { pair: p.x < q.x ? [p, q] : [q, p], worth };
    }
  });
  return best;
}

/** Two short lines side by side: eyes that are closed. */
function dashPair(spots: readonly Spot[]): [Spot, Spot] | undefined {
  let best: { pair: [Spot, Spot]; worth: number } | undefined;
  const lines = spots.filter((s) => s.dash);
  lines.forEach((p, i) => {
    for (const q of lines.slice(i + 1)) {
      const [dx, dy] = [Math.abs(p.x - q.x), Math.abs(p.y - q.y)];
      const alike = Math.min(p.width, q.width) / Math.max(p.width, q.width);
      if (alike < ALIKE || dy > 0.3 * dx || dx < 0.6 * (p.width + q.width) || dx > 3 * (p.width + q.width)) continue;
      const worth = alike * (p.width + q.width) * (1 - dy / dx);
      if (worth > (best?.worth ?? 0)) best = { pair: p.x < q.x ? [p, q] : [q, p], worth };
    }
  });
  return best?.pair;
}

function pairWorth(p: Spot, q: Spot): number {
  const [dx, dy] = [Math.abs(p.x - q.x), Math.abs(p.y - q.y)];
  const apart = Math.hypot(dx, dy);
  const wide = (p.width + q.width) / 2;
  const alike = Math.min(p.area, q.area) / Math.max(p.area, q.area);
  if (alike < 0.4 || apart < 1.15 * wide || apart > 9 * wide || dy > 0.5 * dx) return 0;
  const form = Math.min(p.width / q.width, q.width / p.width) * Math.min(p.height / q.height, q.height / p.height);
  return (worthOf(p) + worthOf(q)) * Math.sqrt(alike) * form * (1 - dy / dx) * Math.min(1, (6 * wide) / apart);
}

/** A nose lies below the middle of the eyes, nearer to it than to either. */
function noseOf([left, right]: readonly [Spot, Spot], spots: readonly Spot[]): Spot | undefined {
  const apart = Math.hypot(right.x - left.x, right.y - left.y);
  const [ux, uy] = [(right.x - left.x) / apart, (right.y - left.y) / apart];
  const [mx, my] = [(left.x + right.x) / 2, (left.y + right.y) / 2];
  let best: { spot: Spot; worth: number } | undefined;
  for (const spot of spots) {
    if (spot === left || spot === right || spot.dash) continue;
    const side = (spot.x - mx) * ux + (spot.y - my) * uy;
    const down = (spot.y - my) * ux - (spot.x - mx) * uy;
    if (Math.abs(side) > 0.4 * apart || down < 0.2 * apart || down > 1.9 * apart) continue;
    const worth =
      Math.sqrt(spot.area) * spot.full * (1 - Math.abs(side) / apart) * (1 - Math.abs(down / apart - 0.8) / 3);
    if (worth > (best?.worth ?? 0)) best = { spot, worth };
  }
  return best?.spot;
}
