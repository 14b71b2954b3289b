// Lays the parts of a face on a shading: each a shape of one fabric that stands out from what lies round it, a fabric of its own where
// no shade serves. Takes a Shading and shapes, gives a Shading with features painted, weighed and named.
import { lightness } from '../colour/difference.ts';
import { hexOfOklab, type Lab, oklabOfHex } from '../colour/oklab.ts';
import type { FaceShape, Feature, Shading } from '../data.ts';
import { insideConvex, type Point } from '../geometry/polygon.ts';
import { fabricsOf, orderShades } from './make-fabrics.ts';

/** L* gaps (house rules): an eye to what lies round it, and where that is asked for a nose. */
const EYE_GAP = 26;
const NOSE_GAP = 18;
/** What a step of OKLab's a and b counts for beside L*. */
const TINT = 130;
/** An iris is at least this light and this much lighter than its pupil, L*; a pupil at most so light. */
const IRIS_LIGHT = 46;
const IRIS_GAP = 21;
const IRIS_OVER = 28;
const PUPIL_DARK = 16;
const FUR_DARK = 20;
/** A shade of the picture serves where it is no farther from the part's own colour than this (OKLab). */
const SERVES = 0.1;
/** Share of what lies about a part, from which a shade is there. */
const TOUCHES = 0.03;
/** Share of the block about a part in which its cells weigh more, and how much more. */
const ABOUT = 0.035;
const WEIGHT = 10;
/** Share of the block about an eye that gets one shade: what frames it must be calm. */
const CALM_ABOUT = 0.038;
/** L* from which a shade frames a dark eye well, and the share of what lies about the eyes that it must have. */
const LIGHT_ROUND = 45;
const ENOUGH_LIGHT = 0.15;
/** What a step of L* above that counts for, beside a share of what lies about an eye. */
const LIGHTER = 0.012;
/** The least and the most light a part may have, L*. */
const DARKEST = 9;
/** L* of what lies round an eye under which the eye must be lighter, and the chroma that it then has. */
const DARK_ROUND = 34;
const WARM = 0.09;
/** the least chroma of an iris with a pupil in it: yellow and black together must not look like the brown of fur */
const VIVID = 0.135;
/** the most chroma of a pupil */
const DULL = 0.025;
const IRIS_HUES = [
  [58, 150],
  [220, 275],
] as const;
const BROWN_HUE = 72;
/** where the corners of such a shape lie along its upper and lower side */
const CORNER = 0.23;
const LIGHTEST = 92;

export interface FaceShown {
  readonly shading: Shading;
  /** how many fabrics are for eyes and nose alone */
  readonly scraps: number;
  /** parts that could not be given a fabric that stands out */
  readonly faint: readonly FaceShape['kind'][];
}

/** The colour of the same hue at another CIE L*, found by halving. */
function atLightness([, a, b]: Lab, wanted: number): Lab {
  let [low, high] = [0, 1];
  for (let step = 0; step < 24; step++) {
    const mid = (low + high) / 2;
    if (lightness(hexOfOklab([mid, a, b])) < wanted) low = mid;
    else high = mid;
  }
  return [(low + high) / 2, a, b];
}

/** A colour that an iris can have: amber, yellow, green or blue (OKLab hue in degrees), never the pink of the lids, and not grey. An eye in
 *  dark fur shows as its iris: brown, for that is what dark irises are when light falls in. */
function warmed([L, a, b]: Lab, least: number): Lab {
  const chroma = Math.hypot(a, b);
  const degrees = ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
  const known = chroma > 0.03 && IRIS_HUES.some(([from, to]) => degrees >= from && degrees <= to);
  const hue = ((known ? degrees : BROWN_HUE) * Math.PI) / 180;
  const strong = Math.max(least, chroma);
  return [L, strong * Math.cos(hue), strong * Math.sin(hue)];
}

/** A pupil's colour: next to black, for dark red and dark green eyes stare. */
function muted([L, a, b]: Lab): Lab {
  const k = Math.min(1, DULL / (Math.hypot(a, b) || DULL));
  return [L, k * a, k * b];
}

/** Whether a point, grown outward by `by` from the outline's middle, lies in it; shares of the block. */
function near(outline: readonly Point[], [x, y]: Point, by: number): boolean {
  if (insideConvex(outline, [x, y])) return true;
  if (!by) return false;
  for (let i = 0; i < outline.length; i++) {
    const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
    if (Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy) <= by) return true;
  }
  return false;
}

