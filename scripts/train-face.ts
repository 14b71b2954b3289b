// Teaches the face model from labelled pictures and says how good it is on photos that it was not taught on.
// npx tsx scripts/train-face.ts [--write] [--folder ../shared/pictures] : prints each photo left out; --write keeps the model of all.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { seededRandom } from '../src/colour/cluster.ts';
import {
  type DescribeNose,
  describeNose,
  type FaceModel,
  findFacePairs,
  firstMeasures,
  type Line,
  SECOND_LOOKS,
  scoreOf,
  secondMeasures,
} from '../src/figure/find-face.ts';
import { findFigure } from '../src/figure/find-figure.ts';
import { toLook } from '../src/figure/look.ts';
import {
  describeFace,
  describePart,
  EYE_WIDE,
  FACE_LENGTH,
  facePatch,
  PART_LENGTH,
  type Pair,
  pairOf,
} from '../src/figure/pairs.ts';
import { type Example, readExamples } from './face-examples.ts';
import { addScatter, emptyScatter, type Scatter, solveDiscriminant, teachLogistic } from './teach.ts';

const random = seededRandom(1);
const examples = await readExamples();
const reach = examples.filter((e) => e.face);
console.log(
  `${examples.length} pictures, ${reach.length} faces, of which the right pair is among the spots' in ${reach.filter((e) => e.truth.includes(1)).length}; pairs a picture: ${Math.round(examples.reduce((t, e) => t + e.truth.length, 0) / examples.length)}`,
);
const groups = [...new Set(examples.map((e) => e.group))];
const faceGroups = [...new Set(reach.map((e) => e.group))];

/** The labelled pair, moved a little. */
function moved(e: Example, amount: number): Pair {
  const shift = (): number => amount * (random() - 0.5) * 2;
  const d = Math.hypot(e.eyes[1]![0] - e.eyes[0]![0], e.eyes[1]![1] - e.eyes[0]![1]);
  const [a, b] = e.eyes.map(([x, y]) => ({ x: x + shift() * d, y: y + shift() * d, sigma: 0.12 * d, strength: 1 }));
  return pairOf(a!, b!);
}

/** How the look would be were it mirrored. */
const mirrored = (patch: Float32Array, n: number): Float32Array => {
  const out = Float32Array.from(patch);
  for (let r = 0; r < n; r++) out.subarray(r * n, r * n + n).reverse();
  return out;
};

type Which = 'face' | 'eye' | 'nose';
const LENGTH: Record<Which, number> = { face: FACE_LENGTH, eye: PART_LENGTH, nose: PART_LENGTH };
const scatters = new Map<string, Record<Which, Scatter>>();
for (const group of groups) {
  const s = { face: emptyScatter(LENGTH.face), eye: emptyScatter(LENGTH.eye), nose: emptyScatter(LENGTH.nose) };
  scatters.set(group, s);
  const own = examples.filter((e) => e.group === group);
  for (const e of own) {
    const weight = 1 / own.length;
    const { seen } = e;
    const wrong = seen.pairs.map((_, i) => i).filter((i) => e.truth[i] === 0);
    const some = wrong.filter(() => random() < 500 / wrong.length);
    for (const i of some) addScatter(s.face, e.described[i]!, false, weight);
    for (const i of some.filter((_, k) => k % 2 === 0)) {
      const p = seen.pairs[i]!;
      [p.left, p.right].forEach((spot, side) => {
        if (e.eyes.every(([x, y, w]) => Math.hypot(spot.x - x, spot.y - y) > 0.8 * w))
          addScatter(s.eye, describePart(seen.pyramid, spot.x, spot.y, p, EYE_WIDE, side === 1), false, weight);
      });
      const [u, v] = [0.8 * (random() - 0.5), 0.3 + 1.2 * random()];
      addScatter(s.nose, describeNose(seen, p, u, v), false, weight);
    }
    if (!e.face) continue;
    for (let k = 0; k < 10; k++) {
      const p = moved(e, k ? 0.05 : 0);
      const patch = facePatch(seen.pyramid, p);
      for (const q of [patch, mirrored(patch, 48)]) addScatter(s.face, describeFace(q), true, weight);
      [p.left, p.right].forEach((spot, side) => {
        addScatter(s.eye, describePart(seen.pyramid, spot.x, spot.y, p, EYE_WIDE, side === 1), true, weight);
      });
      if (!e.nose) continue;
      const [dx, dy] = [e.nose[0] - p.x, e.nose[1] - p.y];
      const [u, v] = [(dx * p.ux + dy * p.uy) / p.d, (dy * p.ux - dx * p.uy) / p.d];
      addScatter(s.nose, describeNose(seen, p, u, v), true, weight);
      for (let t = 0; t < 12; t++) {
        const [a, b] = [0.8 * (random() - 0.5), 0.3 + 1.2 * random()];
        if (Math.hypot(a - u, b - v) > 0.3) addScatter(s.nose, describeNose(seen, p, a, b), false, 2 * weight);
      }
    }
  }
}

