// Takes a finished block and the posterised picture it was fitted to; gives the table that says whether it is a good block,
// rule by rule. House rules for a 12 in block; lengths scale with the block.
import type { Block } from '../block.ts';
import { colourDifference, lightness } from '../colour/difference.ts';
import { oklabOfHex } from '../colour/oklab.ts';
import type { Shading } from '../data.ts';
import { FACE_REACH, findFace, findLandmarks } from '../geometry/landmarks.ts';
import { cornerAngles, distance, narrowestWidth, type Point, type Polygon } from '../geometry/polygon.ts';
import { featureRegions, judgeMarks } from './marks.ts';
import { judgeOutline } from './outline.ts';
import { endsOnJoin, type FlatPiece, flatten, type SharedEdge, sharedEdges } from './seams.ts';
import { countStairs } from './stairs.ts';

export interface RuleFound {
  readonly rule: number;
  readonly name: string;
  readonly holds: boolean;
  /** what was counted or measured; shares 0..1, lengths in mm */
  readonly figures: Readonly<Record<string, number>>;
}

export interface Quality {
  readonly rules: readonly RuleFound[];
  /** a rule that marks a block as poor does not hold: the outline, eyes, joins through them, near misses, crowding */
  readonly poor: boolean;
  /** points where seams meet across a join */
  readonly pointsToMatch: number;
}

export interface QualityOptions {
  /** narrowest finished width, mm */
  readonly smallest: number;
  /** most pieces in a section */
  readonly mostPieces: number;
}

const POOR = [1, 2, 3, 5, 6];
const MATCHED = 0.25;
const ROUNDING = 0.02;

export function measureQuality(block: Block, shading: Shading, options: QualityOptions): Quality {
  const scale = Math.min(...block.size) / 304.8;
  const pieces = flatten(block);
  const edges = sharedEdges(pieces);
  const joins = block.joins.map((j) => j.seam);
  const ends = joins.map((seam) => endsOnJoin(seam, pieces));
  const colours = shading.fabrics.map((f) => oklabOfHex(f.colour));
  const { labels, width, height } = shading;
  const least = 1.5 * ((options.smallest * width) / block.size[0]) ** 2;
  const marks = shading.features
    ? featureRegions(shading.features, width, height)
    : findLandmarks(labels, width, height, colours, least);
  const face = findFace(marks, width, height, FACE_REACH * Math.min(width, height));
  const inFace = ([x, y]: Point): boolean =>
    face?.[
      Math.min(height - 1, Math.floor((y / block.size[1]) * height)) * width +
        Math.min(width - 1, Math.floor((x / block.size[0]) * width))
    ] === 1;
  const matched = ends.reduce(
    (n, [left, right]) => n + left.filter((a) => right.some((b) => Math.abs(a - b) <= MATCHED)).length,
    0,
  );
  const rules = [
    ...judgeOutline(shading, block.size, pieces),
    ...judgeMarks(marks, shading, block, pieces, scale),
    slivers(pieces, options.smallest, scale, inFace),
    nearMisses(ends, scale),
    crowding(pieces, ends, scale),
    crumbs(block, pieces, edges, scale),
    specks(block, pieces, scale),
    changes(joins, pieces, edges),
    outerEdge(block, pieces, scale),
    sections(block, options.mostPieces),
    values(block, pieces, edges),
    rule(13, 'stairs', { stairs: countStairs(pieces, edges, scale, block.size[0] / width) }, (f) => f.stairs === 0),
  ];
  return { rules, poor: rules.some((r) => !r.holds && POOR.includes(r.rule)), pointsToMatch: matched };
}

function rule<F extends Record<string, number>>(
  n: number,
  name: string,
  figures: F,
  holds: (f: F) => boolean,
): RuleFound {
  return { rule: n, name, holds: holds(figures), figures };
}

const share = (part: number, whole: number): number => (whole > 0 ? part / whole : 0);
const sum = <T>(list: readonly T[], f: (t: T) => number): number => list.reduce((n, t) => n + f(t), 0);

/** Length over width, the length along the side of the narrowest box. */
function stretchOf(P: Polygon): number {
  const narrow = narrowestWidth(P);
  let long = 0;
  P.forEach((a, i) => {
    const b = P[(i + 1) % P.length]!;
    const length = distance(a, b);
    const dx = (b[0] - a[0]) / length;
    const dy = (b[1] - a[1]) / length;
    const across = P.map((q) => (q[1] - a[1]) * dx - (q[0] - a[0]) * dy);
    if (Math.max(...across) - Math.min(...across) > narrow + 1e-6) return;
    const u = P.map((q) => q[0] * dx + q[1] * dy);
    long = Math.max(long, Math.max(...u) - Math.min(...u));
  });
  return long / narrow;
}

