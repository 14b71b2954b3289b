// What the face model is taught with: shrunk linear discriminants and logistic lines, both from sums that can be added up again
// for every choice of photos to leave out.

/** Weighted sums over examples of two classes. */
export interface Scatter {
  readonly count: [wrong: number, right: number];
  readonly sum: readonly [Float64Array, Float64Array];
  /** n x n, lower triangle, of each class */
  readonly square: readonly [Float64Array, Float64Array];
}

export const emptyScatter = (n: number): Scatter => ({
  count: [0, 0],
  sum: [new Float64Array(n), new Float64Array(n)],
  square: [new Float64Array(n * n), new Float64Array(n * n)],
});

export function addScatter(s: Scatter, of: Float32Array, right: boolean, weight: number): void {
  const c = right ? 1 : 0;
  s.count[c] += weight;
  const n = of.length;
  const square = s.square[c];
  for (let i = 0; i < n; i++) {
    const v = weight * of[i]!;
    s.sum[c][i]! += v;
    if (v === 0) continue;
    for (let j = 0, at = i * n; j <= i; j++, at++) square[at]! += v * of[j]!;
  }
}

/** How much of the spread is the right ones' own, and how much of the mean variance is added to all. */
const OF_RIGHT = 0.3;
const SHRINK = 0.1;

/** w = (S + .1 tr/n I)^-1 (mean right - mean wrong), scaled so that wrong ones score 0 with spread 1. */
export function solveDiscriminant(all: readonly Scatter[], n: number): { weights: Float64Array; bias: number } {
  const S = new Float64Array(n * n);
  const means = [0, 1].map((c) => {
    const count = all.reduce((t, s) => t + s.count[c]!, 0);
    const mean = new Float64Array(n);
    for (const s of all) for (let i = 0; i < n; i++) mean[i]! += s.sum[c]![i]! / count;
    const part = c ? OF_RIGHT : 1 - OF_RIGHT;
    for (const s of all) for (let q = 0; q < n * n; q++) S[q]! += (part * s.square[c]![q]!) / count;
    for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) S[i * n + j]! -= part * mean[i]! * mean[j]!;
    return mean;
  }) as [Float64Array, Float64Array];
  let trace = 0;
  for (let i = 0; i < n; i++) trace += S[i * n + i]!;
  for (let i = 0; i < n; i++) S[i * n + i]! += (SHRINK * trace) / n;
  const spread = Float64Array.from(S);
  const way = means[1].map((v, i) => v - means[0][i]!);
  const w = solve(S, way, n);
  let variance = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) variance += (i === j ? 1 : 2) * w[i]! * w[j]! * spread[i * n + j]!;
  const scale = 1 / Math.sqrt(Math.max(1e-12, variance));
  const weights = w.map((v) => v * scale);
  return { weights, bias: -weights.reduce((t, v, i) => t + v * means[0][i]!, 0) };
}

/** Solves A x = b for a symmetric positive A given by its lower triangle, which is overwritten (Cholesky). */
function solve(A: Float64Array, b: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++) {
    const ri = i * n;
    for (let j = 0; j <= i; j++) {
      const rj = j * n;
      let t = A[ri + j]!;
      for (let k = 0; k < j; k++) t -= A[ri + k]! * A[rj + k]!;
      if (i === j) {
        if (t <= 0) throw new Error('the spread is not positive');
        A[ri + i] = Math.sqrt(t);
      } else A[ri + j] = t / A[rj + j]!;
    }
  }
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= A[i * n + k]! * x[k]!;
    x[i]! /= A[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= A[k * n + i]! * x[k]!;
    x[i]! /= A[i * n + i]!;
  }
  return x;
}

/** Logistic regression with a penalty on the squared standardised weights, by Newton's steps. `standard` are those weights. */
export function teachLogistic(
  examples: readonly { of: readonly number[]; right: boolean; weight: number }[],
  penalty: number,
): { weights: number[]; bias: number; standard: number[] } {
  const n = examples[0]!.of.length;
  const total = examples.reduce((t, e) => t + e.weight, 0);
  const mean = Array.from({ length: n }, (_, i) => examples.reduce((t, e) => t + e.weight * e.of[i]!, 0) / total);
  const sd = mean.map(
    (m, i) => Math.sqrt(examples.reduce((t, e) => t + e.weight * (e.of[i]! - m) ** 2, 0) / total) + 1e-9,
  );
  const rows = examples.map((e) => [...e.of.map((v, i) => (v - mean[i]!) / sd[i]!), 1]);
  const m = n + 1;
  const w = new Float64Array(m);
  for (let step = 0; step < 25; step++) {
    const H = new Float64Array(m * m);
    const g = new Float64Array(m);
    examples.forEach((e, r) => {
      const row = rows[r]!;
      let t = 0;
      for (let i = 0; i < m; i++) t += w[i]! * row[i]!;
      const p = 1 / (1 + Math.exp(-t));
      const share = e.weight / total;
      const k = share * Math.max(1e-6, p * (1 - p));
      for (let i = 0; i < m; i++) {
        g[i]! += share * ((e.right ? 1 : 0) - p) * row[i]!;
        for (let j = 0; j <= i; j++) H[i * m + j]! += k * row[i]! * row[j]!;
      }
    });
    for (let i = 0; i < n; i++) {
      g[i]! -= penalty * w[i]!;
      H[i * m + i]! += penalty;
    }
    H[n * m + n]! += 1e-6;
    const d = solve(H, g, m);
    for (let i = 0; i < m; i++) w[i]! += d[i]!;
  }
  const standard = Array.from(w.subarray(0, n));
  const weights = standard.map((v, i) => v / sd[i]!);
  return { weights, standard, bias: w[n]! - weights.reduce((t, v, i) => t + v * mean[i]!, 0) };
}