const lines = new Map<string, Line>();
/** The discriminant taught on all groups but these. */
function lineWithout(which: Which, out: readonly string[]): Line {
  const key = `${which}:${[...new Set(out)].sort().join('|')}`;
  const known = lines.get(key);
  if (known) return known;
  const line = solveDiscriminant(
    groups.filter((g) => !out.includes(g)).map((g) => scatters.get(g)![which]),
    LENGTH[which],
  );
  lines.set(key, line);
  return line;
}

const noses = new Map<Pair, Map<number, Float32Array>>();
const keptNose: DescribeNose = (seen, pair, u, v) => {
  const own = noses.get(pair) ?? new Map<number, Float32Array>();
  noses.set(pair, own);
  const key = Math.round(u * 1000) * 10000 + Math.round(v * 1000);
  const d = own.get(key) ?? describeNose(seen, pair, u, v);
  own.set(key, d);
  return d;
};

const measured = new Map<Pair, number[]>();
/** The measures of a pair but for the template's score, which is the line's. */
function firstOf(e: Example, i: number, face: Line): number[] {
  const pair = e.seen.pairs[i]!;
  const own = measured.get(pair) ?? firstMeasures(e.seen, pair, face);
  measured.set(pair, own);
  return [scoreOf(face, e.described[i]!), ...own.slice(1)];
}

/** The model taught on all groups but `out` (none: on all). */
function teach(out: readonly string[]): FaceModel {
  const used = examples.filter((e) => !out.includes(e.group) && (e.face || !e.label.usable || e.label.eyes.length < 2));
  const cross = (e: Example, which: Which): Line =>
    lineWithout(which, faceGroups.includes(e.group) ? [...out, e.group] : out);
  const first: { of: number[]; right: boolean; weight: number }[] = [];
  const perExample = used.map((e) => e.seen.pairs.map((_, i) => firstOf(e, i, cross(e, 'face'))));
  used.forEach((e, n) => {
    const share = 1 / examples.filter((o) => o.group === e.group).length;
    const rights = e.truth.filter((t) => t === 1).length;
    const wrongs = e.truth.filter((t) => t === 0).length;
    perExample[n]!.forEach((of, i) => {
      if (e.truth[i] !== -1)
        first.push({
          of,
          right: e.truth[i] === 1,
          weight: (share * (e.truth[i] === 1 ? 1 : 2)) / (e.truth[i] === 1 ? rights : wrongs),
        });
    });
  });
  const firstLine = teachLogistic(first, 0.02);
  const second: { of: number[]; right: boolean; weight: number }[] = [];
  used.forEach((e, n) => {
    const share = 1 / examples.filter((o) => o.group === e.group).length;
    const order = perExample[n]!.map((of, i) => ({ i, of, score: scoreOf(firstLine, of) })).sort(
      (a, b) => b.score - a.score,
    );
    const top = order.filter(({ i }, k) => e.truth[i] === 1 || (k < SECOND_LOOKS && e.truth[i] === 0));
    const rights = top.filter(({ i }) => e.truth[i] === 1).length;
    for (const { i, of } of top) {
      const { measures } = secondMeasures(
        e.seen,
        e.seen.pairs[i]!,
        { eye: cross(e, 'eye'), nose: cross(e, 'nose') },
        keptNose,
      );
      const right = e.truth[i] === 1;
      second.push({ of: [...of, ...measures], right, weight: share * (right ? 1 / rights : 3 / SECOND_LOOKS) });
    }
  });
  const secondLine = teachLogistic(second, 0.03);
  return {
    face: lineWithout('face', out),
    eye: lineWithout('eye', out),
    nose: lineWithout('nose', out),
    first: firstLine,
    second: secondLine,
  };
}

