// The first partition: cuts laid along label borders, the one that tells the fabrics apart best first (as in Radha,
// Vetterli & Leonardi 1996, and in oblique decision trees), until the wished-for number of pieces is reached.
import type { Borders } from './borders.ts';
import type { Cutting } from './cutting.ts';
import type { Random } from './random.ts';

/** chords tried for each piece */
const TRIES = 60;

interface Candidate {
  readonly leaf: number;
  readonly gain: number;
  readonly line: readonly [nx: number, ny: number, d: number];
  readonly points: Int32Array;
}

/** A line through a border point and another some way along its chain; false where the two coincide. */
export function chordThrough(borders: Borders, i: number, away: number, line: Float64Array): boolean {
  const first = borders.first[i]!;
  const n = borders.past[i]! - first;
  let j = i + away;
  if (borders.closed[i]) j = first + ((((j - first) % n) + n) % n);
  else j = Math.max(first, Math.min(first + n - 1, j));
  const dx = borders.x[j]! - borders.x[i]!;
  const dy = borders.y[j]! - borders.y[i]!;
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length < 1e-6) return false;
  line[0] = -dy / length;
  line[1] = dx / length;
  line[2] = line[0]! * borders.x[i]! + line[1]! * borders.y[i]!;
  return true;
}

/** Cuts the pieces that are there into `pieces` pieces at most; fewer where nothing is left that a cut would tell apart. */
export function growCuts(cutting: Cutting, borders: Borders, pieces: number, random: Random): void {
  const line = new Float64Array(3);
  const best = (leaf: number, points: Int32Array): Candidate => {
    let gain = 0;
    let found: [number, number, number] = [0, 0, 0];
    const b = cutting.region[leaf]!;
    cutting.sums.measure(cutting.xy, b * 24, cutting.corners[b]!);
    const before = cutting.impurity();
    for (let t = 0; points.length > 0 && t < TRIES; t++) {
      const i = points[random.below(points.length)]!;
      const reach = 3 + random.below(45);
      if (!chordThrough(borders, i, random.next() < 0.5 ? reach : -reach, line)) continue;
      if (cutting.probe(leaf, line[0]!, line[1]!, line[2]!) === -Infinity) continue;
      const g = before - cutting.gini;
      if (g > gain) {
        gain = g;
        found = [line[0]!, line[1]!, line[2]!];
      }
    }
    return { leaf, gain, line: found, points };
  };
  const within = new Map<number, number[]>(cutting.nodes().flatMap((v) => (cutting.isLeaf(v) ? [[v, []]] : [])));
  for (let i = 0; i < borders.count; i++) within.get(cutting.leafAt(borders.x[i]!, borders.y[i]!))!.push(i);
  let open = [...within].map(([leaf, points]) => best(leaf, Int32Array.from(points)));
  for (let n = open.length; n < pieces; n++) {
    let top: Candidate | undefined;
    for (const c of open) if (c.gain > 1e-6 && (!top || c.gain > top.gain)) top = c;
    if (!top) return;
    const [nx, ny, d] = top.line;
    cutting.begin();
    if (!cutting.addCut(top.leaf, nx, ny, d, true)) throw new Error('a cut that was found good cannot be made');
    cutting.settle();
    cutting.accept();
    const piece = cutting.right[cutting.parent[top.leaf]!]!;
    const kept = top.points.filter((i) => nx * borders.x[i]! + ny * borders.y[i]! < d);
    const rest = top.points.filter((i) => nx * borders.x[i]! + ny * borders.y[i]! >= d);
    const done = top.leaf;
    open = open.filter((c) => c.leaf !== done);
    open.push(best(done, kept), best(piece, rest));
  }
}