/** A box of four corners, clockwise from the left top, as a shape of six that is pointed at its sides. */
function pointed(box: readonly Point[]): readonly Point[] {
  if (box.length !== 4) return box;
  const [a, b, c, d] = box as [Point, Point, Point, Point];
  const on = (p: Point, q: Point, t: number): Point => [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
  return [on(a, d, 0.5), on(a, b, CORNER), on(a, b, 1 - CORNER), on(b, c, 0.5), on(d, c, 1 - CORNER), on(d, c, CORNER)];
}

/** The cells of a w x h grid whose middles lie in an outline (shares of the block) or within `by` of it. */
export function cellsNear(outline: readonly Point[], w: number, h: number, by: number): number[] {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  const cells: number[] = [];
  for (let y = Math.max(0, Math.floor((Math.min(...ys) - by) * h)); y < Math.min(h, (Math.max(...ys) + by) * h); y++)
    for (let x = Math.max(0, Math.floor((Math.min(...xs) - by) * w)); x < Math.min(w, (Math.max(...xs) + by) * w); x++)
      if (near(outline, [(x + 0.5) / w, (y + 0.5) / h], by)) cells.push(y * w + x);
  return cells;
}

/** `ground` is the label of the one ground, which no part may take; absent where the background is kept. */
export function showFace(base: Shading, shapes: readonly FaceShape[], ground?: number): FaceShown {
  const { width: w, height: h } = base;
  const labels = Uint8Array.from(base.labels);
  const colours: Lab[] = base.fabrics.map((f) => oklabOfHex(f.colour));
  const shades = colours.length;
  const levelOf = (l: number): number => lightness(hexOfOklab(colours[l]!));
  const outer = shapes.filter((s) => s.within === undefined);
  /** what lies round a part: its labels by how much of the ring they have */
  const ringOf = (shape: FaceShape, reach = ABOUT / 2): { label: number; share: number }[] => {
    const inside = new Set(cellsNear(shape.outline, w, h, 0));
    const counts = new Map<number, number>();
    let n = 0;
    for (const i of cellsNear(shape.outline, w, h, reach)) {
      if (inside.has(i)) continue;
      counts.set(labels[i]!, (counts.get(labels[i]!) ?? 0) + 1);
      n++;
    }
    return [...counts]
      .map(([label, c]) => ({ label, share: c / n }))
      .sort((a, b) => b.share - a.share || a.label - b.label);
  };
  // one calm shade about each eye; both of a pair the same
  const eyes = outer.filter((s) => s.kind === 'eye');
  const votes = new Map<number, number>();
  for (const eye of eyes)
    for (const { label, share } of ringOf(eye, ABOUT))
      if (label !== ground) votes.set(label, (votes.get(label) ?? 0) + share);
  // a dark eye shows on the lighter of the shades about it
  const lighter = [...votes].filter(([label]) => levelOf(label) >= LIGHT_ROUND);
  const irises = shapes.some((s) => s.within !== undefined);
  if (!irises && lighter.reduce((t, [, share]) => t + share, 0) >= ENOUGH_LIGHT * eyes.length)
    for (const [label, share] of [...votes]) {
      const light = levelOf(label) - LIGHT_ROUND;
      if (light < 0) votes.delete(label);
      else votes.set(label, share + LIGHTER * eyes.length * light);
    }
  const common = [...votes].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0];
  for (const eye of eyes) {
    const own = ringOf(eye).filter((r) => r.label !== ground)[0];
    const to = own && own.share > 0.75 && votes.has(own.label) ? own.label : common;
    if (to !== undefined) for (const i of cellsNear(eye.outline, w, h, CALM_ABOUT)) labels[i] = to;
  }
  // a shade that lies about an eye or a nose anywhere would run into it
  const touching = new Set<number>();
  for (const shape of outer)
    for (const { label, share } of ringOf(shape, ABOUT)) if (share > TOUCHES) touching.add(label);
  const faint: FaceShape['kind'][] = [];
  const made: number[] = [];
  interface Round {
    readonly colour: Lab;
    readonly share: number;
  }
  // an iris may stand out by its colour as well; all else by how light or dark it is
  const apart = (p: Lab, q: Lab, tint: number): number =>
    Math.hypot(lightness(hexOfOklab(p)) - lightness(hexOfOklab(q)), tint * Math.hypot(p[1] - q[1], p[2] - q[2]));
  /** undefined where an iris would not show: then the whole eye is dark */
  const fabricOf = (shape: FaceShape, round: readonly Round[], gap: number, iris: boolean): number | undefined => {
    const dark = round.reduce((t, r) => t + r.share * lightness(hexOfOklab(r.colour)), 0) < DARK_ROUND;
    const bright = iris || (shape.kind === 'eye' && dark);
    const seen = oklabOfHex(shape.colour);
    const own = bright ? warmed(seen, iris ? VIVID : WARM) : shape.kind === 'nose' ? seen : muted(seen);
    const stands = (c: Lab): number =>
      round.reduce((t, r) => t + (apart(c, r.colour, iris ? TINT : 0) >= gap ? r.share : 0), 0);
    const [low, high] =
      shape.kind === 'pupil' ? [DARKEST, PUPIL_DARK] : iris ? [IRIS_LIGHT, LIGHTEST] : [DARKEST, LIGHTEST];
    // fur that serves as an eye must be dark itself
    const most = shape.kind === 'eye' && !bright ? FUR_DARK : high;
    // a fabric that was made for another part first, then a shade of the picture
    const known = colours
      .map((c, l) => ({
        c,
        l,
        far: Math.hypot(c[0] - own[0], c[1] - own[1], c[2] - own[2]) - (l >= shades ? 0.08 : 0),
      }))
      .filter(
        ({ c, l, far }) =>
          l !== ground &&
          far < SERVES &&
          !touching.has(l) &&
          stands(c) >= 0.8 &&
          levelOf(l) >= low - 1 &&
          levelOf(l) <= most + 4,
      )
      .sort((p, q) => p.far - q.far || p.l - q.l)[0];
    if (known) return known.l;
    const ownLight = lightness(hexOfOklab(own));
    // an eye without an iris of its own is its pupil
    const wanted = shape.kind === 'eye' && !bright ? Math.min(ownLight, PUPIL_DARK) : ownLight;
    let best: { colour: Lab; shows: number; worth: number } | undefined;
    for (let level = low; level <= high; level++) {
      const colour = atLightness(own, level);
      const shows = stands(colour);
      // darker rather than lighter, but for an iris
      const worth =
        Math.min(0.85, shows) -
        0.004 * Math.abs(level - wanted) -
        (level > wanted && !bright ? 0.003 * (level - wanted) : 0);
      if (!best || worth > best.worth + 1e-9) best = { colour, shows, worth };
    }
    if (best!.shows < 0.6 && iris) return undefined;
    if (best!.shows < 0.6) faint.push(shape.kind);
    colours.push(best!.colour);
    made.push(colours.length - 1);
    return colours.length - 1;
  };
  const features: Feature[] = [];
  const pairFabric = new Map<string, number>();
  const keyOf = ({ kind, pair, outline }: FaceShape): string => `${kind} ${pair ?? outline.join(' ')}`;
  const roundOf = (shape: FaceShape, all: readonly FaceShape[]): Round[] => {
    const both = all.filter((s) => keyOf(s) === keyOf(shape));
    return both.flatMap((s) =>
      ringOf(s).map(({ label, share }) => ({ colour: colours[label]!, share: share / both.length })),
    );
  };
  const gapOf = ({ kind }: FaceShape): number => (kind === 'eye' || kind === 'pupil' ? EYE_GAP : NOSE_GAP);
  const hasPupil = (shape: FaceShape): boolean =>
    shapes.some((s) => s.within !== undefined && shapes[s.within] === shape);
  // irises first: where they would not show, the eyes are wholly as dark as their pupils
  let parts = shapes;
  for (const eye of shapes.filter(hasPupil)) {
    if (pairFabric.has(keyOf(eye)) || parts !== shapes) continue;
    const fabric = fabricOf(eye, roundOf(eye, shapes), IRIS_GAP, true);
    if (fabric !== undefined) pairFabric.set(keyOf(eye), fabric);
    else
      parts = shapes
        .filter((s) => s.within === undefined)
        .map((s) => {
          const pupil = shapes.find((o) => o.within !== undefined && shapes[o.within] === s);
          return pupil ? { ...s, colour: pupil.colour, outline: pointed(s.outline) } : s;
        });
  }
  for (const shape of parts) {
    const key = keyOf(shape);
    const within = shape.within === undefined ? undefined : features[shape.within]!;
    const round = within ? [{ colour: colours[within.fabric]!, share: 1 }] : roundOf(shape, parts);
    const fabric = pairFabric.get(key) ?? fabricOf(shape, round, within ? IRIS_OVER : gapOf(shape), false)!;
    pairFabric.set(key, fabric);
    for (const i of cellsNear(shape.outline, w, h, 0)) labels[i] = fabric;
    features.push({
      ...{ kind: shape.kind, outline: shape.outline, fabric },
      ...(shape.pair !== undefined && { pair: shape.pair }),
      ...(shape.within !== undefined && { within: shape.within }),
    });
  }
  const weights = base.weights ? Float32Array.from(base.weights) : new Float32Array(w * h).fill(1);
  const raised = new Set<number>();
  for (const shape of outer) for (const i of cellsNear(shape.outline, w, h, ABOUT)) raised.add(i);
  for (const i of raised) weights[i]! *= WEIGHT;
  const ordered = orderShades(labels, colours);
  const to = (l: number): number => Math.max(0, ordered.order[l]!);
  return {
    shading: {
      ...base,
      labels: ordered.labels,
      fabrics: fabricsOf(ordered.colours),
      weights,
      features: features.map((f) => ({ ...f, fabric: to(f.fabric) })),
      grown: [],
      lost: [],
    },
    scraps: made.length,
    faint,
  };
}