const NAMES = [
  'template',
  'mirror',
  'mirror eyes',
  'eyes alike',
  'ln d',
  'ln d 2',
  'tilt',
  'weak',
  'strong',
  'sizes',
  'wide',
  'wide 2',
  'mask eyes',
  'mask face',
  'mask above',
  'down',
  'down 2',
  'cascade',
  'eye min',
  'eye max',
  'nose',
  'nose u',
  'nose v2',
];
let [half, one, nosesRight] = [0, 0, 0];
const sures: { sure: number; right: boolean }[] = [];
const others = groups.filter((g) => !faceGroups.includes(g));
// pictures without a face are left out by thirds
const folds = [...faceGroups.map((g) => [g]), ...[0, 1, 2].map((k) => others.filter((_, i) => i % 3 === k))];
for (const fold of folds) {
  const model = teach(fold);
  for (const e of examples.filter((o) => fold.includes(o.group))) {
    const found = findFacePairs(e.seen, model)[0];
    const figure = findFigure(e.opened, e.guess, { aspect: 1, faces: e.seen.faces }, model);
    const parts = figure.eyes.length ? figure : figure.guess;
    let word = '';
    let right = false;
    if (e.face && found) {
      const at = parts?.eyes.map((p) => toLook(e.seen.look, p.x * e.opened.pixels[0], p.y * e.opened.pixels[1])) ?? [];
      const off = [found.pair.left, found.pair.right].map(
        (s, i) => Math.hypot((at[i]?.[0] ?? s.x) - e.eyes[i]![0], (at[i]?.[1] ?? s.y) - e.eyes[i]![1]) / e.eyes[i]![2],
      );
      const spots = [found.pair.left, found.pair.right].map(
        (s, i) => Math.hypot(s.x - e.eyes[i]![0], s.y - e.eyes[i]![1]) / e.eyes[i]![2],
      );
      const worst = Math.max(...off);
      const nose = e.nose ? Math.hypot(found.nose.x - e.nose[0], found.nose.y - e.nose[1]) / e.nose[2] : 9;
      right = worst <= 0.5;
      half += right ? 1 : 0;
      one += worst <= 1 ? 1 : 0;
      nosesRight += nose <= 0.5 ? 1 : 0;
      word = `eyes off ${off.map((v) => v.toFixed(2)).join(' ')} (spots ${spots.map((v) => v.toFixed(2)).join(' ')}), nose ${nose.toFixed(2)}${right ? '' : '  WRONG'}`;
    }
    sures.push({ sure: found?.sure ?? 0, right });
    console.log(`${(found?.sure ?? 0).toFixed(3)} ${e.face ? 'face' : e.label.view} ${e.name}: ${word}`);
  }
}
console.log(
  `left out: eyes within half a width ${half}/${reach.length}, within one ${one}/${reach.length}, nose ${nosesRight}/${reach.length}`,
);
sures.sort((a, b) => b.sure - a.sure);
for (const level of [0.98, 0.95, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5]) {
  const called = sures.filter((s) => s.sure >= level);
  console.log(`sure ${level}: right ${called.filter((s) => s.right).length} of ${called.length}`);
}
const model = teach([]);
console.log(
  NAMES.map((n, i) => `${n} ${(model.second as Line & { standard: number[] }).standard[i]!.toFixed(2)}`).join(', '),
);
if (process.argv.includes('--write')) {
  const short = (line: Line): Line => ({
    weights: Array.from(line.weights, (v) => Number(v.toPrecision(4))),
    bias: Number(line.bias.toPrecision(5)),
  });
  const kept = Object.fromEntries(Object.entries(model).map(([k, line]) => [k, short(line as Line)]));
  writeFileSync(
    join(import.meta.dirname, '..', 'src', 'figure', 'face-model', 'face.json'),
    `${JSON.stringify(kept)}\n`,
  );
}
