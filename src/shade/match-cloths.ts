// Gives each shade of a posterised picture one of the fabrics that someone has: nearest by CIEDE2000, light stays light and
// neighbours stay apart. Takes a Shading, gives it in those fabrics, and what the person should know.
import { leastDifference } from '../colour/colour-blind.ts';
import { colourDifference, lightness } from '../colour/difference.ts';
import type { Shading } from '../data.ts';
import { fabricCode } from './make-fabrics.ts';
import type { Cloth } from './read-cloths.ts';

/** House rule: fabrics that touch differ by this in CIEDE2000 at least. */
const APART = 10;
/** A swatch this far from its shade is another colour: worth a word. */
const FAR = 20;
/** Share of all borders under which two fabrics hardly touch. */
const TOUCH = 0.01;
/** What a CIEDE2000 step too little between neighbours counts beside one off the shade's own colour. */
const CONTRAST = 3;
/** What an L* step counts by which two shades' lightness is turned round. */
const ORDER = 2;

export interface ClothsMatched {
  readonly shading: Shading;
  readonly matches: readonly { readonly shade: string; readonly name: string; readonly difference: number }[];
}

/** For each row its column so that the sum of costs is least (Kuhn 1955; the form with potentials of Jonker & Volgenant
 *  1987). Rows <= columns. */
export function assignLeast(cost: readonly (readonly number[])[]): number[] {
  const n = cost.length;
  const m = cost[0]?.length ?? 0;
  const [u, v] = [new Float64Array(n + 1), new Float64Array(m + 1)];
  const [row, way] = [new Int32Array(m + 1), new Int32Array(m + 1)];
  for (let i = 1; i <= n; i++) {
    row[0] = i;
    let j0 = 0;
    const least = new Float64Array(m + 1).fill(Infinity);
    const used = new Uint8Array(m + 1);
    do {
      used[j0] = 1;
      const i0 = row[j0]!;
      let delta = Infinity;
      let j1 = 0;
      for (let j = 1; j <= m; j++) {
        if (used[j]) continue;
        const c = cost[i0 - 1]![j - 1]! - u[i0]! - v[j]!;
        if (c < least[j]!) {
          least[j] = c;
          way[j] = j0;
        }
        if (least[j]! < delta) {
          delta = least[j]!;
          j1 = j;
        }
      }
      for (let j = 0; j <= m; j++)
        if (used[j]) {
          u[row[j]!]! += delta;
          v[j]! -= delta;
        } else least[j]! -= delta;
      j0 = j1;
    } while (row[j0] !== 0);
    do {
      const j1 = way[j0]!;
      row[j0] = row[j1]!;
      j0 = j1;
    } while (j0);
  }
  const out = new Array<number>(n).fill(-1);
  for (let j = 1; j <= m; j++) if (row[j]) out[row[j]! - 1] = j - 1;
  return out;
}

/** Share of the block of each label, and of all borders' length of each pair of labels. */
function measureRegions({ width: w, height: h, labels, fabrics }: Shading): { share: number[]; touch: number[][] } {
  const k = fabrics.length;
  const share = fabrics.map(() => 0);
  const touch = fabrics.map(() => new Array<number>(k).fill(0));
  let borders = 0;
  const look = (i: number, j: number): void => {
    const [a, b] = [labels[i]!, labels[j]!];
    if (a === b) return;
    borders++;
    touch[a]![b]!++;
    touch[b]![a]!++;
  };
  for (let i = 0; i < w * h; i++) {
    share[labels[i]!]! += 1 / (w * h);
    if (i % w < w - 1) look(i, i + 1);
    if (i + w < w * h) look(i, i + w);
  }
  return { share, touch: touch.map((row) => row.map((v) => v / Math.max(1, borders))) };
}

