// What both benches share: the settings of the block that is made, and small sums.
import { completeSettings, type Settings } from '../../src/settings/settings.ts';
import { inches } from '../../src/units.ts';

/** A 12 in block on Letter, pieces of 3/8 in at least, sections of at most 12 pieces. */
export const settingsFor = (name: string, pieces: number): Settings =>
  completeSettings({ name, pieces, smallest: inches(3 / 8), mostPieces: 12 });

/** The value below which a share `q` of the values lies, between neighbours by their distance. */
export function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = q * (sorted.length - 1);
  const low = Math.floor(at);
  return sorted[low]! + (at - low) * ((sorted[low + 1] ?? sorted[low]!) - sorted[low]!);
}

export const median = (values: readonly number[]): number => quantile(values, 0.5);

/** How `y` grows with `x`: the exponent of the power law that fits best (least squares of the logarithms). */
export function growth(points: readonly (readonly [x: number, y: number])[]): number {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)] as const);
  const mx = logs.reduce((t, [x]) => t + x, 0) / logs.length;
  const my = logs.reduce((t, [, y]) => t + y, 0) / logs.length;
  return logs.reduce((t, [x, y]) => t + (x - mx) * (y - my), 0) / logs.reduce((t, [x]) => t + (x - mx) ** 2, 0);
}
