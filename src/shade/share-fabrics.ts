// One set of fabrics for several pictures: colours clustered over all of them together, and each picture's shades given to
// fabrics of the set. Takes Shadings, gives fabrics, and Shadings in them.
import type { Fabric } from '../block.ts';
import { type ColourCloud, clusterColours, joinClouds } from '../colour/cluster.ts';
import { colourDifference } from '../colour/difference.ts';
import { hexOfOklab, type Lab, labDistance, oklabOfHex } from '../colour/oklab.ts';
import type { Landmark, Shading } from '../data.ts';
import { fabricsOf } from './make-fabrics.ts';

/** A picture's shades, each counting by its share of the block. */
export function shadesOf(shading: Shading): ColourCloud {
  const weights = new Float64Array(shading.fabrics.length);
  for (const l of shading.labels) weights[l]! += 1 / shading.labels.length;
  return { points: Float64Array.from(shading.fabrics.flatMap((f) => [...oklabOfHex(f.colour)])), weights };
}

/** The `count` fabrics that stand for all pictures together, light to dark, those of `keep` ("#rrggbb") among them. A picture counts as
 *  much as any other; the order in which they are given does not matter. */
export function shareFabrics(
  pictures: readonly ColourCloud[],
  count: number,
  seed: number,
  keep: readonly string[] = [],
): Fabric[] {
  const key = (c: ColourCloud): string => [...c.points, ...c.weights].join();
  const sorted = [...pictures].sort((a, b) => (key(a) < key(b) ? -1 : 1));
  const colours = clusterColours(joinClouds(sorted), count, seed, keep.map(oklabOfHex));
  const kept: string[] = [];
  // nobody buys two fabrics that nobody can tell apart; those that were asked for stay
  const wanted = (c: string): boolean => keep.some((k) => k.toLowerCase() === c);
  const hexes = [...colours].sort((a, b) => b[0] - a[0]).map(hexOfOklab);
  for (const c of hexes) {
    const like = kept.findIndex((k) => colourDifference(k, c) < ALIKE);
    if (like < 0 || (wanted(c) && !kept.includes(c) && wanted(kept[like]!))) kept.push(c);
    else if (wanted(c)) kept[like] = c;
  }
  return fabricsOf(kept);
}

/** CIEDE2000 under which two fabrics look the same on the bolt (house rule; touching ones are held further apart). */
const ALIKE = 5;

/** Two shades that are this far apart should not become one fabric if another is nearly as near (OKLab). */
const APART = 0.06;
/** what it costs to make one fabric of two shades, against what it costs to show a shade in another colour */
const BLUR = 2;

/** How far off its shade's colour a fabric may be before it is another one (a and b of OKLab), and what that costs beside the distance. */
const TINT = 0.05;
const OTHER_COLOUR = 1;

/** The same picture in fabrics of the set: shades go to near fabrics, and two shades to one only where that is better than
 *  showing one of them far off. The fabrics it has no use for are not in it. */
export function dressIn(shading: Shading, set: readonly Fabric[]): Shading {
  const shades = shadesOf(shading);
  const own = shading.fabrics.map((f) => oklabOfHex(f.colour));
  const chosen = chooseFabrics(
    own,
    shades.weights,
    set.map((f) => oklabOfHex(f.colour)),
  );
  const used = [...new Set(chosen)].sort((a, b) => a - b);
  const to = chosen.map((k) => used.indexOf(k));
  const landmark = (m: Landmark): Landmark => ({ ...m, fabric: to[m.fabric]! });
  return {
    ...shading,
    labels: shading.labels.map((l) => to[l]!),
    fabrics: used.map((k) => set[k]!),
    grown: shading.grown.map(landmark),
    lost: shading.lost.map(landmark),
    ...(shading.features && { features: shading.features.map((f) => ({ ...f, fabric: to[f.fabric]! })) }),
  };
}

/** How far a fabric is from the shade that it stands for: fur lighter, darker or duller is the same fur, in another colour it is not. */
function shownAs(shade: Lab, fabric: Lab): number {
  const [, a, b] = shade;
  const [, p, q] = fabric;
  // how far it lies off the way from grey to the shade
  const share = Math.max(0, Math.min(1, (p * a + q * b) / Math.max(1e-9, a * a + b * b)));
  const off = Math.hypot(p - share * a, q - share * b);
  return labDistance(shade, fabric) + OTHER_COLOUR * Math.max(0, off - TINT);
}

/** The cheapest choice of a fabric for each shade, by trying all with a bound; the largest shades first. */
function chooseFabrics(own: readonly Lab[], share: Float64Array, set: readonly Lab[]): number[] {
  const order = own.map((_, i) => i).sort((a, b) => share[b]! - share[a]! || a - b);
  // an eye is small and matters: no shade counts for less than a twentieth
  const weight = (i: number): number => Math.max(0.05, share[i]!);
  const away = own.map((c, i) => set.map((s) => weight(i) * shownAs(c, s)));
  const least = away.map((row) => Math.min(...row));
  /** what the shades from place n on cost at the least */
  const rest = order.map((_, n) => order.slice(n).reduce((t, i) => t + least[i]!, 0));
  const taken: number[] = new Array(own.length).fill(-1);
  let best: number[] = [];
  let bestCost = Infinity;
  const visit = (n: number, cost: number): void => {
    if (cost + (rest[n] ?? 0) >= bestCost - 1e-12) return;
    const i = order[n];
    if (i === undefined) {
      best = [...taken];
      bestCost = cost;
      return;
    }
    const nearFirst = set.map((_, k) => k).sort((a, b) => away[i]![a]! - away[i]![b]! || a - b);
    for (const k of nearFirst.slice(0, own.length)) {
      let more = away[i]![k]!;
      for (const j of order.slice(0, n))
        if (taken[j] === k) {
          const apart = labDistance(own[i]!, own[j]!);
          if (apart > APART) more += BLUR * Math.min(weight(i), weight(j)) * apart;
        }
      taken[i] = k;
      visit(n + 1, cost + more);
      taken[i] = -1;
    }
  };
  visit(0, 0);
  return best;
}
