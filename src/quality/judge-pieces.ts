// The rules of single pieces: none a sliver, none a crumb of the background, no fabric a speck, sound at the block's outer edge, values
// that are told apart.
import type { Block } from '../block.ts';
import { colourDifference, lightness } from '../colour/difference.ts';
import { cornerAngles, distance, narrowestWidth, type Point, type Polygon } from '../geometry/polygon.ts';
import { ROUNDING, type RuleFound, rule, share, sum } from './rule.ts';
import type { FlatPiece, SharedEdge } from './seams.ts';

/** Length over width, the length along the side of the narrowest box. */
export function stretchOf(P: Polygon): number {
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

export function slivers(
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

const onOuter = ([w, h]: readonly [number, number], a: Point, b: Point): boolean =>
  [0, w].some((x) => Math.abs(a[0] - x) < ROUNDING && Math.abs(b[0] - x) < ROUNDING) ||
  [0, h].some((y) => Math.abs(a[1] - y) < ROUNDING && Math.abs(b[1] - y) < ROUNDING);

const edgesOf = (P: Polygon): [Point, Point][] => P.map((a, i) => [a, P[(i + 1) % P.length]!]);

export function crumbs(
  block: Block,
  pieces: readonly FlatPiece[],
  edges: readonly SharedEdge[],
  scale: number,
): RuleFound {
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

export function specks(block: Block, pieces: readonly FlatPiece[], scale: number): RuleFound {
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

export function outerEdge(block: Block, pieces: readonly FlatPiece[], scale: number): RuleFound {
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

export function values(block: Block, pieces: readonly FlatPiece[], edges: readonly SharedEdge[]): RuleFound {
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
