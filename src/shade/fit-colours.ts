// Takes finished regions, gives each shade the colour with which the whole, seen from a little way off, is nearest to the
// picture: least mean OKLab distance of the blurred regions, by reweighted least squares.
import type { Lab } from '../colour/oklab.ts';
import { blurChannels, type Cells } from './cells.ts';

/** Cells of blur at which quilt and picture are compared: what runs together for the eye at some distance. */
export const VIEW_BLUR = 1.5;

/** Solves the symmetric positive system A x = b in place (Cholesky would do; Gauss with pivots is as short). */
function solve(A: Float64Array, b: Float64Array, n: number): void {
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(A[r * n + c]!) > Math.abs(A[p * n + c]!)) p = r;
    for (let q = 0; q < n; q++) [A[c * n + q], A[p * n + q]] = [A[p * n + q]!, A[c * n + q]!];
    for (let q = 0; q < 3; q++) [b[3 * c + q], b[3 * p + q]] = [b[3 * p + q]!, b[3 * c + q]!];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = A[r * n + c]! / A[c * n + c]!;
      if (!f) continue;
      for (let q = c; q < n; q++) A[r * n + q]! -= f * A[c * n + q]!;
      for (let q = 0; q < 3; q++) b[3 * r + q]! -= f * b[3 * c + q]!;
    }
  }
  for (let c = 0; c < n; c++) for (let q = 0; q < 3; q++) b[3 * c + q]! /= A[c * n + c]!;
}

/** One round's equations into `A` and `b`: each cell's colour is the mix of the shades that lie about it, the more exactly the
 *  nearer it is to that already. `blurred`: cells x shades. */
function addEquations(
  { width: w, height: h, lab }: Cells,
  blurred: Float32Array,
  colours: Float64Array,
  weights: Float32Array | undefined,
  A: Float64Array,
  b: Float64Array,
): void {
  const n = w * h;
  const k = colours.length / 3;
  // every other cell, as on a chessboard, tells as much as all, for they are blurred
  for (let q = 0; q < n; q += 2) {
    const i = Math.floor(q / w) % 2 ? q + 1 : q;
    if (i >= n) break;
    const L = lab[3 * i]!;
    const p = lab[3 * i + 1]!;
    const r = lab[3 * i + 2]!;
    let dL = -L;
    let dp = -p;
    let dr = -r;
    for (let l = 0; l < k; l++) {
      const s = blurred[i * k + l]!;
      if (!s) continue;
      dL += s * colours[3 * l]!;
      dp += s * colours[3 * l + 1]!;
      dr += s * colours[3 * l + 2]!;
    }
    const v = (weights ? weights[i]! : 1) / Math.max(0.01, Math.sqrt(dL * dL + dp * dp + dr * dr));
    for (let l = 0; l < k; l++) {
      const s = v * blurred[i * k + l]!;
      if (!s) continue;
      for (let m = 0; m < k; m++) A[l * k + m]! += s * blurred[i * k + m]!;
      b[3 * l]! += s * L;
      b[3 * l + 1]! += s * p;
      b[3 * l + 2]! += s * r;
    }
  }
}

/** `seen` is the picture's cells blurred by VIEW_BLUR; `fallback` the colours so far, which the result leans to a little;
 *  `weights` says how much each cell matters, absent where all are alike. */
export function fitColours(
  labels: Uint8Array,
  seen: Cells,
  fallback: readonly Lab[],
  fixed: readonly boolean[] = [],
  weights?: Float32Array,
): Lab[] {
  const { width: w, height: h } = seen;
  const k = fallback.length;
  const n = w * h;
  const shares = new Float32Array(n * k);
  for (let i = 0; i < n; i++) shares[i * k + labels[i]!] = 1;
  const blurred = blurChannels(shares, w, h, k, VIEW_BLUR);
  const colours = Float64Array.from(fallback.flat());
  for (let round = 0; round < 8; round++) {
    const A = new Float64Array(k * k);
    const b = new Float64Array(3 * k);
    addEquations(seen, blurred, colours, weights, A, b);
    // a fabric with few cells must not run off to make up for its neighbours
    const lean = 0.001 * n;
    for (let l = 0; l < k; l++) {
      const hold = fixed[l] ? 1e9 : lean;
      A[l * k + l]! += hold;
      for (let c = 0; c < 3; c++) b[3 * l + c]! += hold * fallback[l]![c]!;
    }
    solve(A, b, k);
    colours.set(b);
  }
  return fallback.map(
    (_, l) => [Math.max(0, Math.min(1, colours[3 * l]!)), colours[3 * l + 1]!, colours[3 * l + 2]!] as const,
  );
}