function slivers(
  pieces: readonly FlatPiece[],
  smallest: number,
  scale: number,
  inFace: (q: Point) => boolean,
): RuleFound {
  const stretches = pieces.map((p) => stretchOf(p.outline));
  const angles = pieces.flatMap((p) => cornerAngles(p.outline));
  const short = sum(pieces, ({ outline }) =>
    sum([...outline.keys()], (i) => {
      const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
      const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      return distance(a, b) < (inFace(middle) ? 6.35 : 9.525) * scale - ROUNDING ? 1 : 0;
    }),
  );
  const figures = {
    narrow: pieces.filter((p) => narrowestWidth(p.outline) < smallest - ROUNDING).length,
    over8: stretches.filter((s) => s > 8.01).length,
    over5: share(stretches.filter((s) => s > 5).length, pieces.length),
    sharpCorners: share(angles.filter((a) => a < 25).length, angles.length),
    shortEdges: short,
  };
  return rule(
    4,
    'slivers',
    figures,
    (f) => f.narrow + f.over8 + f.shortEdges === 0 && f.over5 <= 0.05 && f.sharpCorners <= 0.05,
  );
}

function nearMisses(ends: readonly (readonly [number[], number[]])[], scale: number): RuleFound {
  const misses = sum(ends, ([left, right]) =>
    sum(
      left,
      (a) => right.filter((b) => Math.abs(a - b) > MATCHED && Math.abs(a - b) < 9.525 * scale - ROUNDING).length,
    ),
  );
  return rule(5, 'near misses', { misses }, (f) => f.misses === 0);
}

function crowding(
  pieces: readonly FlatPiece[],
  ends: readonly (readonly [number[], number[]])[],
  scale: number,
): RuleFound {
  let mostEnds = 0;
  let tight = 0;
  for (const [left, right] of ends) {
    const points = left.filter((a) => right.some((b) => Math.abs(a - b) <= MATCHED));
    for (const a of points)
      mostEnds = Math.max(
        mostEnds,
        sum([...left, ...right], (b) => (Math.abs(a - b) <= MATCHED ? 1 : 0)),
      );
    points.forEach((a, i) => {
      if (i > 0 && a - points[i - 1]! < 12.7 * scale) tight++;
    });
  }
  let mostPieces = 0;
  for (const p of pieces)
    for (const c of p.outline)
      mostPieces = Math.max(
        mostPieces,
        sum(pieces, (q) =>
          q.outline.some((d) => Math.abs(c[0] - d[0]) < MATCHED && Math.abs(c[1] - d[1]) < MATCHED) ? 1 : 0,
        ),
      );
  return rule(
    6,
    'crowding',
    { seamEnds: mostEnds, pieces: mostPieces, tight },
    (f) => f.seamEnds <= 4 && f.pieces <= 6 && f.tight === 0,
  );
}

const onOuter = ([w, h]: readonly [number, number], a: Point, b: Point): boolean =>
  [0, w].some((x) => Math.abs(a[0] - x) < ROUNDING && Math.abs(b[0] - x) < ROUNDING) ||
  [0, h].some((y) => Math.abs(a[1] - y) < ROUNDING && Math.abs(b[1] - y) < ROUNDING);

const edgesOf = (P: Polygon): [Point, Point][] => P.map((a, i) => [a, P[(i + 1) % P.length]!]);

function crumbs(block: Block, pieces: readonly FlatPiece[], edges: readonly SharedEdge[], scale: number): RuleFound {
  const rim = new Array<number>(block.fabrics.length).fill(0);
  for (const p of pieces)
    for (const [a, b] of edgesOf(p.outline)) if (onOuter(block.size, a, b)) rim[p.fabric]! += distance(a, b);
  const ground = rim.indexOf(Math.max(...rim));
  // a plain ground runs along most of the outer edge
  const plain = rim[ground]! > 0.6 * sum(rim, (v) => v);
  const atOutline = new Set(
    edges.filter((e) => pieces[e.pieces[0]]!.fabric !== pieces[e.pieces[1]]!.fabric).flatMap((e) => e.pieces),
  );
  const background = pieces.flatMap((p, i) => (p.fabric === ground ? [i] : []));
  const same = edges.filter((e) => pieces[e.pieces[0]]!.fabric === pieces[e.pieces[1]]!.fabric);
  return rule(
    7,
    'crumbs',
    {
      background: plain ? share(background.length, pieces.length) : 0,
      crumbs: plain ? background.filter((i) => pieces[i]!.area < 645.16 * scale ** 2 && !atOutline.has(i)).length : 0,
      sameFabric: share(
        sum(same, (e) => e.length),
        sum(edges, (e) => e.length),
      ),
    },
    (f) => f.background <= 0.3 && f.crumbs === 0 && f.sameFabric <= 0.2,
  );
}