/** `again`: one cloth may serve for several shades. There must be as many cloths as shades otherwise. */
export function matchCloths(shading: Shading, cloths: readonly Cloth[], again: boolean): ClothsMatched {
  const { fabrics } = shading;
  const k = fabrics.length;
  if (!again && cloths.length < k)
    throw new Error(`${k} shades cannot be matched to ${cloths.length} cloths once each`);
  const { share, touch } = measureRegions(shading);
  const off = fabrics.map((f) => cloths.map((c) => colourDifference(f.colour, c.colour)));
  // a small shade is an eye: it counts for more than its share
  const weight = share.map((s) => Math.sqrt(s));
  const light = fabrics.map((f) => lightness(f.colour));
  const clothLight = cloths.map((c) => lightness(c.colour));
  const between = new Map<number, number>();
  const apart = (p: number, q: number): number => {
    const key = Math.min(p, q) * cloths.length + Math.max(p, q);
    let d = between.get(key);
    if (d === undefined) {
      d = colourDifference(cloths[p]!.colour, cloths[q]!.colour);
      between.set(key, d);
    }
    return d;
  };
  const worth = (pick: readonly number[]): number => {
    let sum = 0;
    for (let s = 0; s < k; s++) {
      sum += weight[s]! * off[s]![pick[s]!]!;
      for (let t = s + 1; t < k; t++) {
        const edge = Math.sqrt(touch[s]![t]!);
        if (edge) sum += CONTRAST * edge * Math.max(0, APART - apart(pick[s]!, pick[t]!));
        const step = light[s]! - light[t]!;
        const now = clothLight[pick[s]!]! - clothLight[pick[t]!]!;
        if (step * now < 0) sum += ORDER * Math.min(Math.abs(step), Math.abs(now)) * Math.min(weight[s]!, weight[t]!);
      }
    }
    return sum;
  };
  let pick = again
    ? off.map((row) => row.indexOf(Math.min(...row)))
    : assignLeast(off.map((row, s) => row.map((d) => d * weight[s]!)));
  let best = worth(pick);
  // exchanged one for one, or two for each other, as long as the whole gets better
  for (let round = 0; round < 50; round++) {
    let better: number[] | undefined;
    const look = (next: number[]): void => {
      const value = worth(next);
      if (value < best - 1e-9) {
        best = value;
        better = next;
      }
    };
    for (let s = 0; s < k; s++) {
      for (let c = 0; c < cloths.length; c++)
        if (c !== pick[s] && (again || !pick.includes(c))) look(pick.map((v, i) => (i === s ? c : v)));
      for (let t = s + 1; t < k; t++) look(pick.map((v, i) => (i === s ? pick[t]! : i === t ? pick[s]! : v)));
    }
    if (!better) break;
    pick = better;
  }
  return dress(shading, cloths, pick, off);
}

/** The shading in the cloths that were picked, light to dark again. */
function dress(
  shading: Shading,
  cloths: readonly Cloth[],
  pick: readonly number[],
  off: readonly number[][],
): ClothsMatched {
  const used = [...new Set(pick)].sort((p, q) => lightness(cloths[q]!.colour) - lightness(cloths[p]!.colour) || p - q);
  const order = pick.map((c) => used.indexOf(c));
  const fabrics = used.map((c, i) => ({ id: `f${i + 1}`, code: fabricCode(i), ...cloths[c]!, hatch: i }));
  const mark = <T extends { readonly fabric: number }>(m: T): T => ({ ...m, fabric: order[m.fabric]! });
  const dressed: Shading = {
    ...shading,
    labels: shading.labels.map((l) => order[l]!),
    fabrics,
    grown: shading.grown.map(mark),
    lost: shading.lost.map(mark),
    ...(shading.features && { features: shading.features.map(mark) }),
  };
  const matches = pick.map((c, s) => ({
    shade: shading.fabrics[s]!.colour,
    name: cloths[c]!.name,
    difference: Math.round(10 * off[s]![c]!) / 10,
  }));
  const notes = [
    ...matches
      .filter((m) => m.difference >= FAR)
      .map((m) => `None of your fabrics is near to ${m.shade}; "${m.name}" takes its place and looks quite different.`),
    ...pairWarnings(dressed),
  ];
  return { shading: { ...dressed, notes: [...shading.notes, ...notes] }, matches };
}

/** Fabrics that touch and are hardly told apart: by anyone, or by the colour-blind. */
export function pairWarnings(shading: Shading): string[] {
  const { fabrics } = shading;
  const { touch } = measureRegions(shading);
  const notes: string[] = [];
  for (let s = 0; s < fabrics.length; s++)
    for (let t = s + 1; t < fabrics.length; t++) {
      if (touch[s]![t]! < TOUCH) continue;
      const [a, b] = [fabrics[s]!, fabrics[t]!];
      const difference = colourDifference(a.colour, b.colour);
      if (difference < APART)
        notes.push(
          `"${a.name}" and "${b.name}" touch and are hardly told apart (difference ${difference.toFixed(1)}, at least ${APART} is wanted): choose another fabric for one of them.`,
        );
      else if (leastDifference(a.colour, b.colour).difference < APART)
        notes.push(
          `"${a.name}" and "${b.name}" touch and look alike to someone who is colour-blind; their codes and hatches tell them apart on paper.`,
        );
    }
  return notes;
}