function specks(block: Block, pieces: readonly FlatPiece[], scale: number): RuleFound {
  const whole = block.size[0] * block.size[1];
  const rare = block.fabrics.filter((_, i) => {
    const own = pieces.filter((p) => p.fabric === i);
    return own.length > 0 && (own.length < 3 || sum(own, (p) => p.area) < 0.015 * whole);
  }).length;
  return rule(
    8,
    'specks',
    { rareFabrics: rare, least: Math.min(...pieces.map((p) => p.area)) / scale ** 2 },
    (f) => f.rareFabrics === 0,
  );
}

function changes(
  joins: readonly (readonly [Point, Point])[],
  pieces: readonly FlatPiece[],
  edges: readonly SharedEdge[],
): RuleFound {
  const across = edges.filter((e) => pieces[e.pieces[0]]!.section !== pieces[e.pieces[1]]!.section);
  const change = across.filter((e) => pieces[e.pieces[0]]!.fabric !== pieces[e.pieces[1]]!.fabric);
  const onChange = share(
    sum(change, (e) => e.length),
    sum(across, (e) => e.length),
  );
  return rule(
    9,
    'joins on a change of fabric',
    { onChange, joins: joins.length },
    (f) => f.joins === 0 || f.onChange >= 0.5,
  );
}

function outerEdge(block: Block, pieces: readonly FlatPiece[], scale: number): RuleFound {
  const least = 19.05 * Math.min(1, scale) - ROUNDING;
  let short = 0;
  let flat = 0;
  const corner = ([x, y]: Point): boolean =>
    (x < ROUNDING || x > block.size[0] - ROUNDING) && (y < ROUNDING || y > block.size[1] - ROUNDING);
  for (const { outline } of pieces) {
    const n = outline.length;
    const angles = cornerAngles(outline);
    edgesOf(outline).forEach(([a, b], i) => {
      if (!onOuter(block.size, a, b)) return;
      if (distance(a, b) < least) short++;
      if (!corner(a) && angles[i]! < 29.95) flat++;
      if (!corner(b) && angles[(i + 1) % n]! < 29.95) flat++;
    });
  }
  return rule(10, 'edge of the block', { shortEdges: short, flatSeams: flat }, (f) => f.shortEdges + f.flatSeams === 0);
}

function sections(block: Block, most: number): RuleFound {
  const counts = block.sections.map((s) => s.pieces.length);
  return rule(
    11,
    'sections',
    {
      most: Math.max(...counts),
      small: share(counts.filter((n) => n <= 2).length, counts.length),
      single: counts.filter((n) => n === 1).length,
      stretch: Math.max(...block.sections.map((s) => stretchOf(s.outline))),
    },
    (f) => f.most <= most && f.small <= 0.2 && f.stretch <= 5,
  );
}

function values(block: Block, pieces: readonly FlatPiece[], edges: readonly SharedEdge[]): RuleFound {
  const shades = block.fabrics.map((f) => lightness(f.colour));
  let difference = 100;
  let shadow = 0;
  for (const { pieces: pair, length } of edges) {
    const [p, q] = pair.map((i) => pieces[i]!) as [FlatPiece, FlatPiece];
    if (p.fabric === q.fabric) continue;
    difference = Math.min(
      difference,
      colourDifference(block.fabrics[p.fabric]!.colour, block.fabrics[q.fabric]!.colour),
    );
    // the allowance lies under the piece added last; joins are pressed open
    const [first, last] = p.number < q.number ? [p, q] : [q, p];
    if (p.section === q.section && shades[last.fabric]! - shades[first.fabric]! > 25) shadow += length;
  }
  const shadows = share(
    shadow,
    sum(edges, (e) => e.length),
  );
  return rule(
    12,
    'values',
    { leastDifference: difference, shadows },
    (f) => f.leastDifference >= 10 && f.shadows <= 0.1,
  );
}
